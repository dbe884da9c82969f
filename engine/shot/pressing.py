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

import numpy as np

from engine.compiled import jit
from engine.shot.layout import (
    AX,
    AY,
    END,
    F_AXIS,
    F_IN,
    GRAVITY,
    MASS,
    PHASE,
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
    X,
    Y,
)  # fmt: skip
from engine.shot.lying import NEAR, at_face, gather, join_held, quieten, settle
from engine.shot.segments import begin

#: How far (mm) two pressing balls may drift together or apart before they are looked at anew.
DRIFT = 1e-5
LONGEST_S, SHORTEST_S = 0.05, 5e-4
#: How soon (s) an overlap is made good.
MEND_S = 0.005
SWEEPS = 500


@jit
def _answer(b, i):
    """Acceleration of ball i for a unit force through its centre."""
    return (1.0 if b[i, PHASE] == SLIDING else 5.0 / 7.0) / b[i, MASS]


@jit
def _push_back(b, i, faces, force, answer, acc):
    """Let the faces ball i lies against take its acceleration into them; returns the change."""
    change = 0.0
    for k in range(faces.shape[0]):
        if not at_face(b, i, faces, k):
            continue
        axis, inward = int(faces[k, F_AXIS]), faces[k, F_IN]
        new = max(force[i, axis] - inward * acc[i, axis] / answer[i], 0.0)
        step = new - force[i, axis]
        force[i, axis] = new
        acc[i, axis] += inward * step * answer[i]
        change = max(change, abs(step) * answer[i])
    return change


@jit
def press(b, members, now, hold, contacts, faces, c):
    """Let the balls that lie against the members press on each other; returns whether any do.

    `members` (1 for each ball whose motion has just begun anew) gains those that are drawn in;
    `hold` is set to the time until which a pair presses, 0 for one that does not; `contacts` is
    room for every pair.
    """
    n = b.shape[0]
    join_held(b, members, now, hold, c)
    count = gather(b, members, now, contacts, c)
    for i in range(n):
        for j in range(i + 1, n):
            if members[i] or members[j]:
                hold[i, j] = 0.0
    if count == 0:
        return False
    normal, bias = np.empty((count, 2)), np.empty(count)
    push, answer = np.zeros(count), np.zeros(n)
    acc, force = np.zeros((n, 2)), np.zeros((n, 2))
    for i in range(n):
        if members[i]:
            quieten(b, i)
        answer[i] = _answer(b, i)
    settle(b, contacts, count, answer, faces)
    for i in range(n):
        if members[i]:
            begin(b, i, c)
            answer[i] = _answer(b, i)
        acc[i, 0], acc[i, 1] = b[i, AX], b[i, AY]
    for k in range(count):
        i, j = contacts[k, 0], contacts[k, 1]
        dx, dy = b[j, X] - b[i, X], b[j, Y] - b[i, Y]
        far = math.hypot(dx, dy)
        nx, ny = dx / far, dy / far
        normal[k, 0], normal[k, 1] = nx, ny
        across = (b[j, VY] - b[i, VY]) * nx - (b[j, VX] - b[i, VX]) * ny
        # balls that pass each other part by across²/far; what they overlap they make good
        reach = 2.0 * math.sqrt(b[i, RADIUS] * b[j, RADIUS])
        resting = b[i, PHASE] == STILL and b[j, PHASE] == STILL
        over = 0.0 if resting else min(max(reach - far, 0.0), NEAR)
        bias[k] = across * across / far - 2.0 * over / (MEND_S * MEND_S)
    for _ in range(SWEEPS):
        change = 0.0
        for k in range(count):
            i, j, nx, ny = contacts[k, 0], contacts[k, 1], normal[k, 0], normal[k, 1]
            parting = (acc[j, 0] - acc[i, 0]) * nx + (acc[j, 1] - acc[i, 1]) * ny + bias[k]
            new = max(push[k] - parting / (answer[i] + answer[j]), 0.0)
            step = new - push[k]
            push[k] = new
            acc[i, 0] -= step * nx * answer[i]
            acc[i, 1] -= step * ny * answer[i]
            acc[j, 0] += step * nx * answer[j]
            acc[j, 1] += step * ny * answer[j]
            change = max(change, abs(step) * (answer[i] + answer[j]))
        for i in range(n):
            if members[i]:
                change = max(change, _push_back(b, i, faces, force, answer, acc))
        if change < 1e-9:
            break
    return _hold(b, members, now, hold, contacts, count, normal, push, acc, c)


@jit
def _hold(b, members, now, hold, contacts, count, normal, push, acc, c):
    """Give the balls their shared accelerations and the time until which they hold."""
    pressing = False
    span = LONGEST_S
    for k in range(count):
        if push[k] <= 0.0:
            continue
        pressing = True
        i, j, nx, ny = contacts[k, 0], contacts[k, 1], normal[k, 0], normal[k, 1]
        across = abs((b[j, VY] - b[i, VY]) * nx - (b[j, VX] - b[i, VX]) * ny)
        swing = abs((acc[j, 1] - acc[i, 1]) * nx - (acc[j, 0] - acc[i, 0]) * ny)
        far = math.hypot(b[j, X] - b[i, X], b[j, Y] - b[i, Y])
        # the line between them turns: what is left of the third and fourth order
        turn = 3.0 * across * swing / far
        if turn > 0.0:
            span = min(span, (6.0 * DRIFT / turn) ** (1.0 / 3.0))
        if swing > 0.0:
            span = min(span, (4.0 * far * DRIFT / (swing * swing)) ** 0.25)
    if not pressing:
        return False
    span = max(span, SHORTEST_S)
    for i in range(b.shape[0]):
        if not members[i]:
            continue
        px, py = acc[i, 0] - b[i, AX], acc[i, 1] - b[i, AY]
        if px == 0.0 and py == 0.0:
            continue
        b[i, AX], b[i, AY] = acc[i, 0], acc[i, 1]
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
        if push[k] > 0.0:
            i, j = contacts[k, 0], contacts[k, 1]
            hold[i, j] = min(now + span, min(b[i, END], b[j, END]))
    return True
