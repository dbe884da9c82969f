"""Routines with answers for a booklet of any length, each a little different from the others."""

from __future__ import annotations

import random
from dataclasses import replace

from engine.placement import placements
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from tests.designer.samples.invented_answers import blue_and_back, ten_balls

_MADE = (blue_and_back, ten_balls)


def booklet_routines(count: int) -> list[tuple[Routine, RoutineAnswer]]:
    """Half with five lanes and two gaps, half with ten balls; obstacle balls moved about."""
    rng = random.Random(7)
    pairs = []
    for index in range(count):
        routine, answer = _MADE[index % 2]()
        balls = tuple(
            replace(ball, x_mm=ball.x_mm + rng.uniform(-8.0, 8.0)) if ball.kind == "red" else ball
            for ball in routine.balls
        )
        routine = replace(routine, title=f"{routine.title} {index + 1}", balls=balls)
        pairs.append((routine, replace(answer, placements=placements(routine))))
    return pairs
