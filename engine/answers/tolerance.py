"""Set-up tolerance: how far each ball may be misplaced before a claim of the routine changes.

Each ball alone is moved in sixteen directions, farther and farther, and every claim is judged
again with the player aiming the same pot from where the balls now lie. The tolerance is the
distance that still changes nothing in the worst direction.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from engine.answers.values import BallTolerance
from engine.errors import BaizewrightError
from engine.motion.cloth import stun_tip_height
from engine.potting import pot
from engine.reach import Scene, outcomes, reach_map, scene_of
from engine.reach.outcomes import rooms
from engine.reach.verdicts import gaps_in_order
from engine.routine.context import conditions_of, table_of
from engine.routine.values import STUN, Claim, LaneAsk, Routine
from engine.tables.bed import bed_of

DIRECTIONS = 16
#: Distances tried, mm; the tolerance is then closed in on between two of them.
STEPS_MM = (1.0, 2.0, 3.0, 5.0, 8.0, 12.0, 18.0, 27.0, 40.0)
CLOSING = 4
#: Strikes that stand for "any strike" in a gap claim: a grid over the map, and its windows.
GRID_TIPS, GRID_PACES, WINDOW_STRIKES = 11, 9, 24
#: Strikes tried before all the others.
LIKELY_STRIKES = 6

Progress = Callable[[float], bool]
Judge = Callable[[np.ndarray], np.ndarray]


def set_up_tolerance(
    routine: Routine, progress: Progress | None = None
) -> tuple[BallTolerance, ...]:
    """The tolerance of every ball, in the routine's order; empty without claims that hold.

    Only claims that hold are watched. `progress` is told the share done and may return False to
    stop, which leaves the remaining balls out.
    """
    judges = _judges(routine)
    places = np.array([ball.centre_mm for ball in routine.balls], dtype=float).reshape(-1, 2)
    held = [(index, judge) for index, judge in judges if judge(places[None])[0]]
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
    routine: Routine, ball_id: str, k: int, places: np.ndarray, held: list[tuple[int, Judge]]
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
    held: list[tuple[int, Judge]],
) -> _Fail | None:
    moved = np.repeat(places[None], len(ways), axis=0)
    moved[:, k] += distance * ways
    possible = np.nonzero(_possible(routine, moved, k))[0]
    if not len(possible):
        return None
    for index, judge in held:
        fails = np.nonzero(~judge(moved[possible]))[0]
        if len(fails):
            return _Fail(distance, int(possible[fails[0]]), index)
    return None


def _possible(routine: Routine, moved: np.ndarray, k: int) -> np.ndarray:
    """Whether ball k can lie there: on the bed and in no other ball, (N,)."""
    c, ball = conditions_of(routine), routine.balls[k]
    on_bed = bed_of(table_of(routine), c.radius_of(ball)).allows(moved[:, k], slack_mm=1e-6)
    touch = np.array([c.touch_of(ball, one) for one in routine.balls if one is not ball])
    others = np.delete(moved, k, axis=1)
    away = np.linalg.norm(others - moved[:, k : k + 1], axis=2)
    return np.asarray(on_bed) & (away >= touch - 1e-6).all(axis=1)


def _judges(routine: Routine) -> list[tuple[int, Judge]]:
    """A judge for every claim that can be judged: places (N, n, 2) to booleans (N,)."""
    found = []
    for index, claim in enumerate(routine.claims):
        try:
            judge = _judge(routine, claim)
        except BaizewrightError:
            continue
        if judge is not None:
            found.append((index, judge))
    return found


def _judge(routine: Routine, claim: Claim) -> Judge | None:
    if claim.kind in ("pot-on", "pot-off"):
        return _pot_judge(routine, claim)
    if claim.kind in ("lane-clears", "lane-contacts"):
        return _room_judge(routine, claim)
    if claim.kind == "lane-threads":
        return _thread_judge(routine, claim)
    if claim.kind in ("gap-reachable", "gap-unreachable"):
        return _gap_judge(routine, claim)
    return None


def _pot_judge(routine: Routine, claim: Claim) -> Judge:
    table, conditions = table_of(routine), conditions_of(routine)
    shot, wanted = routine.shot(claim.shot), claim.kind == "pot-on"

    def judge(places: np.ndarray) -> np.ndarray:
        return np.array(
            [
                pot(table, conditions, _moved(routine, row).balls, shot).on == wanted
                for row in places
            ]
        )

    return judge


def _moved(routine: Routine, places: np.ndarray) -> Routine:
    balls = tuple(
        replace(ball, x_mm=float(x), y_mm=float(y))
        for ball, (x, y) in zip(routine.balls, places, strict=True)
    )
    return replace(routine, balls=balls)


def _strike(scene: Scene, ask: LaneAsk, places: np.ndarray) -> tuple[np.ndarray, float]:
    """Tip heights (N,) and speed of a lane; stun is found anew for every place of the balls."""
    c = scene.conditions
    speed = 1000.0 * ask.speed_m_s if ask.speed_m_s is not None else float(c.speed_mm_s(ask.pace))
    if ask.tip_height != STUN:
        return np.full(len(places), float(ask.tip_height)), speed
    line = scene.line_rad(places)
    contact = places[:, scene.target] - c.touch_mm * np.column_stack([np.cos(line), np.sin(line)])
    far = np.linalg.norm(contact - places[:, scene.cue], axis=1)
    tip = stun_tip_height(far, speed, c.sliding_friction, 1000.0 * c.gravity_m_s2)
    return np.clip(np.nan_to_num(tip, nan=-c.tip_limit), -c.tip_limit, c.tip_limit), speed


def _room_judge(routine: Routine, claim: Claim) -> Judge:
    scene = scene_of(routine, claim.shot, ())
    ask = routine.shot(claim.shot).lane(claim.lane)
    ids = [ball.id for ball in routine.balls]
    watched = [ids.index(claim.ball)] if claim.ball else [
        k for k in range(len(ids)) if k not in (scene.cue, scene.target)
    ]  # fmt: skip
    clears = claim.kind == "lane-clears"

    def judge(places: np.ndarray) -> np.ndarray:
        tip, speed = _strike(scene, ask, places)
        if not watched:
            return np.full(len(places), clears)
        room = rooms(scene, tip, speed, np.ascontiguousarray(places))[:, watched].min(axis=1)
        if clears:
            return (room > 0.0) & (room >= claim.margin_mm)
        return (room < 0.0) & (-room >= claim.margin_mm)

    return judge


def _thread_judge(routine: Routine, claim: Claim) -> Judge:
    scene = scene_of(routine, claim.shot, gaps_in_order(routine, claim.gap))
    ask = routine.shot(claim.shot).lane(claim.lane)

    def judge(places: np.ndarray) -> np.ndarray:
        tip, speed = _strike(scene, ask, places)
        found = outcomes(scene, tip, speed, places_mm=places)
        return found.threads & (found.margin_mm >= claim.margin_mm)

    return judge


def _gap_judge(routine: Routine, claim: Claim) -> Judge:
    scene = scene_of(routine, claim.shot, gaps_in_order(routine, claim.gap))
    tips, paces = _strikes(scene, claim)
    speeds = np.asarray(scene.conditions.speed_mm_s(paces))
    wanted = claim.kind == "gap-reachable"
    room = outcomes(scene, tips, speeds).margin_mm
    likeliest = np.argsort(-np.nan_to_num(room, nan=-np.inf), kind="stable")
    tips, speeds = tips[likeliest], speeds[likeliest]

    def judge(places: np.ndarray) -> np.ndarray:
        reached = np.zeros(len(places), dtype=bool)
        # the few strikes that do it best most often settle it
        for part in (slice(0, LIKELY_STRIKES), slice(LIKELY_STRIKES, None)):
            left = np.nonzero(~reached)[0]
            if len(left) and len(tips[part]):
                reached[left] = _any_threads(scene, tips[part], speeds[part], places[left], claim)
        return reached == wanted

    return judge


def _any_threads(
    scene: Scene, tips: np.ndarray, speeds: np.ndarray, places: np.ndarray, claim: Claim
) -> np.ndarray:
    """Whether any of some strikes threads with the claim's room, for each of the places (N,)."""
    count = len(places)
    found = outcomes(
        scene,
        np.tile(tips, count),
        np.tile(speeds, count),
        places_mm=np.repeat(places, len(tips), axis=0),
        margins=False,
    )
    good = found.threads & (found.margin_mm >= claim.margin_mm)
    return np.asarray(good.reshape(count, len(tips)).any(axis=1))


