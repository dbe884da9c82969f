"""The event loop: from one exact event to the next until every ball is at rest or potted."""

from __future__ import annotations

import math

from engine.compiled import inlined
from engine.shot.contacts import part_cushion, part_group, part_pair
from engine.shot.layout import (
    AX,
    AY,
    BEFORE,
    C_I,
    C_J,
    C_OLD,
    CHANGED,
    END,
    F_AXIS,
    F_IN,
    FALLS,
    GROUPED,
    HIT_BALL,
    HIT_CUSHION,
    HIT_JAW,
    HOLD,
    J_LENGTH,
    J_NX,
    J_NY,
    J_X,
    J_Y,
    MEET,
    OWN_CAUSE,
    OWN_INDEX,
    OWN_T,
    PHASE,
    POTTED,
    PRESSED,
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


@inlined
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


@inlined
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


@inlined
def touching_group(n, i, j, now, work, pair, contacts):
    """List in `contacts` every contact of this instant joined to i–j; returns their number.

    The balls in them, of n in play, are marked as grouped: the room may be for more balls.
    """
    for k in range(n):
        work[k, GROUPED] = 1.0 if k in (i, j) else 0.0
    count = 0
    grown = True
    while grown:
        grown = False
        count = 0
        for a in range(n):
            for d in range(a + 1, n):
                joined = work[a, GROUPED] + work[d, GROUPED]
                if pair[a, d, MEET] <= now + INSTANT and joined > 0.0:
                    if joined < 2.0:
                        work[a, GROUPED] = work[d, GROUPED] = 1.0
                        grown = True
                    contacts[count, C_I], contacts[count, C_J] = a, d
                    count += 1
    return count


@inlined
def forget(n, work, pair):
    """Make the room for n balls ready for another shot: nothing in it is known."""
    for i in range(n):
        work[i, OWN_T] = math.inf
        work[i, OWN_CAUSE] = work[i, OWN_INDEX] = 0.0
        work[i, CHANGED] = 1.0
        for j in range(n):
            pair[i, j, MEET] = math.inf
            pair[i, j, HOLD] = 0.0


@inlined
def look_ahead(b, faces, jaws, falls, work, pair, now):
    """What happens next: (when, the ball alone or −1, the two balls that meet).

    What the balls that changed meet, on their own and in pairs, is found anew.
    """
    n = b.shape[0]
    for i in range(n):
        if work[i, CHANGED] > 0.0:
            work[i, OWN_T], work[i, OWN_CAUSE], work[i, OWN_INDEX] = own_meeting(
                b, i, faces, jaws, falls
            )
    first, who, one, two = math.inf, -1, -1, -1
    for i in range(n):
        if work[i, OWN_T] < first:
            first, who = work[i, OWN_T], i
        for j in range(i + 1, n):
            if work[i, CHANGED] + work[j, CHANGED] > 0.0:
                held = pair[i, j, HOLD]
                pair[i, j, MEET] = held if held > 0.0 else pair_time(b, i, j, now)
            if pair[i, j, MEET] < first:
                first, who, one, two = pair[i, j, MEET], -1, i, j
    for i in range(n):
        work[i, CHANGED] = 0.0
    return first, who, one, two


@inlined
def event_of_one(b, who, now, c, faces, jaws, work, pair, out, used):
    """Carry out a ball's own event, and look anew at what it pressed on; returns records used."""
    advance(b, who, now, c)
    index = int(work[who, OWN_INDEX])
    cause = resolve_own(b, who, int(work[who, OWN_CAUSE]), index, faces, jaws, c)
    lean(b, who, faces, jaws)
    used = record(b, who, cause, index, out, used)
    work[who, CHANGED] = 1.0
    for i in range(b.shape[0]):
        low, high = min(i, who), max(i, who)
        if pair[low, high, HOLD] > 0.0:
            pair[low, high, HOLD] = now
            if b[who, PHASE] == POTTED:
                pair[low, high, HOLD] = 0.0
                advance(b, i, now, c)
                begin(b, i, c)
                lean(b, i, faces, jaws)
                used = record(b, i, TURNS, -1, out, used)
                work[i, CHANGED] = 1.0
    return used


@inlined
def event_of_pairs(
    b, one, two, now, c, faces, jaws, work, pair, contacts, touching, out, used
):  # fmt: skip
    """Resolve all contacts of this instant joined to that of two balls; returns records used."""
    n = b.shape[0]
    count = touching_group(n, one, two, now, work, pair, contacts)
    for i in range(n):
        if work[i, GROUPED] > 0.0:
            advance(b, i, now, c)
        work[i, BEFORE] = b[i, PHASE]
        work[i, PRESSED] = work[i, GROUPED]
    news = 0
    for k in range(count):
        # a contact that only went on is not told again
        held = pair[int(contacts[k, C_I]), int(contacts[k, C_J]), HOLD] > 0.0
        contacts[k, C_OLD] = 1.0 if held else 0.0
        if not held:
            news += 1
    if count == 1 and news == 1:
        part_pair(b, one, two, c)
    elif news > 0:
        part_group(b, contacts, count, c, work)
    for i in range(n):
        if work[i, GROUPED] > 0.0:
            begin(b, i, c)
    press(b, now, work, pair, touching, faces, c)
    for i in range(n):
        if work[i, PRESSED] == 0.0:
            continue
        lean(b, i, faces, jaws)
        work[i, CHANGED] = 1.0
        told = False
        for k in range(count):
            a, d = int(contacts[k, C_I]), int(contacts[k, C_J])
            if contacts[k, C_OLD] == 0.0 and i in (a, d):
                used = record(b, i, HIT_BALL, d if a == i else a, out, used)
                told = True
        before = work[i, BEFORE]
        if not told and (work[i, GROUPED] > 0.0 or b[i, PHASE] != STILL or before != STILL):
            rolls = before == SLIDING and b[i, PHASE] == ROLLING
            used = record(b, i, ROLLS if rolls else TURNS, -1, out, used)
    return used


@inlined
def next_event(b, c, faces, jaws, falls, work, pair, contacts, touching, now, out, used):
    """Play the balls in `b` from the time `now` through their next event.

    `work`, `pair`, `contacts` and `touching` are room as of `engine.shot.layout.workspace`. Writes
    segment records to `out` (those beyond its length are dropped) and returns (time of the event,
    records used); the time is inf when every ball rests.
    """
    first, who, one, two = look_ahead(b, faces, jaws, falls, work, pair, now)
    if first == math.inf:
        return math.inf, used
    now = max(now, first)
    if who >= 0:
        return now, event_of_one(b, who, now, c, faces, jaws, work, pair, out, used)
    return now, event_of_pairs(
        b, one, two, now, c, faces, jaws, work, pair, contacts, touching, out, used
    )


@inlined
def run(b, c, faces, jaws, falls, work, pair, contacts, touching, out, used, most_events):
    """Play the balls in `b` from t = 0 until all rest; rows are left in their final state.

    Writes segment records to `out` after the first `used` (those beyond its length are dropped)
    and returns (records used, events, end): end is ENDED or CUT_SHORT after `most_events`.
    """
    forget(b.shape[0], work, pair)
    now = 0.0
    for events in range(most_events):
        now, used = next_event(
            b, c, faces, jaws, falls, work, pair, contacts, touching, now, out, used
        )
        if now == math.inf:
            return used, events, ENDED
    return used, most_events, CUT_SHORT
