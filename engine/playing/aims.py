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
def _wrapped(angle):
    """An angle brought within ±π."""
    return math.atan2(math.sin(angle), math.cos(angle))


@inlined
def _stray(centres, line, cue, ball, speed, tip, side, sizes, c):
    """(how far off `line` the object ball leaves, aim direction, state) for a line of centres."""
    r, m, ball_r, ball_m = sizes[0], sizes[1], sizes[2], sizes[3]
    touch = 2.0 * math.sqrt(r * ball_r)
    contact_x = ball[0] - touch * math.cos(centres)
    contact_y = ball[1] - touch * math.sin(centres)
    far = math.hypot(contact_x - cue[0], contact_y - cue[1])
    way = centres if far < 1e-6 else math.atan2(contact_y - cue[1], contact_x - cue[0])
    if math.cos(way - centres) <= 0.0:
        return 0.0, way, BEHIND
    v, s, turning = arrival_state(far, speed, tip, side, r, c[SLIDE], c[ROLL], c[GRAVITY], c[DECAY])
    if v <= 0.0:
        return 0.0, way, SHORT
    hx, hy = math.cos(way), math.sin(way)
    turn = s * v / r
    after = ball_impact(
        v * hx, v * hy, -turn * hy, turn * hx, turning, r, m,
        0.0, 0.0, 0.0, 0.0, 0.0, ball_r, ball_m, math.cos(centres), math.sin(centres),
        c[BALL_E], c[B_BASE], c[B_EXTRA], c[B_DECAY],
    )  # fmt: skip
    return _wrapped(math.atan2(after[6], after[5]) - line), way, AIMED


@compiled
def aim_many(
    cue: Floats2, ball: Floats2, line: Floats1, speed: Floats1, tip: Floats1, side: Floats1,
    sizes: Floats1, c: Floats1, allow_for_throw: bool, direction: Floats1, state: Ints1,
) -> None:  # fmt: skip
    """Fill `direction` (N,) and `state` (N,) for cue and ball places (N or 1, 2), lines (N or 1,).

    The object ball leaves along `line` (radians). Without `allow_for_throw`, or where the cue
    ball does not get there, the line of centres is the line. `sizes` as of `sizes_of`.
    """
    for k in range(speed.shape[0]):
        at, to = cue[k if cue.shape[0] > 1 else 0], ball[k if ball.shape[0] > 1 else 0]
        goal = line[k if line.shape[0] > 1 else 0]
        x0 = goal
        f0, way, found = _stray(x0, goal, at, to, speed[k], tip[k], side[k], sizes, c)
        direction[k], state[k] = way, found
        if found != AIMED or not allow_for_throw or abs(f0) < AIM_RAD:
            continue
        x1 = x0 - f0
        for _ in range(TRIES):
            f1, way, found = _stray(x1, goal, at, to, speed[k], tip[k], side[k], sizes, c)
            if found != AIMED:
                break
            if abs(f1) < AIM_RAD or f1 == f0:
                direction[k] = way
                break
            x0, x1, f0 = x1, x1 - f1 * (x1 - x0) / (f1 - f0), f1


def sizes_of(conditions: Conditions) -> np.ndarray:
    """Radius and mass of the cue ball, radius and mass of the others, (4,)."""
    c = conditions
    return np.array([c.cue_radius_mm, c.cue_ball_kg, c.ball_radius_mm, c.ball_mass_kg])
