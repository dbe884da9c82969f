"""Tries by the thousand: each shot is played only until its fate is known, and judged at once.

The events are those of `engine.shot.kernel`, one by one. The cue ball's way is known when it
meets a second ball, comes to rest or falls. A way that fails ends the try; one that threads is
played on until the object ball and the cue ball are settled.
"""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import jit
from engine.reach.judging import (
    BLOCKED,
    EDGE,
    IN_OFF,
    J_MARGIN,
    J_REASON,
    KISS,
    NOT_POTTED,
    THREADS,
    judge,
)
from engine.reach.ways import MOST_POINTS, WAY_FACTS
from engine.shot.batch import set_up
from engine.shot.kernel import forget, next_event, record, workspace
from engine.shot.layout import (
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
)

#: Segments of the cue ball looked at: some ten cushions' worth.
WAY_LENGTH = 32


@jit
def play_until_known(
    b, struck, target, c, faces, jaws, falls, most_events, work, rows, way, fate
):  # fmt: skip
    """Play struck balls until the struck ball's way is known; returns (time, events).

    Fills `way` (WAY_LENGTH, columns) with its segments, nan after the last, and `fate` (n,) with
    the pocket each ball has fallen into (−1: none). `rows` is room for one event's records.
    """
    forget(work)
    fate[:] = -1
    count = record(b, struck, STRUCK, -1, way, 0)
    met, since = target < 0, 0.0
    now, events, known = 0.0, 0, False
    while events < most_events and not known and count < way.shape[0]:
        now, used = next_event(b, c, faces, jaws, falls, work, now, rows, 0)
        if now == math.inf:
            break
        events += 1
        for k in range(used):
            row = rows[k]
            if row[R_CAUSE] == FALLS:
                fate[int(row[R_BALL])] = int(row[R_OTHER])
            if row[R_BALL] != struck:
                continue
            if count < way.shape[0]:
                way[count] = row
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


@jit
def play_on(
    b, struck, target, pocket, c, faces, jaws, falls, most_events, work, rows, fate, now, events
):  # fmt: skip
    """Play on until it is known whether the pot is made and the struck ball stays out."""
    while events < most_events:
        settled = fate[struck] >= 0 if target < 0 else fate[target] >= 0
        if settled and target >= 0:
            settled = fate[target] != pocket or fate[struck] >= 0
        if settled:
            return
        now, used = next_event(b, c, faces, jaws, falls, work, now, rows, 0)
        if now == math.inf:
            return
        events += 1
        for k in range(used):
            if rows[k, R_CAUSE] == FALLS:
                fate[int(rows[k, R_BALL])] = int(rows[k, R_OTHER])


@jit
def try_all(
    base, struck, target, pocket, places, strikes, c, faces, jaws, falls, most_events,
    gaps, corners, radius, two, margins, out,
):  # fmt: skip
    """Try N strikes (N, 6) at balls laid out at `places` (N or 1, n, 2); judgements to `out`.

    With `margins`, a way cut off by a ball is judged by where it would have gone: played again
    with the struck ball and the target alone.
    """
    n = base.shape[0]
    alone, target_alone = (1, -1) if target < 0 else (2, 1)
    b, b_alone, base_alone = base.copy(), base[:alone].copy(), base[:alone].copy()
    base_alone[0] = base[struck]
    places_alone = np.empty((alone, 2))
    if target >= 0:
        base_alone[1] = base[target]
    work, work_alone = workspace(n), workspace(alone)
    rows = np.empty((n * n + 1, RECORD_COLUMNS))
    way, fate = np.empty((WAY_LENGTH, RECORD_COLUMNS)), np.empty(n, dtype=np.int64)
    none, others = np.zeros(n, dtype=np.bool_), np.ones(n, dtype=np.bool_)
    others[struck] = False
    if target >= 0:
        others[target] = False
    points, facts, free = np.empty((MOST_POINTS, 2)), np.empty(WAY_FACTS), np.empty(out.shape[1])
    for k in range(strikes.shape[0]):
        where = places[k if places.shape[0] > 1 else 0]
        found = out[k]
        set_up(b, base, where, struck, strikes[k], c, faces, jaws)
        now, events = play_until_known(
            b, struck, target, c, faces, jaws, falls, most_events, work, rows, way, fate
        )
        judge(way, target, where, none, gaps, corners, faces, radius, two, points, facts, found)
        reason = found[J_REASON]
        if reason == THREADS:
            play_on(
                b, struck, target, pocket, c, faces, jaws, falls, most_events, work, rows, fate,
                now, events,
            )  # fmt: skip
            if target >= 0 and fate[target] != pocket:
                found[J_REASON] = NOT_POTTED
            elif fate[struck] >= 0:
                found[J_REASON] = IN_OFF
        elif margins and reason in (KISS, BLOCKED, EDGE):
            places_alone[0] = where[struck]
            if target >= 0:
                places_alone[1] = where[target]
            set_up(b_alone, base_alone, places_alone, 0, strikes[k], c, faces, jaws)
            play_until_known(
                b_alone, 0, target_alone, c, faces, jaws, falls, most_events, work_alone, rows, way,
                fate,
            )  # fmt: skip
            judge(
                way, target_alone, where, others, gaps, corners, faces, radius, two, points, facts,
                free,
            )  # fmt: skip
            found[J_MARGIN] = free[J_MARGIN]
