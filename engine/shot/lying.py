"""Balls that lie against each other: touching, neither closing nor parting.

Which they are, and the last slow drift taken out of them, before `engine.shot.pressing` lets them
push on each other.
"""

from __future__ import annotations

import math

from engine.compiled import inlined
from engine.shot.layout import (
    ANSWER,
    AX,
    AY,
    C_I,
    C_J,
    F_AT,
    F_AXIS,
    F_FROM,
    F_IN,
    F_TO,
    HOLD,
    PHASE,
    POTTED,
    PRESSED,
    RADIUS,
    ROLLING,
    STILL,
    VX,
    VY,
    WX,
    WY,
    T,
    X,
    Y,
)  # fmt: skip
from engine.shot.meetings import TOUCH
from engine.shot.segments import advance, begin

#: Balls this near (mm) and this slow against each other along their line (mm/s) lie together.
NEAR = 2e-4
SLOW = 0.5
#: Slip (mm/s) that a ball lying against another may have left when it begins to roll.
CREEP = 1.0
#: Slower than this (mm/s) a ball that lies against another is at rest.
REST = 0.02


@inlined
def _lie_together(b, i, j, now):
    """Whether balls i (at its time) and j touch at the time `now`, neither closing nor parting."""
    if b[i, PHASE] == POTTED or b[j, PHASE] == POTTED:
        return False
    dt = now - b[j, T]
    dx = b[j, X] + (b[j, VX] + 0.5 * b[j, AX] * dt) * dt - b[i, X]
    dy = b[j, Y] + (b[j, VY] + 0.5 * b[j, AY] * dt) * dt - b[i, Y]
    reach = 2.0 * math.sqrt(b[i, RADIUS] * b[j, RADIUS])
    if abs(dx) > reach + NEAR or abs(dy) > reach + NEAR:
        return False
    far = math.hypot(dx, dy)
    if far > reach + NEAR:
        return False
    vx, vy = b[j, VX] + b[j, AX] * dt - b[i, VX], b[j, VY] + b[j, AY] * dt - b[i, VY]
    return abs(vx * dx + vy * dy) <= SLOW * far


@inlined
def gather(b, now, contacts, c, work):
    """List in `contacts` all touching pairs joined to the pressed balls; returns their number.

    Balls that join are brought to `now` and marked as pressed.
    """
    n = b.shape[0]
    count, grown = 0, True
    while grown:
        grown, count = False, 0
        for i in range(n):
            for j in range(i + 1, n):
                if work[i, PRESSED] + work[j, PRESSED] == 0.0:
                    continue
                one, two = (i, j) if work[i, PRESSED] > 0.0 else (j, i)
                if not _lie_together(b, one, two, now):
                    continue
                if work[two, PRESSED] == 0.0:
                    advance(b, two, now, c)
                    work[two, PRESSED] = 1.0
                    grown = True
                contacts[count, C_I], contacts[count, C_J] = i, j
                count += 1
    return count


@inlined
def join_held(b, now, c, work, pair):
    """Draw in the balls the pressed ones were pressing on until now, their motion begun anew."""
    n, grown = b.shape[0], True
    while grown:
        grown = False
        for i in range(n):
            for j in range(n):
                if work[i, PRESSED] == 0.0 or work[j, PRESSED] > 0.0:
                    continue
                if pair[min(i, j), max(i, j), HOLD] > 0.0:
                    advance(b, j, now, c)
                    begin(b, j, c)
                    work[j, PRESSED] = 1.0
                    grown = True


@inlined
def quieten(b, i):
    """Let a ball that all but rolls roll, and one that all but rests rest."""
    if b[i, PHASE] == STILL or b[i, PHASE] == POTTED:
        return
    r = b[i, RADIUS]
    slip = math.hypot(b[i, VX] - r * b[i, WY], b[i, VY] + r * b[i, WX])
    if slip <= CREEP:
        # pressed from aside its slip turns on itself: the cloth takes the rest at once
        b[i, VX] += 2.0 / 7.0 * (r * b[i, WY] - b[i, VX])
        b[i, VY] -= 2.0 / 7.0 * (r * b[i, WX] + b[i, VY])
        b[i, PHASE] = ROLLING
        if math.hypot(b[i, VX], b[i, VY]) < REST:
            b[i, VX] = b[i, VY] = 0.0
            b[i, PHASE] = STILL
        b[i, WX], b[i, WY] = -b[i, VY] / r, b[i, VX] / r


@inlined
def at_face(b, i, faces, k):
    """Whether ball i touches face k, neither closing nor parting."""
    axis = int(faces[k, F_AXIS])
    along = b[i, Y] if axis == 0 else b[i, X]
    room = faces[k, F_IN] * (b[i, X + axis] - faces[k, F_AT]) - b[i, RADIUS]
    lies = room <= TOUCH and abs(b[i, VX + axis]) <= SLOW
    return lies and faces[k, F_FROM] <= along <= faces[k, F_TO]


@inlined
def settle(b, contacts, count, faces, work):
    """Take the last slow drift out of pairs that lie together, keeping their momentum."""
    for _ in range(20):
        for k in range(count):
            i, j = int(contacts[k, C_I]), int(contacts[k, C_J])
            dx, dy = b[j, X] - b[i, X], b[j, Y] - b[i, Y]
            square = dx * dx + dy * dy
            parting = ((b[j, VX] - b[i, VX]) * dx + (b[j, VY] - b[i, VY]) * dy) / square
            if b[i, PHASE] == STILL or b[j, PHASE] == STILL:
                # what rests is not set moving by so little; what comes to it stops
                one = 0.0 if b[i, PHASE] == STILL else parting
            else:
                one = work[i, ANSWER] / (work[i, ANSWER] + work[j, ANSWER]) * parting
            two = 0.0 if b[j, PHASE] == STILL else parting - one
            b[i, VX] += one * dx
            b[i, VY] += one * dy
            b[j, VX] -= two * dx
            b[j, VY] -= two * dy
        for k in range(count):
            for side in range(2):
                i = int(contacts[k, C_I + side])
                for f in range(faces.shape[0]):
                    axis = int(faces[f, F_AXIS])
                    if faces[f, F_IN] * b[i, VX + axis] < 0.0 and at_face(b, i, faces, f):
                        b[i, VX + axis] = 0.0
    for k in range(count):
        for side in range(2):
            i = int(contacts[k, C_I + side])
            if b[i, PHASE] == ROLLING:
                b[i, WX], b[i, WY] = -b[i, VY] / b[i, RADIUS], b[i, VX] / b[i, RADIUS]
