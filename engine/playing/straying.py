"""How a player's strike strays from what was meant: aim, tip and stroke, more the harder it is.

The one place that says so; chances, grades and the choice of a strike all ask it. A player's
spreads (`engine.players`) hold for a stroke of pace 4. Part of each is there at any pace, the rest
grows in proportion to the speed of the stroke: the spread of quick aimed movements was found to
grow linearly with their speed (Schmidt, Zelaznik, Hawkins, Frank & Quinn, Psychological Review 86
(1979) 415-451). That half is the even part, and that one growth serves all four, is our guess until
it is fitted from practice.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from engine.conditions import Conditions
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.players import Player

#: The pace whose stroke a player's spreads are told for, and their share that never grows.
USUAL_PACE, EVEN_SHARE = 4.0, 0.5


@dataclass(frozen=True, slots=True)
class Strays:
    """What strikes stray by, arrays (n,): aim in radians, tip height and side over the radius.

    `speed_mm_s` is the error of the ball's speed off the tip, by the stroke's speed and by where
    the tip met the ball.
    """

    aim_rad: np.ndarray
    tip_height: np.ndarray
    side: np.ndarray
    speed_mm_s: np.ndarray


def strays(
    conditions: Conditions,
    player: Player,
    tip_height: float | np.ndarray,
    pace: float | np.ndarray,
    errors: np.ndarray,
) -> Strays:
    """What a player's strikes meant for a tip and a pace stray by, one or many of them.

    `errors` (n, 4) are standard normal, of aim, tip height, side and stroke. No stroke is softer
    or harder than the scale.
    """
    grown = growth(conditions, pace)
    tip, side = player.tip_height * grown * errors[:, 1], player.side * grown * errors[:, 2]
    softest, hardest, of_a_pace = _scale(conditions)
    meant = np.asarray(conditions.speed_mm_s(pace, 0.0))
    spread = player.pace * of_a_pace * grown
    stroke = np.clip(meant + spread * errors[:, 3], softest, hardest)
    return Strays(
        aim_rad=np.radians(player.aim_deg) * grown * errors[:, 0],
        tip_height=tip,
        side=side,
        speed_mm_s=stroke * conditions.tip_share(tip_height + tip, side)
        - meant * conditions.tip_share(tip_height),
    )


def growth(conditions: Conditions, pace: float | np.ndarray) -> np.ndarray:
    """How many times as far as at pace 4 a player's strikes stray at a pace, one or many.

    >>> [round(float(growth(Conditions(), pace)), 2) for pace in (1.0, 4.0, 8.0)]
    [0.62, 1.0, 1.75]
    """
    usual = conditions.speed_mm_s(USUAL_PACE, 0.0)
    hard = np.asarray(conditions.speed_mm_s(pace, 0.0)) / usual
    return np.asarray(EVEN_SHARE + (1.0 - EVEN_SHARE) * hard)


@lru_cache(maxsize=64)
def _scale(conditions: Conditions) -> tuple[float, float, float]:
    """The stroke's least and greatest speed, and what one pace more makes of the usual, mm/s."""
    low, high, less, more = (
        float(conditions.speed_mm_s(pace, 0.0))
        for pace in (PACE_LOWEST, PACE_HIGHEST, USUAL_PACE - 0.5, USUAL_PACE + 0.5)
    )
    return low, high, more - less
