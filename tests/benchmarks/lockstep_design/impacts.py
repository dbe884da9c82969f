"""Lock-step design: many impacts at once, ball on ball and ball on cushion.

The same equations as `engine.motion`, with masks in place of branches. How far a cushion impact is
followed differs from one to the next, so those are the engine's own, compiled, one after the other.
"""

from __future__ import annotations

import numpy as np

from engine.shot.layout import (
    B_BASE,
    B_DECAY,
    B_EXTRA,
    BALL_E,
    CUSHION_E,
    GRIP,
    MASS,
    NOSE,
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
from tests.benchmarks.compiled_cushion import many_impacts


def part_pairs(one: np.ndarray, two: np.ndarray, c: np.ndarray) -> None:
    """Resolve contacts between the rows of `one` and `two`, each (BALL_COLUMNS, k), in place."""
    dx, dy = two[X] - one[X], two[Y] - one[Y]
    far = np.sqrt(dx * dx + dy * dy)
    nx, ny = dx / far, dy / far
    approach = (one[VX] - two[VX]) * nx + (one[VY] - two[VY]) * ny
    rebound = np.where(approach > LOOSE, c[BALL_E], 0.0)
    reduced = one[MASS] * two[MASS] / (one[MASS] + two[MASS])
    normal = np.where(approach > 0.0, (1.0 + rebound) * reduced * approach, 0.0)
    along = (two[VX] - one[VX]) * ny + (one[VY] - two[VY]) * nx
    along += one[RADIUS] * one[WZ] + two[RADIUS] * two[WZ]
    upright = one[RADIUS] * (one[WX] * ny - one[WY] * nx)
    upright += two[RADIUS] * (two[WX] * ny - two[WY] * nx)
    slip = np.sqrt(along * along + upright * upright)
    friction = c[B_BASE] + c[B_EXTRA] * np.exp(-c[B_DECAY] * slip * 1e-3)
    size = np.minimum(friction * normal, 2.0 / 7.0 * reduced * slip)
    size = np.where((slip > 0.0) & (approach > 0.0), size / slip, 0.0)
    fa, fu = -size * along, -size * upright
    jx, jy = -normal * nx - fa * ny, -normal * ny + fa * nx
    for b, way in ((one, 1.0), (two, -1.0)):
        turn = 2.5 / (b[MASS] * b[RADIUS])
        b[VX] += way * jx / b[MASS]
        b[VY] += way * jy / b[MASS]
        b[WX] += turn * fu * ny
        b[WY] -= turn * fu * nx
        b[WZ] += turn * fa


def part_cushions(b: np.ndarray, nx: np.ndarray, ny: np.ndarray, c: np.ndarray) -> None:
    """Resolve contacts of the rows of `b` (BALL_COLUMNS, k) with cushions, in place.

    (nx, ny) are the unit ways into the cushion.
    """
    approach = b[VX] * nx + b[VY] * ny
    soft = (approach > 0.0) & (approach <= LOOSE)
    b[VX] -= np.where(soft, approach * nx, 0.0)
    b[VY] -= np.where(soft, approach * ny, 0.0)
    hard = np.flatnonzero(approach > LOOSE)
    if not len(hard):
        return
    h, nx, ny = b[:, hard], nx[hard], ny[hard]
    cushion = (c[CUSHION_E], c[GRIP], c[NOSE], c[SLIDE])
    before = np.empty((len(hard), 12))
    for k, column in enumerate((h[VX], h[VY], h[WX], h[WY], h[WZ], nx, ny, h[RADIUS], *cushion)):
        before[:, k] = column
    after = np.empty((len(hard), 5))
    many_impacts()(before, after)
    b[VX, hard], b[VY, hard], b[WX, hard], b[WY, hard], b[WZ, hard] = after.T
