"""What a gap is judged by: a lane's free way, and what stands about it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from engine.answers.values import Point
from engine.balls import Ball, touch_distance_mm
from engine.lanes.legs import Legs, first_touch, nearest_of_each

#: Rounding allowed when balls are sorted out by their distance.
NEAR_MM = 1e-6


@dataclass(frozen=True, slots=True)
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


def met_before(way: Way, limit_mm: float, but: Sequence[str] = ()) -> tuple[str, float] | None:
    """The first obstacle the way touches within `limit_mm` of travel: its id and the overlap."""
    balls = [ball for ball in way.obstacles if ball.id not in but]
    places = nearest_of_each(way.legs, [ball.centre_mm for ball in balls])
    found = []
    for ball, place in zip(balls, places, strict=False):
        # Most balls lie far off: only near ones are worth the search for the first touch.
        if place.distance_mm < way.touch_mm + NEAR_MM:
            touch = first_touch(way.legs, ball.centre_mm, way.touch_mm)
            if touch is not None and touch.along_mm <= limit_mm:
                overlap = way.touch_mm - abs(touch.offset_mm)
                found.append((touch.along_mm, ball.id, overlap))
    return min(found)[1:] if found else None
