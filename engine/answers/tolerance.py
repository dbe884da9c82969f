"""Set-up tolerance: how far each ball may be misplaced before a claim of the routine changes.

Each ball alone is moved in sixteen directions, farther and farther, and every claim is judged
again with the player aiming the same pot from where the balls now lie. The tolerance is the
distance that still changes nothing in the worst direction.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from engine.answers.misplaced import Judge, judges_of
from engine.results import BallTolerance
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine
from engine.tables.bed import bed_of

DIRECTIONS = 16
#: Distances tried, mm; the tolerance is then closed in on between two of them.
STEPS_MM = (1.0, 2.0, 3.0, 5.0, 8.0, 12.0, 18.0, 27.0, 40.0)
CLOSING = 4

Progress = Callable[[float], bool]


def set_up_tolerance(
    routine: Routine, progress: Progress | None = None
) -> tuple[BallTolerance, ...]:
    """The tolerance of every ball, in the routine's order; empty without claims that hold.

    Only claims that hold are watched. `progress` is told the share done and may return False to
    stop, which leaves the remaining balls out.
    """
    judges = judges_of(routine)
    places = np.array([ball.centre_mm for ball in routine.balls], dtype=float).reshape(-1, 2)
    held = [judge for judge in judges if judge.holds(places[None])[0]]
    found = []
    for k, ball in enumerate(routine.balls):
        if not held:
            break
        if progress is not None and not progress(k / len(routine.balls)):
            break
        found.append(_tolerance(routine, ball.id, k, places, held))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Fail:
    distance_mm: float
    direction: int
    claim: int


def _tolerance(
    routine: Routine, ball_id: str, k: int, places: np.ndarray, held: list[Judge]
) -> BallTolerance:
    angles = np.arange(DIRECTIONS) * 2.0 * math.pi / DIRECTIONS
    ways = np.column_stack([np.cos(angles), np.sin(angles)])
    good = 0.0
    for step in STEPS_MM:
        fail = _first_fail(routine, k, places, ways, step, held)
        if fail is None:
            good = step
            continue
        low, high = good, step
        for _ in range(CLOSING):
            middle = 0.5 * (low + high)
            nearer = _first_fail(routine, k, places, ways, middle, held)
            if nearer is None:
                low = middle
            else:
                high, fail = middle, nearer
        return BallTolerance(ball_id, low, fail.claim, math.degrees(angles[fail.direction]), False)
    return BallTolerance(ball_id, STEPS_MM[-1], None, None, True)


def _first_fail(
    routine: Routine,
    k: int,
    places: np.ndarray,
    ways: np.ndarray,
    distance: float,
    held: list[Judge],
) -> _Fail | None:
    moved = np.repeat(places[None], len(ways), axis=0)
    moved[:, k] += distance * ways
    possible = np.nonzero(_possible(routine, moved, k))[0]
    if not len(possible):
        return None
    for judge in held:
        for fail in np.nonzero(~judge.holds(moved[possible]))[0]:
            if judge.surely is None or not judge.surely(moved[possible[fail]]):
                return _Fail(distance, int(possible[fail]), judge.claim)
    return None


def _possible(routine: Routine, moved: np.ndarray, k: int) -> np.ndarray:
    """Whether ball k can lie there: on the bed and in no other ball, (N,)."""
    c, ball = conditions_of(routine), routine.balls[k]
    on_bed = bed_of(table_of(routine), c.radius_of(ball)).allows(moved[:, k], slack_mm=1e-6)
    touch = np.array([c.touch_of(ball, one) for one in routine.balls if one is not ball])
    others = np.delete(moved, k, axis=1)
    away = np.linalg.norm(others - moved[:, k : k + 1], axis=2)
    return np.asarray(on_bed) & (away >= touch - 1e-6).all(axis=1)
