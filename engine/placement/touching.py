"""Balls that touch one set before them: they are set against it, which no tape can do so well."""

from __future__ import annotations

import math

from engine.placement.order import set_up_order
from engine.routine.context import conditions_of
from engine.routine.values import Routine

#: Room between two balls that nobody can set or see, millimetres.
TOUCH_MM = 1.0


def touching_balls(routine: Routine) -> dict[str, tuple[str, ...]]:
    """For each ball that touches some set before it, which ones, in set-up order.

    >>> from engine.balls import Ball
    >>> reds = (Ball("a", "red", 500, 500), Ball("b", "red", 552.5, 500), Ball("c", "red", 700, 9))
    >>> touching_balls(Routine(balls=reds))
    {'a': ('b',)}
    """
    conditions = conditions_of(routine)
    found: dict[str, tuple[str, ...]] = {}
    balls = [routine.ball(ball_id) for ball_id in set_up_order(routine)]
    for index, ball in enumerate(balls):
        near = tuple(
            other.id
            for other in balls[:index]
            if math.dist(ball.centre_mm, other.centre_mm)
            <= conditions.touch_of(ball, other) + TOUCH_MM
        )
        if near:
            found[ball.id] = near
    return found
