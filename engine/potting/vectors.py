"""Plane vectors as pairs of floats: the little arithmetic that potting geometry needs."""

from __future__ import annotations

import math

Point = tuple[float, float]


def direction_rad(start: Point, end: Point) -> float:
    """Direction from one point to another, radians from +x, anticlockwise."""
    return math.atan2(end[1] - start[1], end[0] - start[0])


def along(start: Point, direction: float, distance_mm: float) -> Point:
    """The point that lies `distance_mm` from `start` in a direction (radians)."""
    return (
        start[0] + distance_mm * math.cos(direction),
        start[1] + distance_mm * math.sin(direction),
    )


def distance_mm(a: Point, b: Point) -> float:
    """Distance between two points."""
    return math.hypot(b[0] - a[0], b[1] - a[1])


def wrapped_rad(angle: float) -> float:
    """The same angle between −π and π.

    >>> round(wrapped_rad(3 * math.pi / 2), 6) == round(-math.pi / 2, 6)
    True
    """
    return math.remainder(angle, 2.0 * math.pi)


def to_edge_mm(start: Point, direction: float, low: Point, high: Point) -> float:
    """Distance from a point to the edge of an upright rectangle, in a direction (radians).

    0 when the point lies on or outside the edge it heads for.
    """
    best = math.inf
    for position, step, least, most in zip(
        start, (math.cos(direction), math.sin(direction)), low, high, strict=True
    ):
        if step > 1e-12:
            best = min(best, (most - position) / step)
        elif step < -1e-12:
            best = min(best, (least - position) / step)
    return max(best, 0.0)
