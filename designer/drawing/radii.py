"""The radius of each ball: the one place where drawings and sheets ask for it."""

from __future__ import annotations

from engine.balls import touch_distance_mm
from engine.routine.context import conditions_of
from engine.routine.values import Routine


def radius_of(routine: Routine, ball_id: str) -> float:
    """Radius of a ball of a routine, mm; of a ball that is not there, the object balls'."""
    conditions = conditions_of(routine)
    for ball in routine.balls:
        if ball.id == ball_id:
            return conditions.radius_of(ball)
    return conditions.ball_radius_mm


def touch_mm(routine: Routine, one_id: str, other_id: str) -> float:
    """Distance of the centres of two touching balls, seen from above, mm."""
    return touch_distance_mm(radius_of(routine, one_id), radius_of(routine, other_id))
