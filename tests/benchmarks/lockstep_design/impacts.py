"""Lock-step design: many impacts at once, ball on ball and ball on cushion.

The same equations and the same steps as `engine.motion`, with masks in place of branches.
"""

from __future__ import annotations

import math

import numpy as np

from engine.motion.cushion import STEPS
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

Five = tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray]


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


def _held(
    x0: np.ndarray, z0: np.ndarray, x1: np.ndarray, z1: np.ndarray, give: float,
    most: np.ndarray, fx: np.ndarray | float, fz: np.ndarray | float,
) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """Friction against a slip: full against the mean slip, or just what stops it."""
    stop_x, stop_z = x1 / -3.5, z1 / -give
    mx, mz = x0 + x1 + 3.5 * fx, z0 + z1 + give * fz
    mean = np.sqrt(mx * mx + mz * mz)
    full = np.where(mean > 0.0, -most / mean, 0.0)
    stops = stop_x * stop_x + stop_z * stop_z <= most * most
    return np.where(stops, stop_x, full * mx), np.where(stops, stop_z, full * mz)


def _step(v: Five, c: float, s: float, grip: float, cloth: float, dp: np.ndarray) -> Five:
    """State (vx, vy, R·wx, R·wy, R·wz) after the normal impulse `dp`, as in the kernel."""
    a, b, p, q, z = v
    nose_x, nose_z = a + q * s - z * c, p - b * s
    low_x, low_y = a - q, b + p
    most, press_nose, press_low = grip * dp, s * c * dp, c * dp
    fx, fz = _held(nose_x, nose_z, nose_x, nose_z + press_nose, 2.5 + s * s, most, 0.0, 0.0)
    gx, gy = _held(
        low_x, low_y, low_x + fx * (1.0 - 2.5 * s), low_y - press_low + fz * (2.5 - s),
        3.5, cloth * np.maximum(s * dp - fz * c, 0.0), 0.0, 0.0,
    )  # fmt: skip
    fx, fz = _held(
        nose_x, nose_z, nose_x + gx * (1.0 - 2.5 * s), nose_z + press_nose + gy * (2.5 - s),
        2.5 + s * s, most, fx, fz,
    )  # fmt: skip
    gx, gy = _held(
        low_x, low_y, low_x + fx * (1.0 - 2.5 * s), low_y - press_low + fz * (2.5 - s),
        3.5, cloth * np.maximum(s * dp - fz * c, 0.0), gx, gy,
    )  # fmt: skip
    return (
        a + fx + gx,
        b - press_low - fz * s + gy,
        p + 2.5 * (fz + gy),
        q + 2.5 * (fx * s - gx),
        z - 2.5 * fx * c,
    )


def _stage(
    v: Five, dp: np.ndarray, left: np.ndarray | None, values: tuple[float, float, float, float]
) -> tuple[Five, np.ndarray]:
    """Compression (`left` None) or restitution until `left` is given back; (state, work)."""
    done = tuple(part.copy() for part in v)
    work = np.zeros(len(dp))
    live = np.arange(len(dp))
    if left is not None:
        live = np.flatnonzero(left > 0.0)
        v, dp, left = tuple(part[live] for part in v), dp[live], left[live]  # type: ignore[assignment]
    spent = np.zeros(len(live))
    for _ in range(200 * STEPS):
        if not len(live):
            break
        new = _step(v, *values, dp)
        b1, b2 = v[1], new[1]
        if left is None:
            given = 0.5 * (b1 + b2) * dp
            ends = b2 <= 0.0
        else:
            given = -0.5 * (b1 + b2) * dp
            ends = given >= left - spent
        if ends.any():
            at = live[ends]
            old = tuple(part[ends] for part in v)
            if left is None:
                part = b1[ends] / (b1[ends] - b2[ends])
                work[at] = spent[ends] + 0.5 * b1[ends] * dp[ends] * part
            else:
                slope = b2[ends] - b1[ends]
                lost = 2.0 * slope * (left[ends] - spent[ends]) / dp[ends]
                part = (-b1[ends] - np.sqrt(np.maximum(b1[ends] ** 2 - lost, 0.0))) / slope
            last = _step(old, *values, dp[ends] * part)  # type: ignore[arg-type]
            for column, result in zip(done, last, strict=True):
                column[at] = result
            stay = ~ends
            live, dp, spent, given = live[stay], dp[stay], spent[stay], given[stay]
            new = tuple(part[stay] for part in new)  # type: ignore[assignment]
            left = None if left is None else left[stay]
        spent = spent + given
        v = new
    if left is None:
        done[1][:] = 0.0
    return done, work  # type: ignore[return-value]


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
    h, nx, ny, approach = b[:, hard], nx[hard], ny[hard], approach[hard]
    r = h[RADIUS]
    s = float(c[NOSE]) - 1.0
    up = math.sqrt(1.0 - s * s)
    state: Five = (
        h[VX] * ny - h[VY] * nx,
        approach,
        (h[WX] * ny - h[WY] * nx) * r,
        (h[WX] * nx + h[WY] * ny) * r,
        h[WZ] * r,
    )
    values = (up, s, float(c[GRIP]), float(c[SLIDE]))
    dp = approach / (up * STEPS)
    state, work = _stage(state, dp, None, values)
    (a, v, p, q, z), _ = _stage(state, dp, c[CUSHION_E] ** 2 * work, values)
    v = np.minimum(v, 0.0)
    b[VX, hard], b[VY, hard] = a * ny + v * nx, -a * nx + v * ny
    b[WX, hard], b[WY, hard] = (p * ny + q * nx) / r, (-p * nx + q * ny) / r
    b[WZ, hard] = z / r
