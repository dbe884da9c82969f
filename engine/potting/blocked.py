"""Balls in the way: a ball on a line meets every ball whose centre comes within touching distance.

Touching distance is the distance of the centres as seen from above, two radii for equal balls.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from shapely.geometry import LineString
from shapely.geometry import Point as PlanePoint

from engine.balls import Ball
from engine.potting.vectors import Point

#: Balls that touch without overlapping do not block; rounding must not make them.
TOUCH_MM = 1e-6


def balls_in_way(
    line_mm: Sequence[Point], balls: Iterable[Ball], touch_mm: float
) -> tuple[tuple[Ball, float], ...]:
    """The balls a ball would meet on a line, each with the overlap in mm.

    Nearest to the start first. Balls that it would only just touch are left out.
    """
    line = LineString(line_mm)
    found = []
    for ball in balls:
        centre = PlanePoint(ball.centre_mm)
        overlap_mm = touch_mm - line.distance(centre)
        if overlap_mm > TOUCH_MM:
            found.append((line.project(centre), ball, overlap_mm))
    found.sort(key=lambda entry: entry[0])
    return tuple((ball, overlap) for _, ball, overlap in found)


def balls_at(
    place_mm: Point, balls: Iterable[Ball], touch_mm: float
) -> tuple[tuple[Ball, float], ...]:
    """The balls that a ball centred at `place_mm` would overlap, each with the overlap in mm."""
    place = PlanePoint(place_mm)
    gaps = ((ball, touch_mm - place.distance(PlanePoint(ball.centre_mm))) for ball in balls)
    return tuple((ball, overlap) for ball, overlap in gaps if overlap > TOUCH_MM)
