"""The radius of each ball: the one place where drawings and sheets ask for it."""

from __future__ import annotations

from engine.routine.context import conditions_of
from engine.routine.values import Routine


def radius_of(routine: Routine, ball_id: str) -> float:
    """Radius of a ball of a routine, mm."""
    return conditions_of(routine).ball_radius_mm
