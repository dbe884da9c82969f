"""Clearances: how a lane's corridor stands to each obstacle ball, in millimetres."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from shapely.geometry import Polygon

from engine.balls import Ball, touch_distance_mm
from engine.lanes.legs import Legs, Nearest, first_touch, line_of, nearest_of_each
from engine.results import Clearance

#: A ball this near the middle of the lane lies on neither side of it.
DEAD_AHEAD_MM = 1e-6


def clearances(
    legs: Legs, obstacles: Iterable[Ball], radius_mm: float, ball_radius_mm: float | None = None
) -> tuple[Clearance, ...]:
    """The clearance of a way to each obstacle, in the order given; none for an empty way.

    Clearance is the nearest approach of centres less their distance when touching (two radii of
    equal balls; `ball_radius_mm` is the obstacles', where it differs): the room between the
    edges, negative for an overlap. Fullness is 1 − offset/touching distance at first touch, 0 for
    a ball that clears.
    """
    other = radius_mm if ball_radius_mm is None else ball_radius_mm
    touch_mm = touch_distance_mm(radius_mm, other)
    balls = tuple(obstacles)
    places = nearest_of_each(legs, [ball.centre_mm for ball in balls])
    return tuple(
        _clearance(legs, ball, place, touch_mm) for ball, place in zip(balls, places, strict=False)
    )


def _clearance(legs: Legs, ball: Ball, place: Nearest, reach_mm: float) -> Clearance:
    fullness, offset = 0.0, place.offset_mm
    if place.distance_mm < reach_mm:
        touch = first_touch(legs, ball.centre_mm, reach_mm)
        if touch is not None:
            offset = touch.offset_mm
            fullness = 1.0 - abs(offset) / reach_mm
    return Clearance(
        ball=ball.id,
        clearance_mm=place.distance_mm - reach_mm,
        side=side_name(offset),
        fullness=fullness,
        at_mm=place.at_mm,
        after_cushions=place.after_cushions,
    )


def side_name(offset_mm: float) -> str:
    """ "left", "right" or "ahead" of the lane, for an offset that is positive to the left."""
    if abs(offset_mm) < DEAD_AHEAD_MM:
        return "ahead"
    return "left" if offset_mm > 0.0 else "right"


def corridor(path_mm: np.ndarray, radius_mm: float) -> Polygon:
    """What the cue ball's width sweeps along a way of shape (n, 2): a polygon, maybe with holes.

    Where a way crosses itself the swept areas are one. Empty for an empty way.
    """
    line = line_of(path_mm)
    return Polygon() if line is None else line.buffer(radius_mm, quad_segs=16)
