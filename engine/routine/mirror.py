"""A routine mirrored across a line of the table: balls, pockets, cushions, gaps, side and aim."""

from __future__ import annotations

from dataclasses import replace
from typing import Literal

from engine.routine.rules import breaches, hold
from engine.routine.values import ClothMark, Gap, LaneAsk, Routine, Shot
from engine.tables.model import Table

#: The long line runs up the middle of the table from baulk; the cross line joins the middle
#: pockets.
Axis = Literal["long", "cross"]
Point = tuple[float, float]

_SWAPS = {"long": ("left", "right"), "cross": ("bottom", "top")}


def mirrored(routine: Routine, table: Table, axis: Axis) -> Routine:
    """The whole routine mirrored; mirrored twice it is the same again.

    Predictions are the mirrored ones where the table itself is symmetrical. `OutOfRangeError`
    for a table whose pockets have no counterpart.
    """
    made = replace(
        routine,
        balls=tuple(
            ball.at(place)
            for ball in routine.balls
            for place in (mirrored_place(ball.centre_mm, table, axis),)
        ),
        shots=tuple(_shot(shot, axis) for shot in routine.shots),
        gaps=tuple(_gap(gap, table, axis) for gap in routine.gaps),
        cloth_marks=tuple(_mark(mark, table, axis) for mark in routine.cloth_marks),
        pocket_openings_mm={
            _other_side(name, axis): mm for name, mm in routine.pocket_openings_mm.items()
        },
    )
    hold(breaches(made))
    return made


def mirrored_place(place_mm: Point, table: Table, axis: Axis) -> Point:
    """A point's mirror image, mm."""
    x, y = place_mm
    return (table.width_mm - x, y) if axis == "long" else (x, table.length_mm - y)


def _shot(shot: Shot, axis: Axis) -> Shot:
    aim = shot.aim_deg
    if aim is not None:
        aim = (180.0 - aim if axis == "long" else -aim) % 360.0
    return replace(
        shot,
        pocket=_other_side(shot.pocket, axis),
        aim_deg=aim,
        lanes=tuple(_lane(lane) for lane in shot.lanes),
    )


def _lane(lane: LaneAsk) -> LaneAsk:
    return replace(lane, side=-lane.side) if lane.side else lane


def _gap(gap: Gap, table: Table, axis: Axis) -> Gap:
    start, end = gap.from_mm, gap.to_mm
    along_x = gap.cushion in ("bottom", "top")
    if start is not None and end is not None and along_x == (axis == "long"):
        size = table.width_mm if along_x else table.length_mm
        start, end = size - end, size - start
    sides = {"left": "right", "right": "left"}
    return replace(
        gap,
        cushion=_other_side(gap.cushion, axis),
        from_mm=start,
        to_mm=end,
        points_mm=tuple(mirrored_place(point, table, axis) for point in gap.points_mm),
        side=sides.get(gap.side, gap.side),
    )


def _mark(mark: ClothMark, table: Table, axis: Axis) -> ClothMark:
    (x, y), *end = (mirrored_place(place, table, axis) for place in mark.places_mm)
    to_x, to_y = end[0] if end else (None, None)
    return replace(mark, x_mm=x, y_mm=y, to_x_mm=to_x, to_y_mm=to_y)


def _other_side(name: str, axis: Axis) -> str:
    """The name of a pocket or cushion on the other side: "top-left" for "top-right"."""
    one, other = _SWAPS[axis]
    swap = {one: other, other: one}
    return "-".join(swap.get(part, part) for part in name.split("-"))
