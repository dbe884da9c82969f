"""What a step of a progression is: a routine made harder or easier, and the proof of it."""

from __future__ import annotations

from dataclasses import dataclass

from engine.results import Fact
from engine.routine.values import Routine

#: Ways to change how hard a shot is: the width of its gap, how far the cue ball has to travel
#: to the object ball, and how far the object ball has to travel to the pocket.
WAYS: tuple[str, ...] = ("gap", "distance", "pot")


@dataclass(frozen=True, slots=True)
class Rate:
    """How often a level makes a shot with the strike that forgives most, with a 95 % interval."""

    chance: float
    low: float
    high: float
    tip_height: float
    pace: float
    strike_name: str

    def holds(self, wanted: float) -> bool:
        """Whether a chance lies within the interval."""
        return self.low <= wanted <= self.high


@dataclass(frozen=True, slots=True)
class Step:
    """A routine of another difficulty.

    `rate` was found with strikes of its own, not those of the search. `wanted` is the chance
    asked for; `exact` tells whether it lies in the interval of `rate`. `moves` are (ball, from,
    to) in mm; `claims_lost` the indices of claims that held before and no longer do.
    `change` is what was changed, from how much to how much.
    """

    routine: Routine
    player: str
    way: str
    wanted: float
    before: Rate
    rate: Rate
    exact: bool
    moves: tuple[tuple[str, tuple[float, float], tuple[float, float]], ...]
    claims_lost: tuple[int, ...]
    change: Fact
