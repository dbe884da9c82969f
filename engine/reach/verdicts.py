"""Verdicts on gaps: reachable with plain top or screw or not, and with what."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np

from engine.errors import BaizewrightError
from engine.judging.outcomes import outcomes
from engine.players import PLAYERS, Player
from engine.playing import LaidOutShot, gaps_in_order, laid_out_of
from engine.reach.arriving import strike_word
from engine.reach.choosing import best_strike, choice_of
from engine.reach.limits import limit_of
from engine.reach.mapping import ReachMap, reach_map, reach_maps
from engine.results import Fact, GapVerdict, ReachWindow, TriedStrike
from engine.routine.values import Routine

#: Tip heights and paces tried for the widest room within a pace range.
RANGE_TIPS, RANGE_PACES = 81, 15
#: Windows whose strikes are named, the largest first.
NAMED = 2


def reach(routine: Routine, shot_id: str, gap_id: str) -> ReachMap:
    """The refined map of tip heights and paces for one gap of one shot.

    `UnknownNameError` when the shot, gap, ball or pocket is not there.
    """
    return reach_map(laid_out_of(routine, shot_id, gaps_in_order(routine, gap_id)))


def widest_room(
    routine: Routine, shot_id: str, gap_id: str, pace_low: float, pace_high: float
) -> float | None:
    """The widest room (mm) with which any tip height threads a gap at paces within a range."""
    scene = laid_out_of(routine, shot_id, gaps_in_order(routine, gap_id))
    tips = np.linspace(scene.lowest_tip, scene.conditions.tip_limit, RANGE_TIPS)
    paces = np.linspace(pace_low, pace_high, RANGE_PACES if pace_high > pace_low else 1)
    tip, pace = (part.ravel() for part in np.meshgrid(tips, paces))
    found = outcomes(scene, tip, scene.conditions.speed_mm_s(pace, tip))
    rooms = found.margin_mm[found.threads]
    return float(rooms.max()) if len(rooms) else None


def verdict(routine: Routine, shot_id: str, gap_id: str) -> GapVerdict:
    """Whether plain top or screw threads one gap in one shot, and with what."""
    return verdicts(routine, shot_id, (gap_id,))[0]


def verdicts(
    routine: Routine,
    shot_id: str,
    gap_ids: Sequence[str] | None = None,
    *,
    forgiving: bool = True,
    chances: bool = True,
    players: tuple[Player, ...] = PLAYERS,
) -> tuple[GapVerdict, ...]:
    """The verdicts of one shot on some gaps (on all of the routine when none are named).

    The most forgiving strike is the one the middle of `players` makes most often. Without
    `forgiving` it is left out, in about half the time; without `chances` no `choice` is worked
    out. A gap that is not complete gets no verdict, and its `error` says why;
    `OutOfRangeError` for a shot that cannot be played.
    """
    gaps = routine.gaps if gap_ids is None else tuple(routine.gap(gap_id) for gap_id in gap_ids)
    bare = laid_out_of(routine, shot_id)
    scenes: dict[str, LaidOutShot] = {}
    told: dict[str, GapVerdict] = {}
    for gap in gaps:
        try:
            parts = [routine.gap(part) for part in gaps_in_order(routine, gap.id)]
            scenes[gap.id] = bare.asking(parts)
        except BaizewrightError as error:
            told[gap.id] = _no_verdict(gap.id, shot_id, error)
    if bare.pot is not None and not bare.pot.on:
        limit = Fact("pot-off", then=bare.pot.reasons[0])
        for gap_id, scene in scenes.items():
            told[gap_id] = GapVerdict(gap_id, shot_id, False, scene.width_mm, (), None, limit)
    else:
        for gap_id, found in zip(scenes, _maps([*scenes.values()]), strict=True):
            try:
                told[gap_id] = _verdict(
                    scenes[gap_id], gap_id, found, players if forgiving else (), chances
                )
            except BaizewrightError as error:
                told[gap_id] = _no_verdict(gap_id, shot_id, error)
    return tuple(told[gap.id] for gap in gaps)


def _maps(scenes: Sequence[LaidOutShot]) -> Iterable[ReachMap]:
    return reach_maps(scenes) if len(scenes) > 1 else map(reach_map, scenes)


def _no_verdict(gap_id: str, shot_id: str, error: BaizewrightError) -> GapVerdict:
    return GapVerdict(gap_id, shot_id, False, 0.0, (), None, error=error)


def _verdict(
    scene: LaidOutShot, gap_id: str, found: ReachMap, players: tuple[Player, ...], chances: bool
) -> GapVerdict:
    known = GapVerdict(
        gap_id, scene.shot.id, bool(found.windows), scene.width_mm, (), None, slivers=found.slivers,
        threading_share=found.threading_share(),
    )  # fmt: skip
    if not found.windows:
        limit, miss = limit_of(scene, found)
        nearest = None if miss is None else _nearest(scene, found)
        return replace(known, nearest_miss_mm=miss, limit=limit, nearest=nearest)
    strike = best_strike(scene, found, players) if players else None
    choice = choice_of(scene, strike, players) if strike and chances else None
    named = tuple(_named(scene, window) for window in found.windows[:NAMED])
    windows = (*named, *found.windows[NAMED:])
    return replace(known, windows=windows, best=strike, choice=choice)


def _named(scene: LaidOutShot, window: ReachWindow) -> ReachWindow:
    """A window with the words for its lowest and highest tip."""
    low, high = (
        strike_word(scene, tip, window.best_pace) for tip in (window.tip_min, window.tip_max)
    )
    return replace(window, strikes=(low, high))


def _nearest(scene: LaidOutShot, found: ReachMap) -> TriedStrike | None:
    """The strike that comes nearest, where one does."""
    at = found.nearest_miss()
    if at is None:
        return None
    tip, pace = float(found.tip_heights[at[0]]), float(found.paces[at[1]])
    return TriedStrike(tip, pace, strike_word(scene, tip, pace), float(found.margin_mm[at]))
