"""Balls in the way: a ball on a line meets every ball whose centre comes within touching distance.

Touching distance is the distance of the centres as seen from above, two radii for equal balls.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from engine.balls import Ball
from engine.potting.vectors import Point

if TYPE_CHECKING:
    import shapely

#: Balls that touch without overlapping do not block; rounding must not make them.
TOUCH_MM = 1e-6


def balls_in_way(
    line_mm: Sequence[Point], balls: Iterable[Ball], touch_mm: float
) -> tuple[tuple[Ball, float], ...]:
    """The balls a ball would meet on a line, each with the overlap in mm.

    Nearest to the start first. Balls that it would only just touch are left out.
    """
    import shapely  # here, and below: the names of contacts and pockets need none of it

    found = []
    line = shapely.linestrings(line_mm)
    for ball, centre, overlap_mm in _overlaps(line, balls, touch_mm):
        found.append((line.project(centre), ball, overlap_mm))
    found.sort(key=lambda entry: entry[0])
    return tuple((ball, overlap) for _, ball, overlap in found)


def balls_at(
    place_mm: Point, balls: Iterable[Ball], touch_mm: float
) -> tuple[tuple[Ball, float], ...]:
    """The balls that a ball centred at `place_mm` would overlap, each with the overlap in mm."""
    import shapely

    found = _overlaps(shapely.points(place_mm), balls, touch_mm)
    return tuple((ball, overlap) for ball, _, overlap in found)


def _overlaps(
    place: shapely.Geometry, balls: Iterable[Ball], touch_mm: float
) -> list[tuple[Ball, shapely.Point, float]]:
    """The balls nearer to a line or place than touching, with their centres and overlaps."""
    import shapely

    standing = list(balls)
    if not standing:
        return []
    centres = shapely.points([ball.centre_mm for ball in standing])
    overlaps = touch_mm - shapely.distance(place, centres)
    near = (overlaps > TOUCH_MM).nonzero()[0].tolist()
    return [(standing[index], centres[index], float(overlaps[index])) for index in near]
