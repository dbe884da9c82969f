"""When a ball next meets another ball, a cushion face, a jaw or a fall."""

from __future__ import annotations

import math

from engine.compiled import inlined
from engine.shot.layout import (
    AX,
    AY,
    END,
    F_AT,
    F_AXIS,
    F_FROM,
    F_IN,
    F_TO,
    FALLS,
    HIT_CUSHION,
    HIT_JAW,
    J_LENGTH,
    J_NX,
    J_NY,
    J_RADIUS,
    J_UX,
    J_UY,
    J_X,
    J_Y,
    PHASE,
    POTTED,
    RADIUS,
    STILL,
    VX,
    VY,
    T,
    X,
    Y,
)  # fmt: skip
from engine.shot.roots import NEVER, disc_time, extent

#: Balls and cushions part softly below this approach (mm/s): no rebound.
LOOSE = 1.0
#: How far (mm) a ball is pressed into what it touches before the two are looked at anew.
GIVE = 1e-5
#: How near (mm) counts as touching.
TOUCH = 1e-6


@inlined
def pair_time(b, i, j, now):
    """The time at which balls i and j next touch, within their present segments."""
    pi, pj = b[i, PHASE], b[j, PHASE]
    if pi == POTTED or pj == POTTED or (pi == STILL and pj == STILL):
        return NEVER
    span = min(b[i, END], b[j, END]) - now
    if span <= 0.0:
        return NEVER
    di, dj = now - b[i, T], now - b[j, T]
    px = b[j, X] - b[i, X] + (b[j, VX] + 0.5 * b[j, AX] * dj) * dj
    px -= (b[i, VX] + 0.5 * b[i, AX] * di) * di
    py = b[j, Y] - b[i, Y] + (b[j, VY] + 0.5 * b[j, AY] * dj) * dj
    py -= (b[i, VY] + 0.5 * b[i, AY] * di) * di
    vx = b[j, VX] + b[j, AX] * dj - b[i, VX] - b[i, AX] * di
    vy = b[j, VY] + b[j, AY] * dj - b[i, VY] - b[i, AY] * di
    reach = 2.0 * math.sqrt(b[i, RADIUS] * b[j, RADIUS])
    return now + disc_time(
        px, py, vx, vy, b[j, AX] - b[i, AX], b[j, AY] - b[i, AY], reach, span, GIVE
    )


@inlined
def line_time(p, v, a, span):
    """Time in [0, span] at which the room p + v·t + ½a·t² to a cushion line falls to nothing.

    inf if it does not; 0 for a ball at or beyond the line and moving out, or pulled out.
    """
    if p <= TOUCH:
        if v < -TOUCH:
            return 0.0
        if a >= 0.0:
            return NEVER
        # it leaves and is pulled back; one that stays beyond comes back to where it is
        up = max(v, 0.0)
        disc = up * up - 2.0 * a * p
        t = (up + (math.sqrt(disc) if disc > 0.0 else up)) / -a
        return t if t <= span else NEVER
    if a == 0.0:
        if v >= 0.0:
            return NEVER
        t = -p / v
        return t if t <= span else NEVER
    if (v >= 0.0 or a <= 0.0) and (a >= 0.0 or p + (v + 0.5 * a * span) * span > TOUCH):
        # it only grows, or it is least at either end and there is some at both
        return NEVER
    disc = v * v - 2.0 * a * p
    if disc <= 0.0:
        return NEVER
    # the root at which the room is falling: v + a·t = −√disc
    root = math.sqrt(disc)
    t = 2.0 * p / (root - v) if v < 0.0 else -(v + root) / a
    return t if 0.0 < t <= span else NEVER


@inlined
def facing_time(jaws, k, px, py, vx, vy, ax, ay, r, span):
    """Time in [0, span] at which a ball of radius r meets the straight jaw k; inf if it does not.

    (px, py) is its centre from the jaw's start. The room to a line falls to nothing once at most
    in a segment, so one look is enough.
    """
    nx, ny, ux, uy = jaws[k, J_NX], jaws[k, J_NY], jaws[k, J_UX], jaws[k, J_UY]
    t = line_time(nx * px + ny * py - r, nx * vx + ny * vy, nx * ax + ny * ay, span)
    if t > span:
        return NEVER
    x, y = px + (vx + 0.5 * ax * t) * t, py + (vy + 0.5 * ay * t) * t
    return t if 0.0 <= ux * x + uy * y <= jaws[k, J_LENGTH] else NEVER


