"""What a coach wishes of a set-up, and what may be moved to get it."""

from __future__ import annotations

from dataclasses import dataclass

from engine.errors import OutOfRangeError


@dataclass(frozen=True, slots=True)
class Wish:
    """A gap to be reachable in a shot, at some pace of a range, with room and distinct lanes.

    `margin_mm`: room to the nearer edge that some strike must leave. `apart_mm`: how far apart
    the shot's lanes must lie where the player points (0: do not care). `movable`: the balls that
    may be moved (empty: every ball that is not locked).
    """

    shot: str
    gap: str
    pace_min: float = 1.0
    pace_max: float = 10.0
    margin_mm: float = 0.0
    apart_mm: float = 0.0
    movable: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not 1.0 <= self.pace_min <= self.pace_max <= 10.0:
            wanted = "two paces within 1 to 10, the lower first"
            raise OutOfRangeError("pace range of the wish", (self.pace_min, self.pace_max), wanted)
        for what, value in (("margin_mm", self.margin_mm), ("apart_mm", self.apart_mm)):
            if not 0.0 <= value <= 2000.0:
                raise OutOfRangeError(f"{what} of the wish", value, "0 to 2000 mm")


@dataclass(frozen=True, slots=True)
class Move:
    """One ball moved from where it lies to another place, mm."""

    ball: str
    from_mm: tuple[float, float]
    to_mm: tuple[float, float]
    distance_mm: float


@dataclass(frozen=True, slots=True)
class Advice:
    """A change that grants the wish: its moves, the strike that does it, and what it leaves.

    `claims_lost` are the indices of the routine's claims that held before and no longer do.
    """

    moves: tuple[Move, ...]
    tip_height: float
    pace: float
    strike_name: str
    margin_mm: float
    apart_mm: float | None
    claims_lost: tuple[int, ...]

    @property
    def distance_mm(self) -> float:
        """How far balls are moved in all."""
        return sum(move.distance_mm for move in self.moves)
