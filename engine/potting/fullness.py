"""Fullness of a contact: how much of the object ball the cue ball covers, and its trade name.

With cut angle φ the fullness is f = 1 − sin φ (geometry of two equal balls): 1 is full, ½ the
half-ball contact at a cut of 30°. A contact takes the name of the nearest of full (1),
three-quarter (¾), half (½), quarter (¼); thinner than ⅛ is fine. The names are the trade's, the
thresholds between them our own: midway, at ⅞, ⅝, ⅜ and ⅛. With unequal balls the same measure of
the cut is kept, 1 − sin φ, though a full contact then covers more or less of the ball.
"""

from __future__ import annotations

import math

#: Least fullness that takes each name, fullest first.
FULLNESS_NAMES: tuple[tuple[float, str], ...] = (
    (7 / 8, "full"),
    (5 / 8, "three-quarter"),
    (3 / 8, "half"),
    (1 / 8, "quarter"),
    (0.0, "fine"),
)


def fullness_of_cut(cut_rad: float) -> float:
    """Fullness 1 − sin φ of a cut angle in radians; 0 from 90 degrees on.

    >>> round(fullness_of_cut(math.radians(30)), 6)
    0.5
    """
    return max(0.0, 1.0 - math.sin(min(abs(cut_rad), math.pi / 2)))


def cut_of_fullness(fullness: float) -> float:
    """Cut angle in radians that gives a fullness between 0 and 1.

    >>> round(math.degrees(cut_of_fullness(0.25)), 3)
    48.59
    """
    return math.asin(1.0 - fullness)


def fullness_name(fullness: float) -> str:
    """The trade's name of a fullness; "miss" at 0 and below.

    >>> fullness_name(0.55), fullness_name(0.1)
    ('half', 'fine')
    """
    if fullness <= 0.0:
        return "miss"
    return next(name for least, name in FULLNESS_NAMES if fullness >= least)
