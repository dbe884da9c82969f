"""Proving a change: the full engine asked whether the wish is granted once balls are moved."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from engine.advice.values import Advice, Move, Wish
from engine.answers.answering import answer_shot
from engine.answers.claims import judge_claims
from engine.answers.distinct import lane_pairs
from engine.errors import BaizewrightError
from engine.judging import outcomes
from engine.playing import gaps_in_order, laid_out_of
from engine.potting import pot
from engine.reach import reach_map
from engine.reach.arriving import strike_word
from engine.reach.verdicts import verdicts
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine

#: Strikes tried in a proof, beside the one the search found.
TIPS, PACES = 81, 15

Strike = tuple[float, float, float]


def proved(
    routine: Routine, wish: Wish, moves: tuple[Move, ...], hint: tuple[float, float] | None = None
) -> Advice | None:
    """The advice of some moves when the full engine grants the wish with them, else None.

    `hint`: a tip height and pace that should do it. The claims lost are left empty.
    """
    there = moved(routine, moves)
    table, conditions = table_of(there), conditions_of(there)
    shot = there.shot(wish.shot)
    try:
        if shot.aim_deg is None and not pot(table, conditions, there.balls, shot).on:
            return None
        strike = _best_strike(there, wish, hint)
    except BaizewrightError:
        return None
    if strike is None:
        return None
    tip, pace, margin = strike
    apart = None
    if wish.apart_mm > 0.0:
        found = lane_pairs(answer_shot(there, wish.shot), wish.apart_mm)
        if not all(pair.apart for pair in found):
            return None
        apart = min((pair.distance_mm for pair in found), default=None)
    name = strike_word(laid_out_of(there, wish.shot, ()), tip, pace)
    return Advice(moves, tip, pace, name, margin, apart, ())


def _best_strike(routine: Routine, wish: Wish, hint: tuple[float, float] | None) -> Strike | None:
    scene = laid_out_of(routine, wish.shot, gaps_in_order(routine, wish.gap))
    grid = np.meshgrid(
        np.linspace(scene.lowest_tip, scene.conditions.tip_limit, TIPS),
        np.linspace(wish.pace_min, wish.pace_max, PACES),
    )
    tips, paces = grid[0].ravel(), grid[1].ravel()
    if hint is not None and hint[0] >= scene.lowest_tip:
        tips, paces = np.append(tips, hint[0]), np.append(paces, hint[1])
    found = outcomes(scene, tips, np.asarray(scene.conditions.speed_mm_s(paces, tips)))
    room = np.where(found.threads, found.margin_mm, -np.inf)
    if not room.max() >= max(wish.margin_mm, 0.0):
        return None
    # strikes too exact for anyone to play on purpose grant no wish
    inside = np.zeros(len(room), dtype=bool)
    for window in reach_map(scene).windows:
        inside |= (
            (tips >= window.tip_min)
            & (tips <= window.tip_max)
            & (paces >= window.pace_min)
            & (paces <= window.pace_max)
        )
    room[~inside] = -np.inf
    best = int(np.argmax(room))
    if not room[best] >= max(wish.margin_mm, 0.0):
        return None
    return float(tips[best]), float(paces[best]), float(room[best])


def moved(routine: Routine, moves: tuple[Move, ...]) -> Routine:
    """The routine with the moves made."""
    to = {move.ball: move.to_mm for move in moves}
    balls = tuple(ball.at(to[ball.id]) if ball.id in to else ball for ball in routine.balls)
    return replace(routine, balls=balls)


def with_claims_lost(routine: Routine, wish: Wish, found: list[Advice]) -> list[Advice]:
    """The advice told which claims hold before its moves and not after.

    Claims about the wish's own gap are left out: they are what is to change.
    """
    if not any(one.moves for one in found):
        return found
    before = holding(routine)
    told = []
    for one in found:
        after = holding(moved(routine, one.moves))
        lost = tuple(
            index for index in sorted(before - after) if routine.claims[index].gap != wish.gap
        )
        told.append(replace(one, claims_lost=lost))
    return told


def holding(routine: Routine) -> set[int]:
    """The indices of the routine's claims that hold."""
    shots = tuple(answer_shot(routine, shot.id) for shot in routine.shots)
    asked = {(claim.shot, claim.gap) for claim in routine.claims if claim.kind.startswith("gap-")}
    found = tuple(
        one
        for shot_id, gap_id in sorted(asked)
        for one in verdicts(routine, shot_id, (gap_id,), forgiving=False)
    )
    return {claim.index for claim in judge_claims(routine, shots, found) if claim.holds}
