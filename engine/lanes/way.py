"""What a gap is judged by: a lane's free way, and what stands about it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from shapely.geometry import LineString

from engine.balls import Ball, touch_distance_mm
from engine.lanes.legs import Legs, Nearest, first_touch, joined, nearest_of_each
from engine.results import Point

#: Rounding allowed when balls are sorted out by their distance.
NEAR_MM = 1e-6


@dataclass(frozen=True, eq=False)
class Way:
    """One lane for the gaps: its free way in legs, the balls in it, where it first meets a cushion.

    `stops_mm` is None when the cue ball goes in-off; `pots` says whether the object ball goes
    where it is sent (True when there is none to pot). `radius_mm` is the cue ball's;
    `ball_radius_mm` the other balls', None when they are of one size.
    """

    label: str
    legs: Legs
    obstacles: tuple[Ball, ...]
    radius_mm: float
    first_cushion: str = ""
    first_cushion_mm: Point | None = None
    stops_mm: Point | None = None
    pots: bool = True
    ball_radius_mm: float | None = None

    @property
    def touch_mm(self) -> float:
        """Distance of the centres when the cue ball touches another ball."""
        other = self.radius_mm if self.ball_radius_mm is None else self.ball_radius_mm
        return touch_distance_mm(self.radius_mm, other)

    # Worked out once, however many gaps ask.

    @cached_property
    def path_mm(self) -> np.ndarray:
        """The whole way as one polyline, (n, 2)."""
        return joined(self.legs)

    @cached_property
    def line(self) -> LineString:
        """The whole way for shapely; only for a way of two points or more."""
        return LineString(self.path_mm)

    @cached_property
    def nearest_to(self) -> dict[str, Nearest]:
        """Where the way comes nearest to each obstacle, by its id; empty for an empty way."""
        places = nearest_of_each(self.legs, [ball.centre_mm for ball in self.obstacles])
        return {ball.id: at for ball, at in zip(self.obstacles, places, strict=False)}


def met_before(way: Way, limit_mm: float, but: Sequence[str] = ()) -> tuple[str, float] | None:
    """The first obstacle the way touches within `limit_mm` of travel: its id and the overlap."""
    found = []
    for ball in way.obstacles:
        place = way.nearest_to.get(ball.id)
        if place is None or ball.id in but:
            continue
        # Most balls lie far off: only near ones are worth the search for the first touch.
        if place.distance_mm < way.touch_mm + NEAR_MM:
            touch = first_touch(way.legs, ball.centre_mm, way.touch_mm)
            if touch is not None and touch.along_mm <= limit_mm:
                overlap = way.touch_mm - abs(touch.offset_mm)
                found.append((touch.along_mm, ball.id, overlap))
    return min(found)[1:] if found else None
