"""Balls that press on each other: touching, at rest against each other, and driven together.

After a plant or in a cluster the spin of one ball goes on driving it into the next. Told as
impacts that would be thousands of contacts a second; here the balls in a row share their
accelerations, with no friction between them, until one of them changes its motion or the line
between them has turned a little. The push of each contact (never a pull) is found by projected
relaxation; a rolling ball, which the cloth keeps rolling, answers a push with 5/7 of what a
sliding one does, and a cushion a ball lies against pushes back as much as it must.
"""

from __future__ import annotations

import math

from engine.compiled import inlined
from engine.shot.contacts import line_between
from engine.shot.layout import (
    ACC_X,
    ACC_Y,
    ANSWER,
    AX,
    AY,
    C_I,
    C_J,
    C_NX,
    C_NY,
    C_PUSH,
    C_WANTED,
    END,
    F_AXIS,
    F_IN,
    FORCE_X,
    FORCE_Y,
    GRAVITY,
    HOLD,
    MASS,
    PHASE,
    PRESSED,
    RADIUS,
    ROLL,
    ROLLING,
    SLIDE,
    SLIDING,
    STILL,
    VX,
    VY,
    WX,
    WY,
)  # fmt: skip
from engine.shot.lying import NEAR, at_face, gather, join_held, quieten, settle
from engine.shot.segments import begin

#: How far (mm) two pressing balls may drift together or apart before they are looked at anew.
DRIFT = 1e-5
LONGEST_S, SHORTEST_S = 0.05, 5e-4
#: How soon (s) an overlap is made good.
MEND_S = 0.005
SWEEPS = 500


@inlined
def _answer(b, i):
    """Acceleration of ball i for a unit force through its centre."""
    return (1.0 if b[i, PHASE] == SLIDING else 5.0 / 7.0) / b[i, MASS]


@inlined
def _push_back(b, i, faces, work):
    """Let the faces ball i lies against take its acceleration into them; returns the change."""
    change, answer = 0.0, work[i, ANSWER]
    for k in range(faces.shape[0]):
        if not at_face(b, i, faces, k):
            continue
        axis, inward = int(faces[k, F_AXIS]), faces[k, F_IN]
        force = work[i, FORCE_X + axis]
        new = max(force - inward * work[i, ACC_X + axis] / answer, 0.0)
        step = new - force
        work[i, FORCE_X + axis] = new
        work[i, ACC_X + axis] += inward * step * answer
        change = max(change, abs(step) * answer)
    return change


@inlined
def press(b, now, work, pair, contacts, faces, c):
    """Let the balls that lie against the pressed ones press on each other too.

    Marked as pressed are the balls whose motion has just begun anew; those that are drawn in are
    marked as well. What holds of a pair is set to the time until which it presses, 0 for one that
    does not; `contacts` is room for every pair.
    """
    n = b.shape[0]
    join_held(b, now, c, work, pair)
    count = gather(b, now, contacts, c, work)
    for i in range(n):
        for j in range(i + 1, n):
            if work[i, PRESSED] + work[j, PRESSED] > 0.0:
                pair[i, j, HOLD] = 0.0
    if count == 0:
        return
    for i in range(n):
        if work[i, PRESSED] > 0.0:
            quieten(b, i)
        work[i, ANSWER] = _answer(b, i)
    settle(b, contacts, count, faces, work)
    for i in range(n):
        if work[i, PRESSED] > 0.0:
            begin(b, i, c)
            work[i, ANSWER] = _answer(b, i)
        work[i, ACC_X], work[i, ACC_Y] = b[i, AX], b[i, AY]
        work[i, FORCE_X] = work[i, FORCE_Y] = 0.0
    _lay_contacts(b, contacts, count)
    _share(b, contacts, count, faces, work)
    _hold(b, now, pair, contacts, count, c, work)


@inlined
def _lay_contacts(b, contacts, count):
    """Fill the contacts' lines, and the acceleration at which each neither opens nor closes."""
    for k in range(count):
        i, j = int(contacts[k, C_I]), int(contacts[k, C_J])
        far, nx, ny = line_between(b, i, j)
        contacts[k, C_NX], contacts[k, C_NY], contacts[k, C_PUSH] = nx, ny, 0.0
        across = (b[j, VY] - b[i, VY]) * nx - (b[j, VX] - b[i, VX]) * ny
        # balls that pass each other part by across²/far; what they overlap they make good
        reach = 2.0 * math.sqrt(b[i, RADIUS] * b[j, RADIUS])
        resting = b[i, PHASE] == STILL and b[j, PHASE] == STILL
        over = 0.0 if resting else min(max(reach - far, 0.0), NEAR)
        contacts[k, C_WANTED] = across * across / far - 2.0 * over / (MEND_S * MEND_S)


