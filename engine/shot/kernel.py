"""The event loop: from one exact event to the next until every ball is at rest or potted."""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import jit
from engine.shot.contacts import part_cushion, part_group, part_pair
from engine.shot.layout import (
    AX,
    AY,
    END,
    F_AXIS,
    F_IN,
    FALLS,
    HIT_BALL,
    HIT_CUSHION,
    HIT_JAW,
    J_LENGTH,
    J_NX,
    J_NY,
    J_X,
    J_Y,
    PHASE,
    POTTED,
    QX,
    QY,
    R_AX,
    R_AY,
    R_BALL,
    R_CAUSE,
    R_OTHER,
    R_PHASE,
    R_QX,
    R_QY,
    R_T,
    R_VX,
    R_VY,
    R_WX,
    R_WY,
    R_WZ,
    R_X,
    R_Y,
    ROLLING,
    ROLLS,
    SLIDING,
    STILL,
    STOPS,
    TURNS,
    VX,
    VY,
    WX,
    WY,
    WZ,
    T,
    X,
    Y,
)  # fmt: skip
from engine.shot.meetings import lean, own_meeting, pair_time
from engine.shot.pressing import press
from engine.shot.segments import advance, begin, finish

#: Pairs that meet within this many seconds of each other meet at once.
INSTANT = 1e-11

# how a shot ended
ENDED, CUT_SHORT = 0, 1


@jit
def record(b, i, cause, other, out, used):
    """Write ball i's present segment as the next record; returns how many there are now."""
    if used < out.shape[0]:
        out[used, R_BALL] = i
        out[used, R_T] = b[i, T]
        out[used, R_X] = b[i, X]
        out[used, R_Y] = b[i, Y]
        out[used, R_VX] = b[i, VX]
        out[used, R_VY] = b[i, VY]
        out[used, R_WX] = b[i, WX]
        out[used, R_WY] = b[i, WY]
        out[used, R_WZ] = b[i, WZ]
        out[used, R_AX] = b[i, AX]
        out[used, R_AY] = b[i, AY]
        out[used, R_QX] = b[i, QX]
        out[used, R_QY] = b[i, QY]
        out[used, R_PHASE] = b[i, PHASE]
        out[used, R_CAUSE] = cause
        out[used, R_OTHER] = other
        return used + 1
    return used


@jit
def resolve_own(b, i, cause, index, faces, jaws, c):
    """Carry out ball i's own event, its row being at that time; returns the cause to record."""
    if cause == FALLS:
        b[i, PHASE] = POTTED
        b[i, VX] = b[i, VY] = b[i, WX] = b[i, WY] = b[i, WZ] = 0.0
        b[i, AX] = b[i, AY] = b[i, QX] = b[i, QY] = 0.0
        b[i, END] = math.inf
        return FALLS
    if cause == HIT_CUSHION:
        way = -faces[index, F_IN]
        if faces[index, F_AXIS] == 0.0:
            part_cushion(b, i, way, 0.0, c)
        else:
            part_cushion(b, i, 0.0, way, c)
    elif cause == HIT_JAW and jaws[index, J_LENGTH] > 0.0:
        part_cushion(b, i, -jaws[index, J_NX], -jaws[index, J_NY], c)
    elif cause == HIT_JAW:
        px, py = jaws[index, J_X] - b[i, X], jaws[index, J_Y] - b[i, Y]
        far = math.hypot(px, py)
        part_cushion(b, i, px / far, py / far, c)
    else:
        was_rolling = b[i, PHASE] == ROLLING
        cause = TURNS
        if finish(b, i, c):
            cause = STOPS if was_rolling else ROLLS
    begin(b, i, c)
    return cause


@jit
def touching_group(b, i, j, meet, now, pairs, group):
    """Collect into `pairs` every contact of this instant joined to i–j; returns their number."""
    n = b.shape[0]
    group[:] = 0
    group[i] = group[j] = 1
    count = 0
    grown = True
    while grown:
        grown = False
        count = 0
        for a in range(n):
            for d in range(a + 1, n):
                if meet[a, d] <= now + INSTANT and (group[a] or group[d]):
                    if not (group[a] and group[d]):
                        group[a] = group[d] = 1
                        grown = True
                    pairs[count, 0], pairs[count, 1] = a, d
                    count += 1
    return count


