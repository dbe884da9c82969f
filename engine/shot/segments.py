"""Segments: the stretches of constant acceleration a ball's motion is made of."""

from __future__ import annotations

import math

from engine.compiled import inlined
from engine.shot.layout import (
    AX,
    AY,
    DECAY,
    END,
    GRAVITY,
    NAP,
    PHASE,
    POTTED,
    QX,
    QY,
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
    WZ,
    T,
    X,
    Y,
)  # fmt: skip

#: Slips and speeds below this (mm/s) are none.
NOTHING = 1e-6
#: With nap, a rolling ball's direction is taken anew each time its speed has fallen by this share.
TURN_SHARE = 0.3
CRAWL = 5.0


@inlined
def advance(b, i, now, c):
    """Move ball i's row on along its segment to the time `now`."""
    dt = now - b[i, T]
    phase = b[i, PHASE]
    if phase == POTTED:
        b[i, T] = now
        return
    if dt > 0.0 and phase != STILL:
        b[i, X] += (b[i, VX] + 0.5 * b[i, AX] * dt) * dt
        b[i, Y] += (b[i, VY] + 0.5 * b[i, AY] * dt) * dt
        b[i, VX] += b[i, AX] * dt
        b[i, VY] += b[i, AY] * dt
        if phase == SLIDING:
            b[i, WX] += b[i, QX] * dt
            b[i, WY] += b[i, QY] * dt
        else:
            b[i, WX] = -b[i, VY] / b[i, RADIUS]
            b[i, WY] = b[i, VX] / b[i, RADIUS]
    if dt > 0.0:
        wz = b[i, WZ]
        b[i, WZ] = math.copysign(max(abs(wz) - c[DECAY] * dt, 0.0), wz)
    b[i, T] = now


@inlined
def begin(b, i, c):
    """Begin ball i's next segment from its present state: phase, rates and end."""
    r = b[i, RADIUS]
    vx, vy = b[i, VX], b[i, VY]
    ux, uy = vx - r * b[i, WY], vy + r * b[i, WX]
    slip, speed = math.sqrt(ux * ux + uy * uy), math.sqrt(vx * vx + vy * vy)
    b[i, AX] = b[i, AY] = b[i, QX] = b[i, QY] = 0.0
    if slip > NOTHING:
        grip = c[SLIDE] * c[GRAVITY]
        ax, ay = -grip * ux / slip, -grip * uy / slip
        b[i, PHASE] = SLIDING
        b[i, AX], b[i, AY] = ax, ay
        b[i, QX], b[i, QY] = 2.5 * ay / r, -2.5 * ax / r
        b[i, END] = b[i, T] + slip / (3.5 * grip)
    elif speed > NOTHING:
        drag = c[ROLL] * c[GRAVITY]
        hx, hy = vx / speed, vy / speed
        b[i, PHASE] = ROLLING
        b[i, AX], b[i, AY] = -drag * hx, -drag * hy
        b[i, WX], b[i, WY] = -vy / r, vx / r
        b[i, END] = b[i, T] + speed / drag
        if c[NAP] > 0.0:
            # the nap runs up the table and pulls across the ball's line
            pull = c[NAP] * c[GRAVITY] * hx
            b[i, AX] -= pull * hy
            b[i, AY] += pull * hx
            if speed > CRAWL:
                b[i, END] = b[i, T] + TURN_SHARE * speed / drag
    else:
        b[i, PHASE] = STILL
        b[i, VX] = b[i, VY] = b[i, WX] = b[i, WY] = 0.0
        b[i, END] = math.inf


@inlined
def finish(b, i, c):
    """At the end of its segment: a sliding ball now rolls, a rolling ball stops.

    Returns True when the phase changes (with nap a rolling ball only takes its direction anew).
    """
    r = b[i, RADIUS]
    if b[i, PHASE] == SLIDING:
        slip = math.hypot(b[i, VX] - r * b[i, WY], b[i, VY] + r * b[i, WX])
        if slip < 1e-3:
            b[i, WX], b[i, WY] = -b[i, VY] / r, b[i, VX] / r
            return True
        return False
    # with nap, and pressed by another ball, it is looked at anew before it stops
    if math.hypot(b[i, VX], b[i, VY]) > (CRAWL if c[NAP] > 0.0 else 1e-3):
        b[i, WX], b[i, WY] = -b[i, VY] / r, b[i, VX] / r
        return False
    b[i, VX] = b[i, VY] = b[i, WX] = b[i, WY] = 0.0
    return True
