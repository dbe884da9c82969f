"""Resolving contacts: one pair, several pairs at once, a cushion or a jaw.

Pairs that touch in the same instant and share a ball are resolved together, so that the order in
which balls are listed decides nothing: normal impulses by projected relaxation until every
contact parts as restitution asks, friction from those impulses, applied at once. A push that
reaches a further touching ball is a contact of its own in the same instant.
"""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import jit
from engine.motion.cushion import cushion_impact, level_impact
from engine.motion.impact import ball_impact, contact_slip, friction_impulse, tilt
from engine.shot.layout import (
    B_BASE,
    B_DECAY,
    B_EXTRA,
    BALL_E,
    CUSHION_E,
    GRIP,
    LEVEL,
    MASS,
    NOSE,
    NOSE_R,
    RADIUS,
    SLIDE,
    VX,
    VY,
    WX,
    WY,
    WZ,
    X,
    Y,
)  # fmt: skip
from engine.shot.meetings import LOOSE

RELAXATIONS = 1000


@jit
def part_pair(b, i, j, c):
    """Resolve the contact of balls i and j."""
    dx, dy = b[j, X] - b[i, X], b[j, Y] - b[i, Y]
    far = math.hypot(dx, dy)
    nx, ny = dx / far, dy / far
    approach = (b[i, VX] - b[j, VX]) * nx + (b[i, VY] - b[j, VY]) * ny
    rebound = c[BALL_E] if approach > LOOSE else 0.0
    (
        b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ],
        b[j, VX], b[j, VY], b[j, WX], b[j, WY], b[j, WZ],
    ) = ball_impact(
        b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ], b[i, RADIUS], b[i, MASS],
        b[j, VX], b[j, VY], b[j, WX], b[j, WY], b[j, WZ], b[j, RADIUS], b[j, MASS],
        nx, ny, rebound, c[B_BASE], c[B_EXTRA], c[B_DECAY],
    )  # fmt: skip


@jit
def part_group(b, pairs, count, c):
    """Resolve several contacts of one instant together: the first `count` rows of `pairs`."""
    normal = np.empty((count, 2))
    target = np.empty(count)
    impulse = np.zeros(count)
    sharing = np.zeros(b.shape[0])
    for k in range(count):
        i, j = pairs[k, 0], pairs[k, 1]
        dx, dy = b[j, X] - b[i, X], b[j, Y] - b[i, Y]
        far = math.hypot(dx, dy)
        normal[k, 0], normal[k, 1] = dx / far, dy / far
        approach = (b[i, VX] - b[j, VX]) * normal[k, 0] + (b[i, VY] - b[j, VY]) * normal[k, 1]
        target[k] = -(c[BALL_E] if approach > LOOSE else 0.0) * max(approach, 0.0)
        sharing[i] += 1.0
        sharing[j] += 1.0
    # normal impulses: each contact ends at its target, and none pulls
    for _ in range(RELAXATIONS):
        change = 0.0
        for k in range(count):
            i, j = pairs[k, 0], pairs[k, 1]
            nx, ny = normal[k, 0], normal[k, 1]
            approach = (b[i, VX] - b[j, VX]) * nx + (b[i, VY] - b[j, VY]) * ny
            reduced = b[i, MASS] * b[j, MASS] / (b[i, MASS] + b[j, MASS])
            new = max(impulse[k] + reduced * (approach - target[k]), 0.0)
            step = new - impulse[k]
            impulse[k] = new
            b[i, VX] -= step * nx / b[i, MASS]
            b[i, VY] -= step * ny / b[i, MASS]
            b[j, VX] += step * nx / b[j, MASS]
            b[j, VY] += step * ny / b[j, MASS]
            change = max(change, abs(step) / reduced)
        if change < 1e-12:
            break
    # friction from those impulses, found for all before any is applied
    friction = np.empty((count, 2))
    for k in range(count):
        i, j = pairs[k, 0], pairs[k, 1]
        along, upright = contact_slip(
            b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ], b[i, RADIUS],
            b[j, VX], b[j, VY], b[j, WX], b[j, WY], b[j, WZ], b[j, RADIUS],
            normal[k, 0], normal[k, 1],
        )  # fmt: skip
        reduced = b[i, MASS] * b[j, MASS] / (b[i, MASS] + b[j, MASS])
        cos, _ = tilt(b[i, RADIUS], b[j, RADIUS])
        friction[k, 0], friction[k, 1] = friction_impulse(
            along, upright, impulse[k] / cos, reduced, c[B_BASE], c[B_EXTRA], c[B_DECAY],
            1.0 / max(sharing[i], sharing[j]),
        )  # fmt: skip
    for k in range(count):
        nx, ny, fa, fu = normal[k, 0], normal[k, 1], friction[k, 0], friction[k, 1]
        cos, sin = tilt(b[pairs[k, 0], RADIUS], b[pairs[k, 1], RADIUS])
        for side in range(2):
            i, way = pairs[k, side], 1.0 - 2.0 * side
            turn = 2.5 / (b[i, MASS] * b[i, RADIUS])
            b[i, VX] -= way * fa * ny / b[i, MASS]
            b[i, VY] += way * fa * nx / b[i, MASS]
            b[i, WX] += turn * fu * ny
            b[i, WY] -= turn * fu * nx
            b[i, WZ] += turn * fa
            if sin != 0.0:
                b[i, WX] -= turn * fa * sin * nx
                b[i, WY] -= turn * fa * sin * ny
                b[i, WZ] += turn * fa * (cos - 1.0)


@jit
def part_cushion(b, i, nx, ny, c):
    """Resolve ball i's contact with a cushion; (nx, ny) is the unit way into it."""
    approach = b[i, VX] * nx + b[i, VY] * ny
    if 0.0 < approach <= LOOSE:
        # a soft touch: the cushion takes the approach and nothing else
        b[i, VX] -= approach * nx
        b[i, VY] -= approach * ny
        return
    # the nose's height is stated over the object balls' radius
    nose = c[NOSE]
    if b[i, RADIUS] != c[NOSE_R]:
        nose *= c[NOSE_R] / b[i, RADIUS]
    if c[LEVEL] > 0.0:
        b[i, VX], b[i, VY], b[i, WX], b[i, WY] = level_impact(
            b[i, VX], b[i, VY], b[i, WX], b[i, WY], nx, ny, b[i, RADIUS], c[CUSHION_E], nose
        )
        return
    b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ] = cushion_impact(
        b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ], nx, ny, b[i, RADIUS],
        c[CUSHION_E], c[GRIP], nose, c[SLIDE],
    )  # fmt: skip
