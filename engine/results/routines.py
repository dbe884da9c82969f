"""What is found of a whole routine: problems, placements, claims and tolerances."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine.results.facts import Fact
from engine.results.gaps import GapVerdict
from engine.results.shots import ShotAnswer


@dataclass(frozen=True, slots=True)
class Problem:
    """Something wrong with a routine: which kind, whose, and the fact of it."""

    kind: str
    fact: Fact
    balls: tuple[str, ...] = ()
    shot: str = ""
    gap: str = ""
    claim: int | None = None


@dataclass(frozen=True, slots=True)
class ClaimResult:
    """One claim, whether it holds, and what was found: facts, or the verdict it rests on."""

    index: int
    holds: bool
    found: tuple[Fact, ...]
    verdict: GapVerdict | None = None


@dataclass(frozen=True, slots=True)
class BallTolerance:
    """How far a ball may be misplaced before a claim changes, in the worst direction.

    `claim` is the index of the claim that changes first, `direction_deg` the direction it does
    (from +x, anticlockwise). `at_least`: nothing changed as far as was tried.
    """

    ball: str
    tolerance_mm: float
    claim: int | None
    direction_deg: float | None
    at_least: bool


@dataclass(frozen=True, slots=True)
class CushionReading:
    """One tape reading of a ball: from which cushion face, to centre and to the near edge."""

    cushion: str
    centre_mm: float
    edge_mm: float


@dataclass(frozen=True, slots=True)
class BallPlacement:
    """Where a ball goes: two readings from the nearest long and short cushion, a spot if on one."""

    ball: str
    letter: str
    kind: str
    across: CushionReading
    along: CushionReading
    spot: str


@dataclass(frozen=True, slots=True)
class RoutineAnswer:
    """All answers for one routine, with the engine's version."""

    engine_version: str
    problems: tuple[Problem, ...]
    shots: tuple[ShotAnswer, ...]
    verdicts: tuple[GapVerdict, ...]
    claims: tuple[ClaimResult, ...]
    placements: tuple[BallPlacement, ...]
    notes: tuple[Fact, ...] = field(default=())

    @property
    def all_claims_hold(self) -> bool:
        """Whether every claim of the routine holds."""
        return all(claim.holds for claim in self.claims)
