"""Resolving contacts: one pair, several pairs at once, a cushion or a jaw.

Pairs that touch in the same instant and share a ball are resolved together, so that the order in
which balls are listed decides nothing: normal impulses by projected relaxation until every
contact parts as restitution asks, friction from those impulses, applied at once. A push that
reaches a further touching ball is a contact of its own in the same instant.
"""

from __future__ import annotations

import math

from engine.compiled import inlined
from engine.motion.cushion import cushion_impact, level_impact, restitution_at
from engine.motion.impact import ball_impact, contact_slip, friction_impulse, tilt
from engine.shot.layout import (
    B_BASE,
    B_DECAY,
    B_EXTRA,
    BALL_E,
    C_ALONG,
    C_I,
    C_J,
    C_NX,
    C_NY,
    C_PUSH,
    C_UPRIGHT,
    C_WANTED,
    CUSHION_E,
    CUSHION_FAST,
    CUSHION_SLOW,
    GRIP,
    LEVEL,
    MASS,
    NOSE,
    NOSE_R,
    RADIUS,
    SHARING,
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


@inlined
def line_between(b, i, j):
    """The distance of ball j from ball i, and the unit way there: (mm, x, y)."""
    dx, dy = b[j, X] - b[i, X], b[j, Y] - b[i, Y]
    far = math.sqrt(dx * dx + dy * dy)
    return far, dx / far, dy / far


@inlined
def _approach(b, i, j, nx, ny):
    """How fast balls i and j close along the unit way from i to j."""
    return (b[i, VX] - b[j, VX]) * nx + (b[i, VY] - b[j, VY]) * ny


@inlined
def _push(b, i, x, y):
    """Give ball i an impulse."""
    b[i, VX] += x / b[i, MASS]
    b[i, VY] += y / b[i, MASS]


@inlined
def part_pair(b, i, j, c):
    """Resolve the contact of balls i and j."""
    _, nx, ny = line_between(b, i, j)
    approach = _approach(b, i, j, nx, ny)
    rebound = c[BALL_E] if approach > LOOSE else 0.0
    (
        b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ],
        b[j, VX], b[j, VY], b[j, WX], b[j, WY], b[j, WZ],
    ) = ball_impact(
        b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ], b[i, RADIUS], b[i, MASS],
        b[j, VX], b[j, VY], b[j, WX], b[j, WY], b[j, WZ], b[j, RADIUS], b[j, MASS],
        nx, ny, rebound, c[B_BASE], c[B_EXTRA], c[B_DECAY],
    )  # fmt: skip


@inlined
def part_group(b, contacts, count, c, work):
    """Resolve several contacts of one instant together: the first `count` rows of `contacts`."""
    for i in range(b.shape[0]):
        work[i, SHARING] = 0.0
    for k in range(count):
        i, j = int(contacts[k, C_I]), int(contacts[k, C_J])
        _, nx, ny = line_between(b, i, j)
        contacts[k, C_NX], contacts[k, C_NY], contacts[k, C_PUSH] = nx, ny, 0.0
        approach = _approach(b, i, j, nx, ny)
        contacts[k, C_WANTED] = -(c[BALL_E] if approach > LOOSE else 0.0) * max(approach, 0.0)
        work[i, SHARING] += 1.0
        work[j, SHARING] += 1.0
    # normal impulses: each contact ends at its target, and none pulls
    for _ in range(RELAXATIONS):
        change = 0.0
        for k in range(count):
            i, j = int(contacts[k, C_I]), int(contacts[k, C_J])
            nx, ny = contacts[k, C_NX], contacts[k, C_NY]
            approach = _approach(b, i, j, nx, ny)
            reduced = b[i, MASS] * b[j, MASS] / (b[i, MASS] + b[j, MASS])
            new = max(contacts[k, C_PUSH] + reduced * (approach - contacts[k, C_WANTED]), 0.0)
            step = new - contacts[k, C_PUSH]
            contacts[k, C_PUSH] = new
            _push(b, i, -step * nx, -step * ny)
            _push(b, j, step * nx, step * ny)
            change = max(change, abs(step) / reduced)
        if change < 1e-12:
            break
    # friction from those impulses, found for all before any is applied
    for k in range(count):
        i, j = int(contacts[k, C_I]), int(contacts[k, C_J])
        along, upright = contact_slip(
            b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ], b[i, RADIUS],
            b[j, VX], b[j, VY], b[j, WX], b[j, WY], b[j, WZ], b[j, RADIUS],
            contacts[k, C_NX], contacts[k, C_NY],
        )  # fmt: skip
        reduced = b[i, MASS] * b[j, MASS] / (b[i, MASS] + b[j, MASS])
        cos, _ = tilt(b[i, RADIUS], b[j, RADIUS])
        contacts[k, C_ALONG], contacts[k, C_UPRIGHT] = friction_impulse(
            along, upright, contacts[k, C_PUSH] / cos, reduced, c[B_BASE], c[B_EXTRA], c[B_DECAY],
            1.0 / max(work[i, SHARING], work[j, SHARING]),
        )  # fmt: skip
    for k in range(count):
        nx, ny = contacts[k, C_NX], contacts[k, C_NY]
        fa, fu = contacts[k, C_ALONG], contacts[k, C_UPRIGHT]
        cos, sin = tilt(b[int(contacts[k, C_I]), RADIUS], b[int(contacts[k, C_J]), RADIUS])
        for side in range(2):
            i, way = int(contacts[k, C_I + side]), 1.0 - 2.0 * side
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


@inlined
def part_cushion(b, i, nx, ny, c):
    """Resolve ball i's contact with a cushion; (nx, ny) is the unit way into it."""
    approach = b[i, VX] * nx + b[i, VY] * ny
    if 0.0 < approach <= LOOSE:
        # a soft touch: the cushion takes the approach and nothing else
        b[i, VX] -= approach * nx
        b[i, VY] -= approach * ny
        return
    restitution = restitution_at(approach, c[CUSHION_SLOW], c[CUSHION_E], c[CUSHION_FAST])
    # the nose's height is stated over the object balls' radius
    nose = c[NOSE]
    if b[i, RADIUS] != c[NOSE_R]:
        nose *= c[NOSE_R] / b[i, RADIUS]
    if c[LEVEL] > 0.0:
        b[i, VX], b[i, VY], b[i, WX], b[i, WY] = level_impact(
            b[i, VX], b[i, VY], b[i, WX], b[i, WY], nx, ny, b[i, RADIUS], restitution, nose
        )
        return
    b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ] = cushion_impact(
        b[i, VX], b[i, VY], b[i, WX], b[i, WY], b[i, WZ], nx, ny, b[i, RADIUS],
        restitution, c[GRIP], nose, c[SLIDE],
    )  # fmt: skip
