"""Where a way comes nearest to points, compiled: a drag asks it of every lane and every ball."""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import Floats2, Ints1, compiled, inlined

#: Columns of what is found: distance, place (x, y), how far to the left of the way, and its leg.
DISTANCE, AT_X, AT_Y, OFFSET, LEG = range(5)


def nearest_rows(
    points: np.ndarray, legs: np.ndarray, centres: np.ndarray, step_mm: float
) -> np.ndarray:
    """The nearest place of a way to each centre, (m, 5), columns as above; the first of several.

    `points` (n, 2) are those of all legs in order, `legs` (n,) the leg of each; steps shorter
    than `step_mm` are passed over, but a leg of nothing else counts as its first point.
    """
    found = np.zeros((len(centres), 5))
    fill_nearest(points, legs, centres, step_mm, found)
    return found


@compiled
def fill_nearest(
    points: Floats2, legs: Ints1, centres: Floats2, step_mm: float, found: Floats2
) -> None:
    """Fill `found`, zeros before, as `nearest_rows` tells."""
    for row in range(len(centres)):
        found[row, DISTANCE] = math.inf
    count = len(points)
    first = 0
    while first < count:
        last = first
        while last + 1 < count and legs[last + 1] == legs[first]:
            last += 1
        moved = False
        for index in range(first, last):
            if _try_step(points, index, index + 1, legs[first], centres, step_mm, found):
                moved = True
        if not moved:
            _try_step(points, first, first, legs[first], centres, -1.0, found)
        first = last + 1


@inlined
def _try_step(points, start, end, leg, centres, step_mm, found):
    """Note the places of one step nearer than what is found; False for too short a step."""
    x, y = points[start, 0], points[start, 1]
    dx, dy = points[end, 0] - x, points[end, 1] - y
    length = math.hypot(dx, dy)
    if length <= step_mm:
        return False
    if length > 0.0:
        dx, dy = dx / length, dy / length
    for row in range(len(centres)):
        wx, wy = centres[row, 0] - x, centres[row, 1] - y
        ahead = min(max(wx * dx + wy * dy, 0.0), length)
        ax, ay = wx - ahead * dx, wy - ahead * dy
        distance = math.hypot(ax, ay)
        if distance < found[row, DISTANCE]:
            found[row, DISTANCE] = distance
            found[row, AT_X], found[row, AT_Y] = x + ahead * dx, y + ahead * dy
            found[row, OFFSET] = dx * ay - dy * ax
            found[row, LEG] = leg
    return True