@inlined
def own_meeting(b, i, faces, jaws, falls):
    """What ball i meets next besides balls: (time, cause, index); cause 0 is its segment's end."""
    best, cause, index = b[i, END], 0, -1
    phase = b[i, PHASE]
    if phase in (POTTED, STILL):
        return best, cause, index
    r, x, y = b[i, RADIUS], b[i, X], b[i, Y]
    vx, vy, ax, ay = b[i, VX], b[i, VY], b[i, AX], b[i, AY]
    span = best - b[i, T]
    beyond = False
    for k in range(faces.shape[0]):
        inward, at = faces[k, F_IN], faces[k, F_AT]
        if faces[k, F_AXIS] == 0.0:
            room, speed, pull = inward * (x - at) - r, inward * vx, inward * ax
            s0, sv, sa = y, vy, ay
        else:
            room, speed, pull = inward * (y - at) - r, inward * vy, inward * ay
            s0, sv, sa = x, vx, ax
        # the line is met at `line`, but a face only if within its stretch
        line = line_time(room, speed, pull, span)
        if room < -TOUCH:
            beyond = True
        if line <= span:
            place = s0 + (sv + 0.5 * sa * line) * line
            if faces[k, F_FROM] <= place <= faces[k, F_TO]:
                if b[i, T] + line < best:
                    best, cause, index = b[i, T] + line, HIT_CUSHION, k
            else:
                beyond = True
    if beyond:
        span = best - b[i, T]
        left, right = extent(x, vx, ax, span)
        low, high = extent(y, vy, ay, span)
        for k in range(falls.shape[0]):
            reach = falls[k, 2]
            px, py = x - falls[k, 0], y - falls[k, 1]
            if right - x + px < -reach or left - x + px > reach:
                continue
            if high - y + py < -reach or low - y + py > reach:
                continue
            if px * px + py * py < reach * reach:
                return b[i, T], FALLS, k
            t = b[i, T] + disc_time(px, py, vx, vy, ax, ay, reach, span, GIVE)
            if t < best:
                best, cause, index = t, FALLS, k
        for k in range(jaws.shape[0]):
            px, py = x - jaws[k, J_X], y - jaws[k, J_Y]
            reach = max(jaws[k, J_RADIUS], jaws[k, J_LENGTH]) + r
            if right - x + px < -reach or left - x + px > reach:
                continue
            if high - y + py < -reach or low - y + py > reach:
                continue
            if jaws[k, J_LENGTH] > 0.0:
                t = b[i, T] + facing_time(jaws, k, px, py, vx, vy, ax, ay, r, span)
            else:
                t = b[i, T] + disc_time(px, py, vx, vy, ax, ay, reach, span, GIVE)
            if t < best:
                best, cause, index = t, HIT_JAW, k
    return best, cause, index


@inlined
def lean(b, i, faces, jaws):
    """Keep a ball that its spin pulls into a cushion it already touches from pressing through.

    Its acceleration into the face is taken by the cushion; the spin goes on wearing off.
    """
    for k in range(faces.shape[0]):
        axis = int(faces[k, F_AXIS])
        inward = faces[k, F_IN]
        if abs(b[i, VX + axis]) > TOUCH or inward * b[i, AX + axis] >= 0.0:
            continue
        along = b[i, Y] if axis == 0 else b[i, X]
        room = inward * (b[i, X + axis] - faces[k, F_AT]) - b[i, RADIUS]
        if room <= TOUCH and faces[k, F_FROM] <= along <= faces[k, F_TO]:
            b[i, VX + axis] = 0.0
            b[i, AX + axis] = 0.0
    for k in range(jaws.shape[0]):
        if jaws[k, J_LENGTH] == 0.0:
            continue
        nx, ny = jaws[k, J_NX], jaws[k, J_NY]
        speed, pull = nx * b[i, VX] + ny * b[i, VY], nx * b[i, AX] + ny * b[i, AY]
        if abs(speed) > TOUCH or pull >= 0.0:
            continue
        px, py = b[i, X] - jaws[k, J_X], b[i, Y] - jaws[k, J_Y]
        along = jaws[k, J_UX] * px + jaws[k, J_UY] * py
        if abs(nx * px + ny * py - b[i, RADIUS]) <= TOUCH and 0.0 <= along <= jaws[k, J_LENGTH]:
            b[i, VX] -= speed * nx
            b[i, VY] -= speed * ny
            b[i, AX] -= pull * nx
            b[i, AY] -= pull * ny