def _strikes(scene: Scene, claim: Claim) -> tuple[np.ndarray, np.ndarray]:
    """Strikes that stand for all within the claim's paces: a grid, and some of the windows.

    Without windows, some of those that come nearest.
    """
    low = 1.0 if claim.pace_min is None else claim.pace_min
    high = 10.0 if claim.pace_max is None else claim.pace_max
    grid = np.meshgrid(
        np.linspace(scene.lowest_tip, scene.conditions.tip_limit, GRID_TIPS),
        np.linspace(low, high, GRID_PACES if high > low else 1),
    )
    tips, paces = grid[0].ravel(), grid[1].ravel()
    found = reach_map(scene)
    asked = (found.paces >= low) & (found.paces <= high)
    inside = np.argwhere(found.threads & asked)
    if not len(inside):
        # none threads: those that come nearest are the first that may, elsewhere
        miss = np.where(found.tried & asked, np.nan_to_num(found.margin_mm, nan=-np.inf), -np.inf)
        nearest = np.argsort(-miss, axis=None)[: 8 * WINDOW_STRIKES]
        inside = np.column_stack(np.unravel_index(nearest, miss.shape))
    at = inside[:: max(1, len(inside) // WINDOW_STRIKES)]
    return (
        np.concatenate([tips, found.tip_heights[at[:, 0]]]),
        np.concatenate([paces, found.paces[at[:, 1]]]),
    )
