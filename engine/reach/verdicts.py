"""Verdicts on gaps: reachable with plain top or screw or not, and with what."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from engine.errors import BaizewrightError
from engine.judging.outcomes import outcomes
from engine.players import PLAYERS, Player
from engine.playing import LaidOutShot, gap_width_mm, gaps_in_order, laid_out_of
from engine.playing.laid_out import check_playable
from engine.potting import pot
from engine.reach.arriving import strike_word
from engine.reach.choosing import best_strike, choice_of
from engine.reach.limits import limit_of
from engine.reach.mapping import ReachMap, reach_map
from engine.results import Fact, GapVerdict, PotAnswer, ReachWindow, TriedStrike
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Gap, Routine, Shot

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
    shot = routine.shot(shot_id)
    check_playable(table_of(routine), shot)
    gaps = routine.gaps if gap_ids is None else tuple(routine.gap(gap_id) for gap_id in gap_ids)
    answer = _pot(routine, shot)
    found = []
    for gap in gaps:
        try:
            if answer is not None and not answer.on:
                found.append(_pot_off(routine, shot, gap, answer))
            else:
                found.append(_verdict(routine, shot, gap, players if forgiving else (), chances))
        except BaizewrightError as error:
            found.append(GapVerdict(gap.id, shot.id, False, 0.0, (), None, error=error))
    return tuple(found)


def _pot(routine: Routine, shot: Shot) -> PotAnswer | None:
    if not shot.object_ball or not shot.pocket:
        return None
    return pot(table_of(routine), conditions_of(routine), routine.balls, shot)


def _width(routine: Routine, gap: Gap) -> float:
    c = conditions_of(routine)
    radius, cue = c.ball_radius_mm, c.cue_radius_mm
    parts = [routine.gap(one) for one in gaps_in_order(routine, gap.id)]
    return min(gap_width_mm(table_of(routine), part, routine.balls, radius, cue) for part in parts)


def _pot_off(routine: Routine, shot: Shot, gap: Gap, answer: PotAnswer) -> GapVerdict:
    limit = Fact("pot-off", then=answer.reasons[0])
    return GapVerdict(gap.id, shot.id, False, _width(routine, gap), (), None, limit)


def _verdict(
    routine: Routine, shot: Shot, gap: Gap, players: tuple[Player, ...], chances: bool
) -> GapVerdict:
    scene = laid_out_of(routine, shot.id, gaps_in_order(routine, gap.id))
    width = _width(routine, gap)
    found = reach_map(scene)
    if found.windows:
        strike = best_strike(scene, found, players) if players else None
        choice = choice_of(scene, strike, players) if strike and chances else None
        named = tuple(_named(scene, window) for window in found.windows[:NAMED])
        windows = (*named, *found.windows[NAMED:])
        return GapVerdict(
            gap.id,
            shot.id,
            True,
            width,
            windows,
            None,
            None,
            choice,
            found.slivers,
            strike,
            threading_share=found.threading_share(),
        )
    limit, miss = limit_of(scene, found)
    return GapVerdict(
        gap.id, shot.id, False, width, (), miss, limit, None, found.slivers,
        nearest=None if miss is None else _nearest(scene, found),
        threading_share=found.threading_share(),
    )  # fmt: skip


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
