"""Tries by the thousand: each shot is played only until its fate is known, and judged at once.

The events are those of `engine.shot.kernel`, one by one. The cue ball's way is known when it
meets a second ball, comes to rest or falls. A way that fails ends the try; one that threads is
played on until the object ball and the cue ball are settled.
"""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import Floats1, Floats2, Floats3, Ints1, compiled, inlined, room
from engine.judging.rules import BLOCKED, EDGE, KISS, THREADS, shot_does_it
from engine.judging.scan import J_MARGIN, J_REASON, JUDGEMENT, judge
from engine.playing.ways import way_room
from engine.shot.kernel import forget, next_event, record
from engine.shot.layout import (
    BALL_COLUMNS,
    FALLS,
    HIT_BALL,
    POTTED,
    R_BALL,
    R_CAUSE,
    R_OTHER,
    R_PHASE,
    R_T,
    RECORD_COLUMNS,
    STILL,
    STRUCK,
    workspace,
)
from engine.shot.striking import set_up

#: Segments of the cue ball looked at: some ten cushions' worth.
WAY_LENGTH = 32


@inlined
def play_until_known(
    b, struck, target, c, faces, jaws, falls, most_events,
    work, pair, contacts, touching, rows, way, fate,
):  # fmt: skip
    """Play struck balls until the struck ball's way is known; returns (time, events).

    Fills `way` (WAY_LENGTH, columns) with its segments, nan after the last, and `fate` (n,) with
    the pocket each ball has fallen into (−1: none). `rows` is room for one event's records.
    """
    forget(b.shape[0], work, pair)
    for i in range(b.shape[0]):
        fate[i] = -1.0
    count = record(b, struck, STRUCK, -1, way, 0)
    met, since = target < 0, 0.0
    now, events, known = 0.0, 0, False
    while events < most_events and not known and count < way.shape[0]:
        now, used = next_event(
            b, c, faces, jaws, falls, work, pair, contacts, touching, now, rows, 0
        )
        if now == math.inf:
            break
        events += 1
        for k in range(used):
            row = rows[k]
            if row[R_CAUSE] == FALLS:
                fate[int(row[R_BALL])] = row[R_OTHER]
            if row[R_BALL] != struck:
                continue
            if count < way.shape[0]:
                for column in range(RECORD_COLUMNS):
                    way[count, column] = row[column]
                count += 1
            if row[R_CAUSE] == HIT_BALL:
                if met:
                    known = known or row[R_T] > since
                elif row[R_OTHER] == target:
                    met, since = True, row[R_T]
                else:
                    known = True
            if met and (row[R_PHASE] == STILL or row[R_PHASE] == POTTED):
                known = True
    if count < way.shape[0]:
        way[count, R_T] = math.nan
    return now, events


@inlined
def play_on(
    b, struck, target, pocket, c, faces, jaws, falls, most_events,
    work, pair, contacts, touching, rows, fate, now, events,
):  # fmt: skip
    """Play on until it is known whether the pot is made and the struck ball stays out.

    Without a `pocket` (−1) no pot is asked.
    """
    while events < most_events:
        if pocket < 0:
            settled = fate[struck] >= 0.0
        else:
            settled = fate[target] >= 0.0 and (fate[target] != pocket or fate[struck] >= 0.0)
        if settled:
            return
        now, used = next_event(
            b, c, faces, jaws, falls, work, pair, contacts, touching, now, rows, 0
        )
        if now == math.inf:
            return
        events += 1
        for k in range(used):
            if rows[k, R_CAUSE] == FALLS:
                fate[int(rows[k, R_BALL])] = rows[k, R_OTHER]


@room
def scratch(n: int, alone: int) -> tuple[np.ndarray, ...]:
    """Room for trying with n balls, `alone` of them once more, as `try_all` takes it."""
    return (
        *(one.array for one in workspace(n)),
        np.empty((alone, BALL_COLUMNS)), np.empty((n * n + 1, RECORD_COLUMNS)),
        np.empty((WAY_LENGTH, RECORD_COLUMNS)), np.empty(n), np.empty(n),
        *(one.array for one in way_room()), np.empty(4), np.empty(JUDGEMENT),
    )  # fmt: skip


@compiled
def try_all(
    base: Floats2, struck: int, target: int, pocket: int, places: Floats3, strikes: Floats2,
    base_alone: Floats2, places_alone: Floats3, c: Floats1, faces: Floats2, jaws: Floats2,
    falls: Floats2, most_events: int, gaps: Floats2, sets: Ints1, corners: Floats2, radius: float,
    two: float, margins: bool,
    b: Floats2, work: Floats2, pair: Floats3, contacts: Floats2, touching: Floats2,
    b_alone: Floats2, rows: Floats2, way: Floats2, fate: Floats1, solid: Floats1,
    points: Floats2, facts: Floats1, ends: Floats1, free: Floats1, out: Floats3,
) -> None:  # fmt: skip
    """Try N strikes (N, 6) at balls laid out at `places` (N or 1, n, 2); judgements to `out`.

    Each is judged against several sets of gaps, those of `gaps` from one of `sets` (s + 1,) to the
    next: `out` (N, s, JUDGEMENT). With `margins`, a way cut off by a ball is judged by where it
    would have gone: played again with the struck ball and the target alone, given first of
    `base_alone` and `places_alone`. What comes after `margins` is `scratch`.
    """
    n, target_alone = base.shape[0], -1 if target < 0 else 1
    for k in range(strikes.shape[0]):
        which = k if places.shape[0] > 1 else 0
        where, strike = places[which], strikes[k]
        set_up(b, base, where, struck, strike, c, faces, jaws)
        now, events = play_until_known(
            b, struck, target, c, faces, jaws, falls, most_events,
            work, pair, contacts, touching, rows, way, fate,
        )  # fmt: skip
        played_on = cut_off = False
        for s in range(sets.shape[0] - 1):
            found = out[k, s]
            for i in range(n):
                solid[i] = 0.0
            judge(
                way, target, where, solid, gaps[sets[s] : sets[s + 1]], corners, faces, radius, two,
                points, facts, ends, found,
            )  # fmt: skip
            reason = found[J_REASON]
            cut_off = cut_off or reason in (KISS, BLOCKED, EDGE)
            if reason != THREADS:
                continue
            if not played_on:
                play_on(
                    b, struck, target, pocket, c, faces, jaws, falls, most_events,
                    work, pair, contacts, touching, rows, fate, now, events,
                )  # fmt: skip
                played_on = True
            potted = pocket >= 0 and fate[target] == pocket
            found[J_REASON] = shot_does_it(reason, pocket >= 0, potted, fate[struck] >= 0.0)
        if not (margins and cut_off):
            continue
        set_up(b_alone, base_alone, places_alone[which], 0, strike, c, faces, jaws)
        play_until_known(
            b_alone, 0, target_alone, c, faces, jaws, falls, most_events,
            work, pair, contacts, touching, rows, way, fate,
        )  # fmt: skip
        for i in range(n):
            solid[i] = 0.0 if i in (struck, target) else 1.0
        for s in range(sets.shape[0] - 1):
            if out[k, s, J_REASON] in (KISS, BLOCKED, EDGE):
                judge(
                    way, target_alone, where, solid, gaps[sets[s] : sets[s + 1]], corners, faces,
                    radius, two, points, facts, ends, free,
                )  # fmt: skip
                out[k, s, J_MARGIN] = free[J_MARGIN]
