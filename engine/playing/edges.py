"""The edges of gaps: where they lie, how wide they stand apart, and gaps as rows of figures."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from engine.balls import Ball, touch_distance_mm
from engine.errors import OutOfRangeError, UnknownNameError
from engine.potting.pots import ball_of
from engine.results import Point
from engine.routine.values import GAP_KINDS, Gap
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
    named = [ball_of(balls, ball_id) for ball_id in gap.balls]
    wanted = 2 if gap.kind == "ball-ball" else 1
    if len(named) != wanted:
        raise OutOfRangeError(f"balls of gap {gap.id}", list(gap.balls), f"{wanted} of them")
    if gap.kind == "ball-ball":
        return named[0].centre_mm, named[1].centre_mm
    x, y = named[0].centre_mm
    axis, at = cushion_line(table, gap.cushion)
    return (x, y), ((at, y) if axis == 0 else (x, at))


def stretch_mm(gap: Gap) -> tuple[float, float]:
    """From where to where a cushion stretch runs, in rising order."""
    if gap.from_mm is None or gap.to_mm is None:
        raise OutOfRangeError(f"stretch of gap {gap.id}", "open", "both from_mm and to_mm")
    return min(gap.from_mm, gap.to_mm), max(gap.from_mm, gap.to_mm)


def cushion_line(table: Table, cushion: str) -> tuple[int, float]:
    """The face of a cushion: across which axis it stands (0: x, 1: y), and where."""
    lines = {
        "left": (0, 0.0), "right": (0, table.width_mm), "bottom": (1, 0.0),
        "top": (1, table.length_mm),
    }  # fmt: skip
    if cushion not in lines:
        raise UnknownNameError("cushion", cushion, CUSHIONS)
    return lines[cushion]


def check_gap(table: Table, gap: Gap, balls: Sequence[Ball]) -> None:
    """Errors for a gap that lacks a part, or names an edge that is not there."""
    if gap.kind == "in-order":
        raise OutOfRangeError(f"gap {gap.id}", "several gaps in order", "one gap at a time")
    if gap.kind not in CODES:
        raise UnknownNameError("kind of gap", gap.kind, GAP_KINDS)
    if gap.kind in ("ball-ball", "ball-cushion"):
        gap_ends_mm(table, gap, balls)
    elif gap.kind == "cushion-stretch":
        cushion_line(table, gap.cushion)
        stretch_mm(gap)
    elif gap.kind == "cloth-area" and len(gap.points_mm) < 3:
        raise OutOfRangeError(f"points of gap {gap.id}", len(gap.points_mm), "three or more")
    elif gap.kind == "cannon" and len(gap.balls) != 1:
        raise OutOfRangeError(f"balls of gap {gap.id}", list(gap.balls), "one ball")
    elif gap.kind == "cannon" and gap.side not in SIDES:
        raise UnknownNameError("side", gap.side, tuple(SIDES))


def gap_rows(
    table: Table, gaps: Sequence[Gap], balls: Sequence[Ball]
) -> tuple[np.ndarray, np.ndarray]:
    """Gaps as rows (g, GAP_COLUMNS) and the corners of areas (p, 2); errors for what lacks."""
    rows = np.zeros((len(gaps), GAP_COLUMNS))
    corners: list[tuple[float, float]] = []
    for row, gap in zip(rows, gaps, strict=True):
        check_gap(table, gap, balls)
        row[G_KIND] = CODES[gap.kind]
        named = [balls.index(ball_of(balls, ball_id)) for ball_id in gap.balls]
        row[[G_A, G_B]] = (*named, -1, -1)[:2]
        if gap.kind in ("ball-cushion", "cushion-stretch"):
            row[G_AXIS], row[G_AT] = cushion_line(table, gap.cushion)
        if gap.kind == "cushion-stretch":
            row[G_FROM], row[G_TO] = stretch_mm(gap)
        if gap.kind == "cloth-area":
            row[G_FIRST], row[G_COUNT] = len(corners), len(gap.points_mm)
            corners += gap.points_mm
        if gap.kind == "cannon":
            row[G_SIDE] = SIDES[gap.side]
    return rows, np.array(corners, dtype=float).reshape(-1, 2)
