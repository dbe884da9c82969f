"""Tape readings of every ball, and the spot it stands on if it stands on one."""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine.balls import Ball
from engine.results import BallPlacement, CushionReading
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine
from engine.tables.model import Table

#: A ball whose centre is this near a spot stands on it: a coach sets it on the spot.
SPOT_MM = 0.5


@dataclass(frozen=True, slots=True)
class MarkPlacement:
    """Where one place of a cloth mark goes: `number` counts the marks, `end` 1 or 2 its places.

    The readings are to the place itself, so edge and centre are the same.
    """

    mark: str
    number: int
    kind: str
    note: str
    end: int
    across: CushionReading
    along: CushionReading


def mark_placements(routine: Routine) -> tuple[MarkPlacement, ...]:
    """The tape readings of every cloth mark, two entries for a line.

    >>> from engine.routine.values import ClothMark
    >>> (cross,) = mark_placements(Routine(cloth_marks=(ClothMark("m", "cross", 300.0, 3000.0),)))
    >>> cross.number, cross.across.centre_mm, cross.along.cushion, cross.along.centre_mm
    (1, 300.0, 'top', 569.0)
    """
    table = table_of(routine)
    return tuple(
        MarkPlacement(
            mark.id,
            number,
            mark.kind,
            mark.note,
            end,
            _nearer("left", "right", x, table.width_mm, 0.0),
            _nearer("bottom", "top", y, table.length_mm, 0.0),
        )
        for number, mark in enumerate(routine.cloth_marks, start=1)
        for end, (x, y) in enumerate(mark.places_mm, start=1)
    )


def placements(routine: Routine) -> tuple[BallPlacement, ...]:
    """For each ball the reading from the nearer long and the nearer short cushion.

    A reading has the distance from the cushion face to the ball's centre and to its near edge,
    millimetres. Half-way between two cushions, left and bottom are taken.

    >>> (cue,) = placements(Routine(balls=(Ball("cue", "cue", 889.0, 737.0),)))
    >>> cue.across.cushion, cue.across.centre_mm, cue.along.edge_mm, cue.spot
    ('left', 889.0, 710.75, 'brown')
    """
    table, conditions = table_of(routine), conditions_of(routine)
    return tuple(_placement(ball, table, conditions.radius_of(ball)) for ball in routine.balls)


def _placement(ball: Ball, table: Table, radius_mm: float) -> BallPlacement:
    return BallPlacement(
        ball=ball.id,
        letter=ball.letter,
        kind=ball.kind,
        across=_nearer("left", "right", ball.x_mm, table.width_mm, radius_mm),
        along=_nearer("bottom", "top", ball.y_mm, table.length_mm, radius_mm),
        spot=_spot_under(ball, table),
    )


def _nearer(low: str, high: str, at_mm: float, size_mm: float, radius_mm: float) -> CushionReading:
    cushion, centre = (low, at_mm) if at_mm <= size_mm - at_mm else (high, size_mm - at_mm)
    return CushionReading(cushion, centre, centre - radius_mm)


def _spot_under(ball: Ball, table: Table) -> str:
    for spot in table.spots:
        if math.hypot(ball.x_mm - spot.x_mm, ball.y_mm - spot.y_mm) <= SPOT_MM:
            return spot.id
    return ""
