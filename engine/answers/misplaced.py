"""Claims judged again with balls misplaced, many places at a time.

A judge takes where the balls lie and says whether its claim still holds, the player aiming the
same pot from there. Lanes struck plainly are played by the engine of reach, all places at once.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from engine.answers.answering import answer_shot
from engine.answers.claims import judge_claims
from engine.errors import BaizewrightError
from engine.motion.cloth import stun_tip_height
from engine.potting import pot
from engine.reach import Scene, outcomes, reach_map, scene_of
from engine.reach.judging import BLOCKED
from engine.reach.outcomes import aims, rooms
from engine.reach.scene import scene_for
from engine.reach.verdicts import gaps_in_order, verdicts
from engine.routine.context import conditions_of, table_of
from engine.routine.values import STUN, Claim, Gap, LaneAsk, Routine

#: Strikes that stand for "any strike" in a gap claim: a grid over the map, and its windows.
GRID_TIPS, GRID_PACES, WINDOW_STRIKES = 11, 9, 24
#: Strikes tried before all the others.
LIKELY_STRIKES = 6
#: Stun's tip height and contact depend on each other; after so many turns they are settled.
STUN_TRIES = 4

#: Places (N, n, 2) of all balls to booleans (N,).
Holds = Callable[[np.ndarray], np.ndarray]


@dataclass(frozen=True, slots=True)
class Judge:
    """The judge of one claim, by its index.

    `holds` judges many places at once; where it only tries some strikes (gap claims), `surely`
    judges one place (n, 2) by the refined map.
    """

    claim: int
    holds: Holds
    surely: Callable[[np.ndarray], bool] | None = None


def judges_of(routine: Routine) -> list[Judge]:
    """A judge for every claim of the routine that can be judged."""
    found = []
    for index, claim in enumerate(routine.claims):
        try:
            holds = _holds(routine, claim)
        except BaizewrightError:
            continue
        if holds is not None:
            surely = _surely(routine, claim) if claim.kind.startswith("gap-") else None
            found.append(Judge(index, holds, surely))
    return found


def _holds(routine: Routine, claim: Claim) -> Holds | None:
    if claim.kind in ("pot-on", "pot-off"):
        return _pot_judge(routine, claim)
    if claim.kind.startswith("lane-") and not _is_plain(routine, claim):
        return _played_judge(routine, claim)
    if claim.kind in ("lane-clears", "lane-contacts"):
        return _room_judge(routine, claim)
    if claim.kind == "lane-threads":
        return _thread_judge(routine, claim)
    if claim.kind in ("gap-reachable", "gap-unreachable"):
        return _gap_judge(routine, claim)
    return None


def _surely(routine: Routine, claim: Claim) -> Callable[[np.ndarray], bool]:
    """Whether a gap claim holds with the balls at places (n, 2), by the refined map."""
    bare = replace(routine.shot(claim.shot), lanes=())

    def surely(places: np.ndarray) -> bool:
        there = replace(_moved(routine, places), shots=(bare,), claims=(claim,))
        found = verdicts(there, bare.id, (claim.gap,), forgiving=False)
        return judge_claims(there, (answer_shot(there, bare.id),), found)[0].holds

    return surely


def _is_plain(routine: Routine, claim: Claim) -> bool:
    """Whether a claim's lane is struck as the engine of reach strikes: no side, a level cue."""
    ask = routine.shot(claim.shot).lane(claim.lane)
    return ask.side == ask.elevation_deg == conditions_of(routine).nap_drift == 0.0


def _played_judge(routine: Routine, claim: Claim) -> Holds:
    """Every place played as a lane of its own: slower, for side, a raised cue or nap."""
    shot = routine.shot(claim.shot)
    alone = replace(shot, lanes=(shot.lane(claim.lane),))

    def judge(places: np.ndarray) -> np.ndarray:
        found = []
        for row in places:
            there = replace(_moved(routine, row), shots=(alone,), claims=(claim,))
            found.append(judge_claims(there, (answer_shot(there, alone.id),), ())[0].holds)
        return np.array(found, dtype=bool)

    return judge


def _pot_judge(routine: Routine, claim: Claim) -> Holds:
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
    if scene.target < 0:
        return np.full(len(places), -c.tip_limit), speed
    cue, ball = places[:, scene.cue], places[:, scene.target]
    line = scene.line_rad(places)
    contact = ball - c.touch_mm * np.column_stack([np.cos(line), np.sin(line)])
    far = np.linalg.norm(contact - cue, axis=1)
    for _ in range(STUN_TRIES):
        tip = stun_tip_height(far, speed, c.sliding_friction, 1000.0 * c.gravity_m_s2)
        tip = np.clip(np.nan_to_num(tip, nan=-c.tip_limit), -c.tip_limit, c.tip_limit)
        # throw turns the aim, and so moves the contact a little
        way = aims(scene, tip, speed, places)
        ahead, off = _along(ball - cue, way)
        far = ahead - np.sqrt(np.maximum(c.touch_mm**2 - off * off, 0.0))
    return tip, speed


def _along(step: np.ndarray, way: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Steps (N, 2) split into along and across directions (N,)."""
    cos, sin = np.cos(way), np.sin(way)
    return step[:, 0] * cos + step[:, 1] * sin, step[:, 1] * cos - step[:, 0] * sin


def _room_judge(routine: Routine, claim: Claim) -> Holds:
    scene = scene_of(routine, claim.shot, ())
    ask = routine.shot(claim.shot).lane(claim.lane)
    ids = [ball.id for ball in routine.balls]
    watched = [ids.index(claim.ball)] if claim.ball else [
        k for k in range(len(ids)) if k not in (scene.cue, scene.target)
    ]  # fmt: skip
    clears = claim.kind == "lane-clears"
    met = None
    if claim.ball and not clears:
        cannon = Gap("met", "cannon", (claim.ball,), side="either")
        shot = routine.shot(claim.shot)
        met = scene_for(scene.table, scene.conditions, routine.balls, shot, (cannon,))

    def judge(places: np.ndarray) -> np.ndarray:
        tip, speed = _strike(scene, ask, places)
        if not watched:
            return np.full(len(places), clears)
        room = rooms(scene, tip, speed, np.ascontiguousarray(places))[:, watched].min(axis=1)
        if clears:
            return (room > 0.0) & (room >= claim.margin_mm)
        touches = (room < 0.0) & (-room >= claim.margin_mm)
        if met is not None:
            # as the balls lie, no other may be met before it
            touches &= outcomes(met, tip, speed, places_mm=places, margins=False).reason != BLOCKED
        return touches

    return judge


def _thread_judge(routine: Routine, claim: Claim) -> Holds:
    scene = scene_of(routine, claim.shot, gaps_in_order(routine, claim.gap))
    ask = routine.shot(claim.shot).lane(claim.lane)

    def judge(places: np.ndarray) -> np.ndarray:
        tip, speed = _strike(scene, ask, places)
        found = outcomes(scene, tip, speed, places_mm=places)
        return found.threads & (found.margin_mm >= claim.margin_mm)

    return judge


def _gap_judge(routine: Routine, claim: Claim) -> Holds:
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
