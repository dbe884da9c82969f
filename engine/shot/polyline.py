"""The way of a ball as a polyline, compiled: a drag asks for two dozen of them a frame."""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import Floats2, compiled, inlined, room
from engine.shot.layout import R_AX, R_AY, R_T, R_VX, R_VY, R_X, R_Y

#: How near every polyline stays to the way itself: one flattening for all that look at ways.
FLATTEN_MM = 0.01
#: Steps shorter than this along x and y are left out.
SAME_MM = 1e-9
#: Room for most ways; a longer one is laid out a second time, with the room it needs.
USUAL_POINTS = 1000


@inlined
def chords_of(row, span, tolerance_mm):
    """How many chords a record of `span` seconds takes to stay within the tolerance."""
    ax, ay, vx, vy = row[R_AX], row[R_AY], row[R_VX], row[R_VY]
    pull, speed = math.sqrt(ax * ax + ay * ay), math.sqrt(vx * vx + vy * vy)
    bend = abs(vx * ay - vy * ax)
    if bend <= 1e-9 * speed * pull:
        return 1
    # a chord strays by the pull across it; the pull across the way is most where it is slowest
    end_x, end_y = vx + ax * span, vy + ay * span
    slowest = min(speed, math.sqrt(end_x * end_x + end_y * end_y))
    turns = -(vx * ax + vy * ay) / (pull * pull)
    if 0.0 < turns < span:
        slowest = bend / pull
    across = min(pull, bend / slowest) if slowest > 0.0 else pull
    return max(1, math.ceil(math.sqrt(across * span * span / (8.0 * tolerance_mm))))


def polyline(rows: np.ndarray, start_s: float, end_s: float, tolerance_mm: float) -> np.ndarray:
    """Places of one ball from one time to another, (n, 2) mm, without repeated ones.

    `rows` are the ball's records in order of time, at least one (columns in
    `engine.shot.layout`).
    """
    (room_for,) = _usual_points()
    points = room_for.array
    used = lay_chords(rows, start_s, end_s, tolerance_mm, room_for)
    if used > USUAL_POINTS:
        points = np.empty((used, 2))
        used = lay_chords(rows, start_s, end_s, tolerance_mm, points)
    return points[:used].copy()


@room
def _usual_points() -> tuple[np.ndarray, ...]:
    return (np.empty((USUAL_POINTS, 2)),)


@compiled
def lay_chords(
    rows: Floats2, start_s: float, end_s: float, tolerance_mm: float, points: Floats2
) -> int:
    """Fill `points` with the ends of the chords; how many there are, or the room all would need."""
    count = len(rows)
    first = 0
    while first + 1 < count and rows[first + 1, R_T] <= max(start_s, 0.0):
        first += 1
    most = 1
    for index in range(first, count):
        low, high = _span(rows, index, start_s, end_s)
        if high > low:
            most += chords_of(rows[index], high - low, tolerance_mm)
    if most > len(points):
        return most
    points[0, 0], points[0, 1] = _place(rows[first], start_s)
    used = 1
    for index in range(first, count):
        low, high = _span(rows, index, start_s, end_s)
        if high <= low:
            continue
        chords = chords_of(rows[index], high - low, tolerance_mm)
        step_s = (high - low) / chords
        for step in range(1, chords + 1):
            x, y = _place(rows[index], low + step * step_s)
            if abs(x - points[used - 1, 0]) > SAME_MM or abs(y - points[used - 1, 1]) > SAME_MM:
                points[used, 0], points[used, 1] = x, y
                used += 1
    return used


@inlined
def _span(rows, index, start_s, end_s):
    """From when to when a record is in force, between two times."""
    low = max(rows[index, R_T], start_s)
    high = end_s if index + 1 == len(rows) else min(rows[index + 1, R_T], end_s)
    return low, high


@inlined
def _place(row, t_s):
    # a ball has no place before its first record
    dt = max(t_s - row[R_T], 0.0)
    return (
        row[R_X] + (row[R_VX] + 0.5 * row[R_AX] * dt) * dt,
        row[R_Y] + (row[R_VY] + 0.5 * row[R_AY] * dt) * dt,
    )