@inlined
def _share(b, contacts, count, faces, work):
    """Find the push of each contact, never a pull, and what acceleration it leaves the balls."""
    for _ in range(SWEEPS):
        change = 0.0
        for k in range(count):
            i, j = int(contacts[k, C_I]), int(contacts[k, C_J])
            nx, ny = contacts[k, C_NX], contacts[k, C_NY]
            one, two = work[i, ANSWER], work[j, ANSWER]
            parting = (work[j, ACC_X] - work[i, ACC_X]) * nx
            parting += (work[j, ACC_Y] - work[i, ACC_Y]) * ny
            parting += contacts[k, C_WANTED]
            new = max(contacts[k, C_PUSH] - parting / (one + two), 0.0)
            step = new - contacts[k, C_PUSH]
            contacts[k, C_PUSH] = new
            work[i, ACC_X] -= step * nx * one
            work[i, ACC_Y] -= step * ny * one
            work[j, ACC_X] += step * nx * two
            work[j, ACC_Y] += step * ny * two
            change = max(change, abs(step) * (one + two))
        for i in range(b.shape[0]):
            if work[i, PRESSED] > 0.0:
                change = max(change, _push_back(b, i, faces, work))
        if change < 1e-9:
            break


@inlined
def _hold(b, now, pair, contacts, count, c, work):
    """Give the balls their shared accelerations and the time until which they hold."""
    pressing = False
    span = LONGEST_S
    for k in range(count):
        if contacts[k, C_PUSH] <= 0.0:
            continue
        pressing = True
        i, j = int(contacts[k, C_I]), int(contacts[k, C_J])
        nx, ny = contacts[k, C_NX], contacts[k, C_NY]
        across = abs((b[j, VY] - b[i, VY]) * nx - (b[j, VX] - b[i, VX]) * ny)
        swing = (work[j, ACC_Y] - work[i, ACC_Y]) * nx - (work[j, ACC_X] - work[i, ACC_X]) * ny
        swing = abs(swing)
        far, _, _ = line_between(b, i, j)
        # the line between them turns: what is left of the third and fourth order
        turn = 3.0 * across * swing / far
        if turn > 0.0:
            span = min(span, (6.0 * DRIFT / turn) ** (1.0 / 3.0))
        if swing > 0.0:
            span = min(span, (4.0 * far * DRIFT / (swing * swing)) ** 0.25)
    if not pressing:
        return
    span = max(span, SHORTEST_S)
    for i in range(b.shape[0]):
        if work[i, PRESSED] == 0.0:
            continue
        px, py = work[i, ACC_X] - b[i, AX], work[i, ACC_Y] - b[i, AY]
        if px == 0.0 and py == 0.0:
            continue
        b[i, AX], b[i, AY] = work[i, ACC_X], work[i, ACC_Y]
        grip = c[SLIDE] * c[GRAVITY]
        if b[i, PHASE] == SLIDING:
            ux, uy = b[i, VX] - b[i, RADIUS] * b[i, WY], b[i, VY] + b[i, RADIUS] * b[i, WX]
            slip = math.hypot(ux, uy)
            fall = 3.5 * grip - (px * ux + py * uy) / slip
            b[i, END] = now + (min(slip / fall, span) if fall > 0.0 else span)
        elif b[i, PHASE] == ROLLING:
            speed = math.hypot(b[i, VX], b[i, VY])
            fall = c[ROLL] * c[GRAVITY] - (px * b[i, VX] + py * b[i, VY]) / speed
            b[i, END] = now + (min(speed / fall, span) if fall > 0.0 else span)
        else:
            b[i, PHASE] = ROLLING
            b[i, END] = now + span
    for k in range(count):
        if contacts[k, C_PUSH] > 0.0:
            i, j = int(contacts[k, C_I]), int(contacts[k, C_J])
            pair[i, j, HOLD] = min(now + span, min(b[i, END], b[j, END]))
