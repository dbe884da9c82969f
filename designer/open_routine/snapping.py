"""Places a dragged ball is drawn to: spots, lines, cushions, and touching other balls.

A pure function of the set-up. A place that fixes both coordinates (a spot, a crossing of lines,
a ball touching two things) is preferred to one that fixes a single one, then the nearer wins.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from designer.texts import tr
from engine.balls import touch_distance_mm
from engine.routine.context import conditions_of
from engine.routine.settle import TOUCH_ROOM_MM, is_free
from engine.routine.values import Routine
from engine.tables import Table

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Snap:
    """Where the ball is drawn to and to what, in words; `fixed` counts the coordinates fixed."""

    place_mm: Point
    words: str
    fixed: int


@dataclass(frozen=True, slots=True)
class _Line:
    """A line on which coordinate `axis` (0 is x) has `at_mm`."""

    axis: int
    at_mm: float
    words: str


@dataclass(frozen=True, slots=True)
class _Circle:
    """Where the centre lies when the ball touches another."""

    centre: Point
    radius: float
    words: str


def snapped(
    routine: Routine,
    table: Table,
    radius_mm: float,
    ball_id: str,
    wanted_mm: Point,
    reach_mm: float,
    names: dict[str, str],
) -> Snap | None:
    """The place within `reach_mm` of the wanted one that the ball is drawn to, None if none.

    `names` are the coach's names of the balls by id.
    """
    found = [
        (-snap.fixed, math.dist(snap.place_mm, wanted_mm), index, snap)
        for index, snap in enumerate(
            _candidates(routine, table, radius_mm, ball_id, wanted_mm, reach_mm, names)
        )
        if math.dist(snap.place_mm, wanted_mm) <= reach_mm
    ]
    for _, _, _, snap in sorted(found, key=lambda row: row[:3]):
        if is_free(routine, table, radius_mm, ball_id, snap.place_mm):
            return snap
    return None


def _candidates(
    routine: Routine,
    table: Table,
    radius_mm: float,
    ball_id: str,
    wanted: Point,
    reach_mm: float,
    names: dict[str, str],
) -> Iterator[Snap]:
    for spot in table.spots:
        yield Snap((spot.x_mm, spot.y_mm), tr(spot.title), 2)
    lines = [
        line for line in _lines(table, radius_mm) if abs(wanted[line.axis] - line.at_mm) <= reach_mm
    ]
    circles = [
        circle
        for circle in _circles(routine, radius_mm, ball_id, names)
        if abs(math.dist(circle.centre, wanted) - circle.radius) <= reach_mm
    ]
    for one, other in combinations(lines, 2):
        if one.axis != other.axis:
            x, y = (one, other) if one.axis == 0 else (other, one)
            yield Snap((x.at_mm, y.at_mm), f"{x.words}, {y.words}", 2)
    for circle in circles:
        for line in lines:
            for place in _crossings_with_line(circle, line):
                yield Snap(place, f"{circle.words}, {line.words}", 2)
    for first, second in combinations(circles, 2):
        for place in _crossings(first, second):
            yield Snap(place, f"{first.words}, {second.words}", 2)
    for circle in circles:
        away = (wanted[0] - circle.centre[0], wanted[1] - circle.centre[1])
        length = math.hypot(*away)
        if length > 1e-6:
            scale = circle.radius / length
            place = (circle.centre[0] + away[0] * scale, circle.centre[1] + away[1] * scale)
            yield Snap(place, circle.words, 1)
    for line in lines:
        place = (line.at_mm, wanted[1]) if line.axis == 0 else (wanted[0], line.at_mm)
        yield Snap(place, line.words, 1)


def _lines(table: Table, radius_mm: float) -> Iterator[_Line]:
    yield _Line(0, radius_mm, tr("touching the left cushion"))
    yield _Line(0, table.width_mm - radius_mm, tr("touching the right cushion"))
    yield _Line(1, radius_mm, tr("touching the bottom cushion"))
    yield _Line(1, table.length_mm - radius_mm, tr("touching the top cushion"))
    yield _Line(0, table.width_mm / 2, tr("on the long middle line"))
    yield _Line(1, table.length_mm / 2, tr("on the cross line"))
    if table.baulk_y_mm is not None:
        yield _Line(1, table.baulk_y_mm, tr("on the baulk line"))


def _circles(
    routine: Routine, radius_mm: float, ball_id: str, names: dict[str, str]
) -> Iterator[_Circle]:
    conditions = conditions_of(routine)
    for ball in routine.balls:
        if ball.id != ball_id:
            apart = touch_distance_mm(radius_mm, conditions.radius_of(ball)) + TOUCH_ROOM_MM
            yield _Circle(
                ball.centre_mm, apart, tr("touching {ball}", ball=names.get(ball.id, ball.id))
            )


def _crossings_with_line(circle: _Circle, line: _Line) -> Iterator[Point]:
    off = line.at_mm - circle.centre[line.axis]
    if abs(off) > circle.radius:
        return
    along = math.sqrt(circle.radius**2 - off**2)
    other = circle.centre[1 - line.axis]
    for value in (other - along, other + along):
        yield (line.at_mm, value) if line.axis == 0 else (value, line.at_mm)


def _crossings(first: _Circle, second: _Circle) -> Iterator[Point]:
    (ax, ay), (bx, by) = first.centre, second.centre
    apart = math.dist(first.centre, second.centre)
    if not abs(first.radius - second.radius) < apart < first.radius + second.radius:
        return
    along = (apart**2 + first.radius**2 - second.radius**2) / (2 * apart)
    off = math.sqrt(max(first.radius**2 - along**2, 0.0))
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    for side in (1.0, -1.0):
        yield (ax + ux * along - uy * off * side, ay + uy * along + ux * off * side)
