"""What is found of a gap: its windows, the strike that forgives most, and the verdict."""

from __future__ import annotations

from dataclasses import dataclass, field

from engine.errors import BaizewrightError
from engine.results.facts import Fact

#: From which share of threading strikes on a box is told as one.
FILLED = 0.8


@dataclass(frozen=True, slots=True)
class Chance:
    """A success chance with its 95 % interval, from `tries` strikes."""

    chance: float
    low: float
    high: float
    tries: int


@dataclass(frozen=True, slots=True)
class Forgiveness:
    """What a strike forgives: the chance, and the largest error either way of each kind alone.

    Each pair is (towards −, towards +): aim in degrees (+ is anticlockwise), tip height and side
    over the radius (+ is up, + is right), pace on the scale. 0 when the strike itself fails.
    """

    chance: Chance
    aim_deg: tuple[float, float]
    tip_height: tuple[float, float]
    side: tuple[float, float]
    pace: tuple[float, float]


@dataclass(frozen=True, slots=True)
class ReachWindow:
    """A connected set of tip heights and paces that thread a gap, and its widest-margin choice.

    `strikes` are the words for its lowest and its highest tip at the best pace, where it is told.
    `filled_share` is the share of the strikes within its bounds that thread; `box` (tip from and
    to, pace from and to) lies within the bounds and is filled to at least `FILLED`.
    """

    tip_min: float
    tip_max: float
    pace_min: float
    pace_max: float
    best_tip: float
    best_pace: float
    best_margin_mm: float
    filled_share: float = 1.0
    box: tuple[float, float, float, float] = (0.0, 0.0, 0.0, 0.0)
    strikes: tuple[str, str] = field(default=("", ""), kw_only=True)

    @property
    def is_diagonal(self) -> bool:
        """Whether its bounds promise too much: tip and pace must be chosen together."""
        return self.filled_share < FILLED


@dataclass(frozen=True, slots=True)
class TriedStrike:
    """One strike, its word, and its room to the nearer edge (mm; negative: its miss).

    `finer`: no strike that a hand can repeat does it, and this one is in the middle of what does.
    """

    tip_height: float
    pace: float
    strike_name: str
    margin_mm: float
    finer: bool = False


@dataclass(frozen=True, slots=True)
class Choice:
    """The strike of a gap's windows that forgives most, and what it forgives.

    `chances` holds (player level, chance, low, high) with a 95 % interval. The pairs are the
    largest errors (towards −, towards +), each alone: aim in degrees, tip height and side over
    the radius, pace on the scale. `grade` is how hard it is for `player`.
    """

    tip_height: float
    pace: float
    speed_m_s: float
    strike_name: str
    margin_mm: float
    chances: tuple[tuple[str, float, float, float], ...]
    aim_deg: tuple[float, float]
    tip_error: tuple[float, float]
    side_error: tuple[float, float]
    pace_error: tuple[float, float]
    player: str = ""
    grade: str = ""
    finer_than_a_hand: bool = False
    after_cushions: int = 0
    by_jaw: bool = False


@dataclass(frozen=True, slots=True)
class GapVerdict:
    """Whether plain top or screw threads a gap in one shot; windows when it does, why not else.

    `limit` is what stops it (see `engine.reach.limits`), `nearest` the strike that comes nearest;
    `best` the most forgiving strike, `choice` what it forgives. `threading_share` is the share of
    all plain strikes that thread. The largest window comes first; `slivers` counts those too thin
    for anyone to play. A `quick` look is coarse; with an `error` the gap could not be judged.
    """

    gap: str
    shot: str
    reachable: bool
    width_mm: float
    windows: tuple[ReachWindow, ...]
    nearest_miss_mm: float | None
    limit: Fact | None = None
    choice: Choice | None = None
    slivers: int = 0
    best: TriedStrike | None = None
    nearest: TriedStrike | None = None
    quick: bool = False
    error: BaizewrightError | None = None
    threading_share: float = 0.0
