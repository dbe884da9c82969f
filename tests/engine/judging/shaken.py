"""Demo routines with their balls shaken a little and lanes struck at random, from a seed."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np

from engine.routine.context import conditions_of
from engine.routine.values import Claim, LaneAsk, Routine
from engine.storage import load_routine

FOLDER = Path(__file__).resolve().parents[3] / "layouts_demo"
SHAKE_MM = 6.0


def shaken(strikes: int, each: int, seed: int) -> Iterator[Routine]:
    """Routines of one shot with `each` lanes, until there are so many strikes on their gaps.

    Every lane claims to thread each gap, to clear and to contact each ball.
    """
    random = np.random.default_rng(seed)
    demos = [load_routine(file) for file in sorted(FOLDER.glob("*.json"))]
    shots = [(one, shot) for one in demos for shot in one.shots if one.gaps]
    while strikes > 0:
        routine, shot = shots[random.integers(len(shots))]
        places = np.array([ball.centre_mm for ball in routine.balls])
        moved = places + random.uniform(-SHAKE_MM, SHAKE_MM, places.shape)
        away = np.linalg.norm(moved[:, None] - moved[None], axis=2)
        if (away[np.triu_indices(len(moved), 1)] < conditions_of(routine).touch_mm + 0.1).any():
            continue
        balls = tuple(
            replace(ball, x_mm=float(x), y_mm=float(y))
            for ball, (x, y) in zip(routine.balls, moved, strict=True)
        )
        lanes = tuple(
            LaneAsk(f"L{k}", float(random.uniform(-0.5, 0.5)), float(random.uniform(1.5, 10.0)))
            for k in range(each)
        )
        obstacles = [b.id for b in balls if not b.is_cue and b.id != shot.object_ball]
        claims = tuple(
            claim
            for lane in lanes
            for claim in (
                *(Claim("lane-threads", shot.id, lane.label, gap=g.id) for g in routine.gaps),
                *(Claim("lane-clears", shot.id, lane.label, ball) for ball in obstacles),
                *(Claim("lane-contacts", shot.id, lane.label, ball) for ball in obstacles),
            )
        )
        yield replace(routine, balls=balls, shots=(replace(shot, lanes=lanes),), claims=claims)
        strikes -= each * len(routine.gaps)
