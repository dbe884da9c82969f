"""Set-ups thrown on the table at random: spread out, in clusters, by cushions and on spots."""

from __future__ import annotations

import math
import random

from engine.balls import Ball
from engine.routine.values import Routine
from engine.tables import load_table
from engine.tables.bed import bed_of

KINDS = ("cue", "red", "red", "red", "yellow", "green", "brown", "blue", "pink", "black")
R = 26.25


def random_balls(seed: int, least: int = 2, most: int = 10) -> Routine:
    """Between `least` and `most` balls, none overlapping another, a jaw or a cushion."""
    rng = random.Random(seed)
    table = load_table("snooker-12ft")
    bed, spots = bed_of(table, R), {spot.id: spot for spot in table.spots}
    balls: list[Ball] = []
    for index, kind in enumerate(KINDS[: rng.randint(least, most)]):
        for _ in range(400):
            way = rng.random()
            if kind in spots and way < 0.35:
                x, y = spots[kind].x_mm, spots[kind].y_mm
            elif balls and way < 0.7:
                near, far = rng.choice(balls), rng.uniform(2 * R, 200.0)
                turn = rng.uniform(0.0, math.tau)
                x, y = near.x_mm + far * math.cos(turn), near.y_mm + far * math.sin(turn)
            elif way < 0.8:
                x = rng.choice((R, table.width_mm - R))
                y = rng.uniform(R, table.length_mm - R)
            else:
                x = rng.uniform(R, table.width_mm - R)
                y = rng.uniform(R, table.length_mm - R)
            apart = all(math.dist((x, y), b.centre_mm) >= 2 * R for b in balls)
            if apart and bed.allows((x, y)).all():
                balls.append(Ball(f"{kind}-{index}", kind, x, y))
                break
    return Routine(title=f"Thrown {seed}", balls=tuple(balls))
