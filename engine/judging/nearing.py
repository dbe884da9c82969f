"""Where a way comes nearest to points, compiled: a drag asks it of every lane and every ball."""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import Floats2, Ints1, compiled, inlined, room

#: Columns of what is found: distance, place (x, y), how far to the left of the way, and its leg.
DISTANCE, AT_X, AT_Y, OFFSET, LEG = range(5)


def nearest_rows(
    points: np.ndarray, legs: np.ndarray, centres: np.ndarray, step_mm: float
) -> list[list[float]]:
    """The nearest place of a way to each centre, columns as above; the first of several.

    `points` (n, 2) are those of all legs in order, `legs` (n,) the leg of each; steps shorter
    than `step_mm` are passed over, but a leg of nothing else counts as its first point.
    """
    (found,) = _found(len(centres))
    fill_nearest(points, legs, centres, step_mm, found)
    rows: list[list[float]] = found.array.tolist()
    return rows


@room
def _found(centres: int) -> tuple[np.ndarray, ...]:
    return (np.empty((centres, 5)),)


@compiled
def fill_nearest(
    points: Floats2, legs: Ints1, centres: Floats2, step_mm: float, found: Floats2
) -> None:
    """Fill `found` (m, 5) as `nearest_rows` tells."""
    for row in range(len(centres)):
        found[row, DISTANCE] = math.inf
        found[row, AT_X] = found[row, AT_Y] = found[row, OFFSET] = found[row, LEG] = 0.0
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