@jit
def workspace(n):
    """Arrays the event loop keeps for n balls: meetings, own events, what changed, groups.

    Last come the time until which each pair presses on each other (0: it does not), and room for
    the pairs that touch, the balls that press, and their phases before.
    """
    most = max(n * (n - 1) // 2, 1)
    return (
        np.empty((n, n)),
        np.empty(n),
        np.empty(n, dtype=np.int64),
        np.empty(n, dtype=np.int64),
        np.empty(n, dtype=np.int64),
        np.empty((most, 2), dtype=np.int64),
        np.empty(n, dtype=np.int64),
        np.empty((n, n)),
        np.empty((most, 2), dtype=np.int64),
        np.empty(n, dtype=np.int64),
        np.empty(n),
    )


@jit
def forget(work):
    """Make a workspace ready for another shot: nothing in it is known."""
    meet, own_t, own_cause, own_index, changed, _, _, hold, _, _, _ = work
    meet[:] = math.inf
    own_t[:] = math.inf
    own_cause[:] = 0
    own_index[:] = 0
    changed[:] = 1
    hold[:] = 0.0


@jit
def next_event(b, c, faces, jaws, falls, work, now, out, used):
    """Play the balls in `b` from the time `now` through their next event.

    Writes segment records to `out` (those beyond its length are dropped) and returns (time of the
    event, records used); the time is inf when every ball rests.
    """
    meet, own_t, own_cause, own_index, changed, pairs, group, hold, touching, pressed, before = work
    n = b.shape[0]
    for i in range(n):
        if changed[i]:
            own_t[i], own_cause[i], own_index[i] = own_meeting(b, i, faces, jaws, falls)
    for i in range(n):
        for j in range(i + 1, n):
            if changed[i] or changed[j]:
                meet[i, j] = hold[i, j] if hold[i, j] > 0.0 else pair_time(b, i, j, now)
    changed[:] = 0
    first, who, a, d = math.inf, -1, -1, -1
    for i in range(n):
        if own_t[i] < first:
            first, who = own_t[i], i
        for j in range(i + 1, n):
            if meet[i, j] < first:
                first, who, a, d = meet[i, j], -1, i, j
    if first == math.inf:
        return math.inf, used
    now = max(now, first)
    if who >= 0:
        advance(b, who, now, c)
        cause = resolve_own(b, who, own_cause[who], own_index[who], faces, jaws, c)
        lean(b, who, faces, jaws)
        used = record(b, who, cause, own_index[who], out, used)
        changed[who] = 1
        # what it pressed on is looked at anew
        for i in range(n):
            if hold[min(i, who), max(i, who)] > 0.0:
                hold[min(i, who), max(i, who)] = now
                if b[who, PHASE] == POTTED:
                    hold[min(i, who), max(i, who)] = 0.0
                    advance(b, i, now, c)
                    begin(b, i, c)
                    lean(b, i, faces, jaws)
                    used = record(b, i, TURNS, -1, out, used)
                    changed[i] = 1
        return now, used
    count = touching_group(b, a, d, meet, now, pairs, group)
    for i in range(n):
        if group[i]:
            advance(b, i, now, c)
    before[:] = b[:, PHASE]
    news = 0
    for k in range(count):
        news += hold[pairs[k, 0], pairs[k, 1]] <= 0.0
    if count == 1 and news == 1:
        part_pair(b, a, d, c)
    elif news > 0:
        part_group(b, pairs, count, c)
    for i in range(n):
        if group[i]:
            begin(b, i, c)
    for k in range(count):
        # a contact that only went on is not told again
        if hold[pairs[k, 0], pairs[k, 1]] > 0.0:
            pairs[k, 0] = -1 - pairs[k, 0]
    pressed[:] = group
    press(b, pressed, now, hold, touching, faces, c)
    for i in range(n):
        if not pressed[i]:
            continue
        lean(b, i, faces, jaws)
        changed[i] = 1
        told = False
        for k in range(count):
            if pairs[k, 0] == i or (pairs[k, 1] == i and pairs[k, 0] >= 0):
                other = pairs[k, 1] if pairs[k, 0] == i else pairs[k, 0]
                used = record(b, i, HIT_BALL, other, out, used)
                told = True
        if not told and (group[i] or b[i, PHASE] != STILL or before[i] != STILL):
            rolls = before[i] == SLIDING and b[i, PHASE] == ROLLING
            used = record(b, i, ROLLS if rolls else TURNS, -1, out, used)
    return now, used


@jit
def run(b, c, faces, jaws, falls, out, most_events):
    """Play the balls in `b` from t = 0 until all rest; rows are left in their final state.

    Writes segment records to `out` (those beyond its length are dropped) and returns
    (records used, events, end): end is ENDED or CUT_SHORT after `most_events`.
    """
    work = workspace(b.shape[0])
    forget(work)
    used, now = 0, 0.0
    for events in range(most_events):
        now, used = next_event(b, c, faces, jaws, falls, work, now, out, used)
        if now == math.inf:
            return used, events, ENDED
    return used, most_events, CUT_SHORT
