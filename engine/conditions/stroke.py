"""A stroke of the cue and the ball's speed: what the scale of paces means.

A pace is how hard the cue is driven, not how fast the ball leaves: the scale names the speed of a
ball struck in its middle. Off the middle the same stroke gives less, as part of it goes into the
ball's spin: with V the cue's speed, m the ball's mass, M the cue's and b the distance of the tip
from the middle, side included,

    v = 2 V / (1 + m/M + (5/2)(b/R)² m/M)

so that the share of the speed in the middle is (1 + m/M) / (1 + m/M + (5/2)(b/R)² m/M).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np


def tip_share(
    tip_height: float | np.ndarray, side: float | np.ndarray, ball_kg: float, cue_kg: float
) -> float | np.ndarray:
    """The share of the speed in the middle that a ball gets from a tip off it.

    `tip_height` and `side` over the radius, scalars or arrays that broadcast.

    >>> tip_share(0.0, 0.0, 0.142, 0.53)
    1.0
    """
    ratio = ball_kg / cue_kg
    off = tip_height * tip_height + side * side
    return (1.0 + ratio) / (1.0 + ratio + 2.5 * off * ratio)


def pace_of(middle_m_s: float, scale_m_s: Sequence[float]) -> float:
    """The pace at which a scale has that speed in the middle, held to the scale's ends.

    >>> pace_of(2.25, (0.5, 1.0, 1.5, 2.0, 2.5, 3.2, 4.0, 5.0, 6.2, 8.0))
    4.5
    """
    if middle_m_s <= scale_m_s[0]:
        return 1.0
    for pace, (low, high) in enumerate(pairwise(scale_m_s), start=1):
        if middle_m_s <= high:
            return pace + (middle_m_s - low) / (high - low)
    return float(len(scale_m_s))
