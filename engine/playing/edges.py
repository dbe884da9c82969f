"""The edges of gaps: where they lie, how wide they stand apart, and gaps as rows of figures."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from engine.balls import Ball, touch_distance_mm
from engine.errors import OutOfRangeError, UnknownNameError
from engine.results import Point
from engine.routine.values import Gap
from engine.tables.model import CUSHIONS, Table

# kinds of gap, as codes
BALL_BALL, BALL_CUSHION, STRETCH, AREA, CANNON = range(5)
CODES = {
    "ball-ball": BALL_BALL,
    "ball-cushion": BALL_CUSHION,
    "cushion-stretch": STRETCH,
    "cloth-area": AREA,
    "cannon": CANNON,
}
SIDES = {"left": 1.0, "right": -1.0, "either": 0.0}
# columns of a gap's row: kind, edge balls (−1: none), cushion line (axis 0: x, 1: y; place),
# stretch from and to, side asked of a cannon (+1 left, −1 right, 0 either), corners of an area
G_KIND, G_A, G_B, G_AXIS, G_AT, G_FROM, G_TO, G_SIDE, G_FIRST, G_COUNT = range(10)
GAP_COLUMNS = 10


def gap_width_mm(
    table: Table,
    gap: Gap,
    balls: Sequence[Ball],
    radius_mm: float,
    cue_radius_mm: float | None = None,
) -> float:
    """Width of a gap between its edges, mm (stretch: its length; area: its least width).

    `radius_mm` is the balls' that bound it, `cue_radius_mm` the cue ball's where it differs. For
    a cannon it is the ball's diameter and the cue ball's together, the width of ways that
    touch; half of it when a side is asked.
    """
    if gap.kind == "ball-ball":
        a, b = gap_ends_mm(table, gap, balls)
        return math.dist(a, b) - 2.0 * radius_mm
    if gap.kind == "ball-cushion":
        a, b = gap_ends_mm(table, gap, balls)
        return math.dist(a, b) - radius_mm
    if gap.kind == "cushion-stretch":
        low, high = stretch_mm(gap)
        return high - low
    if gap.kind == "cloth-area":
        box = list(np.ptp(np.asarray(gap.points_mm, dtype=float), axis=0))
        return float(min(box))
    cue = radius_mm if cue_radius_mm is None else cue_radius_mm
    touch = touch_distance_mm(radius_mm, cue)
    return 2.0 * touch if gap.side == "either" else touch


def width_wanted_mm(gap: Gap, radius_mm: float, cue_radius_mm: float) -> float:
    """The least width of a gap between balls, or ball and cushion, that the cue ball passes.

    Its own diameter when the balls are equal; seen from above, unequal balls touch a little
    before or after their outlines do.

    >>> width_wanted_mm(Gap("g", "ball-ball"), 26.25, 26.25)
    52.5
    """
    touch = touch_distance_mm(radius_mm, cue_radius_mm)
    if gap.kind == "ball-ball":
        return 2.0 * (touch - radius_mm)
    return touch + cue_radius_mm - radius_mm


def gap_ends_mm(table: Table, gap: Gap, balls: Sequence[Ball]) -> tuple[Point, Point]:
    """The line across a gap: between two ball centres, or from one straight to the cushion face."""
    named = [_ball(balls, ball_id) for ball_id in gap.balls]
    wanted = 2 if gap.kind == "ball-ball" else 1
    if len(named) != wanted:
        raise OutOfRangeError(f"balls of gap {gap.id}", list(gap.balls), f"{wanted} of them")
    if gap.kind == "ball-ball":
        return named[0].centre_mm, named[1].centre_mm
    x, y = named[0].centre_mm
    faces = {
        "left": (0.0, y),
        "right": (table.width_mm, y),
        "bottom": (x, 0.0),
        "top": (x, table.length_mm),
    }
    if gap.cushion not in faces:
        raise UnknownNameError("cushion", gap.cushion, CUSHIONS)
    return (x, y), faces[gap.cushion]


def stretch_mm(gap: Gap) -> tuple[float, float]:
    """From where to where a cushion stretch runs, in rising order."""
    if gap.from_mm is None or gap.to_mm is None:
        raise OutOfRangeError(f"stretch of gap {gap.id}", "open", "both from_mm and to_mm")
    return min(gap.from_mm, gap.to_mm), max(gap.from_mm, gap.to_mm)


def gap_rows(
    table: Table, gaps: Sequence[Gap], balls: Sequence[Ball]
) -> tuple[np.ndarray, np.ndarray]:
    """Gaps as rows (g, GAP_COLUMNS) and the corners of areas (p, 2); errors for what lacks."""
    order = {ball.id: index for index, ball in enumerate(balls)}
    rows = np.zeros((len(gaps), GAP_COLUMNS))
    corners: list[tuple[float, float]] = []
    for row, gap in zip(rows, gaps, strict=True):
        if gap.kind not in CODES:
            raise UnknownNameError("kind of gap", gap.kind, tuple(CODES))
        row[G_KIND] = CODES[gap.kind]
        named = [order[_ball(balls, ball_id).id] for ball_id in gap.balls]
        row[G_A] = named[0] if named else -1
        row[G_B] = named[1] if len(named) > 1 else -1
        if gap.kind in ("ball-ball", "ball-cushion"):
            gap_ends_mm(table, gap, balls)  # refuses a gap whose edges are not all named
        if gap.kind in ("ball-cushion", "cushion-stretch"):
            row[G_AXIS], row[G_AT] = _cushion_line(table, gap.cushion)
        if gap.kind == "cushion-stretch":
            row[G_FROM], row[G_TO] = stretch_mm(gap)
        if gap.kind == "cloth-area":
            if len(gap.points_mm) < 3:
                raise OutOfRangeError(
                    f"points of gap {gap.id}", len(gap.points_mm), "three or more"
                )
            row[G_FIRST], row[G_COUNT] = len(corners), len(gap.points_mm)
            corners += gap.points_mm
        if gap.kind == "cannon":
            if len(named) != 1:
                raise OutOfRangeError(f"balls of gap {gap.id}", list(gap.balls), "one ball")
            if gap.side not in SIDES:
                raise UnknownNameError("side", gap.side, tuple(SIDES))
            row[G_SIDE] = SIDES[gap.side]
    return rows, np.array(corners, dtype=float).reshape(-1, 2)


def _cushion_line(table: Table, cushion: str) -> tuple[float, float]:
    lines = {
        "left": (0.0, 0.0),
        "right": (0.0, table.width_mm),
        "bottom": (1.0, 0.0),
        "top": (1.0, table.length_mm),
    }
    if cushion not in lines:
        raise UnknownNameError("cushion", cushion, CUSHIONS)
    return lines[cushion]


def _ball(balls: Sequence[Ball], ball_id: str) -> Ball:
    for ball in balls:
        if ball.id == ball_id:
            return ball
    raise UnknownNameError("ball", ball_id, [ball.id for ball in balls])
