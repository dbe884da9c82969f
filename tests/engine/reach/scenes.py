"""Set-ups the reach tests share: one to look at, and random ones from a seed."""

import math

import numpy as np

from engine.balls import Ball
from engine.potting import pot
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Gap, LaneAsk, Routine, Shot

CUE = Ball("cue", "cue", 1100.0, 2900.0)
BLACK = Ball("black", "black", 889.0, 3245.0)
REDS = (Ball("r1", "red", 1200.0, 2500.0), Ball("r2", "red", 900.0, 2500.0))
SHOT = Shot("s", "black", "top-left", lanes=(LaneAsk("A", 0.05, 4),))
NEAR = Gap("near", "ball-ball", ("r1", "r2"))
FAR = Gap("far", "cushion-stretch", cushion="bottom", from_mm=200.0, to_mm=260.0)


def routine(*gaps, balls=(CUE, BLACK, *REDS), shot=SHOT, **more):
    return Routine(balls=balls, shots=(shot,), gaps=gaps, **more)


def random_routine(seed):
    """A pot that is on, with reds placed beside one of its lanes so that gaps matter."""
    random = np.random.default_rng(seed)
    while True:
        target = random.uniform((300, 900), (1478, 3300))
        cue = target + random.uniform(250, 900) * _unit(random.uniform(0, 2 * math.pi))
        reds = random.uniform((100, 100), (1678, 3469), (4, 2))
        balls = [Ball("cue", "cue", *map(float, cue)), Ball("blue", "blue", *map(float, target))]
        balls += [Ball(f"r{k}", "red", float(x), float(y)) for k, (x, y) in enumerate(reds)]
        # two reds a little more than a ball apart, somewhere the cue ball may go
        middle = cue + random.uniform(-700, 700, 2)
        apart = random.uniform(65, 160) * _unit(random.uniform(0, 2 * math.pi))
        balls[2] = Ball("r0", "red", *map(float, middle + apart))
        balls[3] = Ball("r1", "red", *map(float, middle - apart))
        pocket = str(random.choice(["top-left", "top-right", "middle-left", "middle-right"]))
        shot = Shot("s", "blue", pocket)
        kinds = [
            Gap("g", "ball-ball", ("r0", "r1")),
            Gap("g", "ball-cushion", ("r2",), str(random.choice(["left", "right", "top"]))),
        ]
        gap = kinds[seed % 2]
        found = Routine(balls=tuple(balls), shots=(shot,), gaps=(gap,))
        if _sound(found):
            return found


def _unit(angle):
    return np.array([math.cos(angle), math.sin(angle)])


def _sound(found):
    places = np.array([ball.centre_mm for ball in found.balls])
    table = table_of(found)
    if (places < 27).any() or (places > (table.width_mm - 27, table.length_mm - 27)).any():
        return False
    apart = np.linalg.norm(places[:, None] - places[None], axis=2) + 1e6 * np.eye(len(places))
    if apart.min() < 53:
        return False
    answer = pot(table, conditions_of(found), found.balls, found.shots[0])
    return answer.on and answer.cut_deg < 65
