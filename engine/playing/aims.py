"""Aims of many shots at once: the direction that pots the object ball, throw allowed for.

Without ball friction the line of centres is the potting line. With it the object ball is thrown
off that line by an amount that depends on how the cue ball arrives, so each strike turns its line
of centres until the object ball leaves along the potting line. The cue ball goes straight here;
`engine.playing.aiming` plays the shot where it bends.
"""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import Floats1, Floats2, Ints1, compiled, inlined
from engine.conditions import Conditions
from engine.motion.impact import ball_impact
from engine.motion.straight import arrival_state
from engine.shot.layout import B_BASE, B_DECAY, B_EXTRA, BALL_E, DECAY, GRAVITY, ROLL, SLIDE

AIM_RAD = 1e-10
TRIES = 40

# how an aim came out
AIMED, BEHIND, SHORT = 0, 1, 2


@inlined
def _stray(centres, lx, ly, cue, ball, speed, tip, side, sizes, c):
    """(how far off the line (lx, ly) the object ball leaves, the unit way of the aim, state).

    For the line of centres at the angle `centres`.
    """
    r, m, ball_r, ball_m = sizes[0], sizes[1], sizes[2], sizes[3]
    touch = 2.0 * math.sqrt(r * ball_r)
    cx, cy = math.cos(centres), math.sin(centres)
    hx, hy = ball[0] - touch * cx - cue[0], ball[1] - touch * cy - cue[1]
    far = math.sqrt(hx * hx + hy * hy)
    if far < 1e-6:
        hx, hy = cx, cy
    else:
        hx, hy = hx / far, hy / far
    if hx * cx + hy * cy <= 0.0:
        return 0.0, hx, hy, BEHIND
    v, s, turning = arrival_state(far, speed, tip, side, r, c[SLIDE], c[ROLL], c[GRAVITY], c[DECAY])
    if v <= 0.0:
        return 0.0, hx, hy, SHORT
    turn = s * v / r
    after = ball_impact(
        v * hx, v * hy, -turn * hy, turn * hx, turning, r, m,
        0.0, 0.0, 0.0, 0.0, 0.0, ball_r, ball_m, cx, cy,
        c[BALL_E], c[B_BASE], c[B_EXTRA], c[B_DECAY],
    )  # fmt: skip
    vx, vy = after[5], after[6]
    return math.atan2(lx * vy - ly * vx, lx * vx + ly * vy), hx, hy, AIMED


@inlined
def _aim(line, cue, ball, speed, tip, side, sizes, c, allow_for_throw):
    """(direction, state) of one strike; the object ball leaves along `line` (radians)."""
    lx, ly = math.cos(line), math.sin(line)
    x0 = line
    f0, hx, hy, state = _stray(x0, lx, ly, cue, ball, speed, tip, side, sizes, c)
    if state == AIMED and allow_for_throw and abs(f0) >= AIM_RAD:
        x1 = x0 - f0
        for _ in range(TRIES):
            f1, ux, uy, found = _stray(x1, lx, ly, cue, ball, speed, tip, side, sizes, c)
            if found != AIMED:
                break
            if abs(f1) < AIM_RAD or f1 == f0:
                hx, hy = ux, uy
                break
            x0, x1, f0 = x1, x1 - f1 * (x1 - x0) / (f1 - f0), f1
    return math.atan2(hy, hx), state


@compiled
def aim_many(
    cue: Floats2, ball: Floats2, line: Floats1, speed: Floats1, tip: Floats1, side: Floats1,
    sizes: Floats1, c: Floats1, allow_for_throw: bool, direction: Floats1, state: Ints1,
) -> None:  # fmt: skip
    """Fill `direction` (N,) and `state` (N,) for cue and ball places (N or 1, 2), lines (N or 1,).

    The object ball leaves along `line` (radians). Without `allow_for_throw`, or where the cue
    ball does not get there, the line of centres is the line. `sizes` as of `sizes_of`.
    """
    still = cue.shape[0] == 1 and ball.shape[0] == 1 and line.shape[0] == 1
    for k in range(speed.shape[0]):
        b = k - 1 if k else 0
        if k and still and speed[k] == speed[b] and tip[k] == tip[b] and side[k] == side[b]:
            # the same strike again, as when its errors are tried
            direction[k], state[k] = direction[b], state[b]
            continue
        direction[k], state[k] = _aim(
            line[k if line.shape[0] > 1 else 0], cue[k if cue.shape[0] > 1 else 0],
            ball[k if ball.shape[0] > 1 else 0], speed[k], tip[k], side[k], sizes, c,
            allow_for_throw,
        )  # fmt: skip


def sizes_of(conditions: Conditions) -> np.ndarray:
    """Radius and mass of the cue ball, radius and mass of the others, (4,)."""
    c = conditions
    return np.array([c.cue_radius_mm, c.cue_ball_kg, c.ball_radius_mm, c.ball_mass_kg])
