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
from engine.judging import is_clear, is_touch, outcomes, rooms
from engine.playing import LaidOutShot, gaps_in_order, laid_out_of, speed_of
from engine.playing.plan import tips_of
from engine.reach import reach_map
from engine.reach.verdicts import verdicts
from engine.routine.context import conditions_of
from engine.routine.values import Claim, LaneAsk, Routine

#: Strikes that stand for "any strike" in a gap claim: a grid over the map, and its windows.
GRID_TIPS, GRID_PACES, WINDOW_STRIKES = 11, 9, 24
#: Strikes tried before all the others.
LIKELY_STRIKES = 6

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
    measured = ("lane-clears", "lane-contacts", "lane-threads")
    of_pot = claim.kind in ("pot-on", "pot-off")
    if of_pot or (claim.lane and (claim.kind not in measured or not _is_plain(routine, claim))):
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
    """Every place answered by itself: slower, for pots, side, a raised cue or nap."""
    shot = routine.shot(claim.shot)
    labels = [label for label in (claim.lane, claim.other) if label]
    alone = replace(shot, lanes=tuple(shot.lane(label) for label in labels))

    def judge(places: np.ndarray) -> np.ndarray:
        found = []
        for row in places:
            there = replace(_moved(routine, row), shots=(alone,), claims=(claim,))
            found.append(judge_claims(there, (answer_shot(there, alone.id),), ())[0].holds)
        return np.array(found, dtype=bool)

    return judge


def _moved(routine: Routine, places: np.ndarray) -> Routine:
    balls = (ball.at(place) for ball, place in zip(routine.balls, places, strict=True))
    return replace(routine, balls=tuple(balls))


def _strike(scene: LaidOutShot, ask: LaneAsk, places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Tip heights and speeds (N,) of a lane; stun is found anew for every place of the balls."""
    tips = np.nan_to_num(tips_of(scene, ask, places), nan=-scene.conditions.tip_limit)
    return tips, np.asarray(speed_of(ask, scene.conditions, tips))


def _room_judge(routine: Routine, claim: Claim) -> Holds:
    scene = laid_out_of(routine, claim.shot, ())
    ask = routine.shot(claim.shot).lane(claim.lane)
    tips_of(scene, ask, scene.places_mm[None])  # refuses a lane that cannot be struck
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
        holds = is_clear if clears else is_touch
        return np.array([holds(one, claim.margin_mm) for one in room.tolist()])

    return judge


def _thread_judge(routine: Routine, claim: Claim) -> Holds:
    scene = laid_out_of(routine, claim.shot, gaps_in_order(routine, claim.gap))
    ask = routine.shot(claim.shot).lane(claim.lane)
    tips_of(scene, ask, scene.places_mm[None])

    def judge(places: np.ndarray) -> np.ndarray:
        tip, speed = _strike(scene, ask, places)
        found = outcomes(scene, tip, speed, places_mm=places)
        return found.threads & (found.margin_mm >= claim.margin_mm)

    return judge


def _gap_judge(routine: Routine, claim: Claim) -> Holds:
    scene = laid_out_of(routine, claim.shot, gaps_in_order(routine, claim.gap))
    tips, paces = _strikes(scene, claim)
    speeds = np.asarray(scene.conditions.speed_mm_s(paces, tips))
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
    scene: LaidOutShot, tips: np.ndarray, speeds: np.ndarray, places: np.ndarray, claim: Claim
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


def _strikes(scene: LaidOutShot, claim: Claim) -> tuple[np.ndarray, np.ndarray]:
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
