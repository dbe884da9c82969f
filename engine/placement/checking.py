"""Second distances: one more length for each measured ball, to check the two tape readings by."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from engine.balls import Ball
from engine.conditions import Conditions
from engine.placement.order import set_up_order
from engine.placement.readings import SPOT_MM, placements
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class CheckDistance:
    """From one ball to another or to a spot, millimetres.

    `centre_mm` is between the centres, `edge_mm` what lies free between: between the near edges
    of two balls, or from the ball's near edge to the spot. `ball_mm` and `to_mm` are the two
    centres.
    """

    ball: str
    kind: Literal["ball", "spot"]
    to: str
    centre_mm: float
    edge_mm: float
    ball_mm: Point
    to_mm: Point


def checking_distances(routine: Routine) -> tuple[CheckDistance, ...]:
    """For each ball that no spot places, in set-up order, the shortest length to check it by.

    It is taken to a ball set before or to a spot that no ball covers; a ball with neither (on a
    bare table) has none.

    >>> cue, red = Ball("cue", "cue", 889, 600), Ball("r", "red", 889, 500)
    >>> [(c.ball, c.to, c.centre_mm, c.edge_mm) for c in checking_distances(
    ...     Routine(balls=(cue, red)))]
    [('cue', 'brown', 137.0, 110.75), ('r', 'cue', 100.0, 47.5)]
    """
    conditions = conditions_of(routine)
    balls = {ball.id: ball for ball in routine.balls}
    on_spot = {found.ball: found.spot for found in placements(routine)}
    open_spots = [
        (spot.id, (spot.x_mm, spot.y_mm))
        for spot in table_of(routine).spots
        if spot.id not in on_spot.values()
    ]
    found, standing = [], list[Ball]()
    for ball_id in set_up_order(routine):
        ball = balls[ball_id]
        if not on_spot[ball_id]:
            best = _shortest(ball, standing, open_spots, conditions)
            if best is not None:
                found.append(best)
        standing.append(ball)
    return tuple(found)


def _shortest(
    ball: Ball, standing: list[Ball], spots: list[tuple[str, Point]], conditions: Conditions
) -> CheckDistance | None:
    here, radius = ball.centre_mm, conditions.radius_of(ball)
    lengths: list[CheckDistance] = []
    for other in standing:
        far = math.dist(here, other.centre_mm)
        free = far - radius - conditions.radius_of(other)
        lengths.append(CheckDistance(ball.id, "ball", other.id, far, free, here, other.centre_mm))
    for name, at in spots:
        far = math.dist(here, at)
        if far > radius + SPOT_MM:
            lengths.append(CheckDistance(ball.id, "spot", name, far, far - radius, here, at))
    return min(lengths, key=lambda one: one.edge_mm, default=None)
