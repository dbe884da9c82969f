"""A cushion impact in many small steps: slow and sure, for the few that no stretch can follow.

Where friction is strong a ball may creep out of a grip so slowly that its slip is all but nothing
for most of the impact, or be wedged between nose and cloth. Each step finds its friction with the
slip that it leaves behind, so that what grips stays gripped and no energy is won.

Slips, frictions and speeds are those of `engine.motion.rubbing`.
"""

from __future__ import annotations

import math

from engine.compiled import inlined

#: Steps in which the push alone would stop the ball, and how many such times are waited for.
STEPS, LONGEST = 2000, 20


@inlined
def _held(
    x0: float, z0: float, x1: float, z1: float, give: float, most: float, fx: float, fz: float
) -> tuple[float, float]:
    """Friction against a slip that would go from (x0, z0) to (x1, z1) without it.

    Full friction `most` against the mean slip (which fx, fz, an earlier guess of the answer,
    lessens), or just what leaves no slip: an impulse j changes the slip by 7/2·j along x and by
    `give`·j along z.
    """
    stop_x, stop_z = x1 / 3.5, z1 / give
    if stop_x * stop_x + stop_z * stop_z <= most * most:
        return -stop_x, -stop_z
    mx, mz = x0 + x1 + 3.5 * fx, z0 + z1 + give * fz
    mean = math.sqrt(mx * mx + mz * mz)
    if mean <= 0.0:
        return 0.0, 0.0
    return -most * mx / mean, -most * mz / mean


@inlined
def _step(
    nx: float, nz: float, lx: float, ly: float, b: float, h: float,
    s: float, c: float, grip: float, cloth: float,
) -> tuple[float, float, float, float, float]:  # fmt: skip
    """Slips and the speed into the cushion after an impulse `h`.

    Three passes, so that each friction sees what the other does within the step.
    """
    m, j, k = 2.5 + s * s, 2.5 - s, 1.0 - 2.5 * s
    fx = fz = gx = gy = 0.0
    for _ in range(3):
        fx, fz = _held(nx, nz, nx + k * gx, nz + s * c * h + j * gy, m, grip * h, fx, fz)
        most = cloth * max(s * h - c * fz, 0.0)
        gx, gy = _held(lx, ly, lx + k * fx, ly - c * h + j * fz, 3.5, most, gx, gy)
    return (
        nx + 3.5 * fx + k * gx,
        nz + m * fz + j * gy + s * c * h,
        lx + 3.5 * gx + k * fx,
        ly + 3.5 * gy + j * fz - c * h,
        b - c * h - s * fz + gy,
    )


@inlined
def rub_in_steps(
    nx: float, nz: float, lx: float, ly: float, b: float,
    restitution: float, grip: float, s: float, c: float, cloth: float,
) -> tuple[float, float, float, float, float]:  # fmt: skip
    """Slips at the end of an impact, and its whole impulse, from the slips and speed before it."""
    h = b / (c * STEPS)
    impulse = work = left = 0.0
    back = False
    for _ in range(LONGEST * STEPS):
        n1, n2, l1, l2, after = _step(nx, nz, lx, ly, b, h, s, c, grip, cloth)
        ends = work + 0.5 * (b + after) * h <= left if back else after <= 0.0
        part = 1.0
        if ends:
            # the speed changes evenly within a step
            if back:
                root = math.sqrt(max(b * b * h * h + 2.0 * (b - after) * h * (work - left), 0.0))
                part = 2.0 * (work - left) / (root - b * h)
            else:
                part = b / (b - after)
            n1, n2, l1, l2, after = _step(nx, nz, lx, ly, b, part * h, s, c, grip, cloth)
        work += 0.5 * (b + after) * part * h
        impulse += part * h
        nx, nz, lx, ly, b = n1, n2, l1, l2, after
        if ends:
            if back:
                break
            back, b, left = True, 0.0, (1.0 - restitution * restitution) * work
            if left >= work:
                break
    return nx, nz, lx, ly, impulse
