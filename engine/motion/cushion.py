"""Ball on cushion: the rigid-cushion impulse model of 2010.

Mathavan, Jackson & Parkin, "A theoretical analysis of billiard ball dynamics under cushion
impacts", Proc. IMechE C 224 (2010) 1863-1873: the cushion's nose touches above the ball's centre
and pushes it into the cloth; friction acts at nose and cloth at once, against slips that turn as
the impulse grows. Restitution is by the work of the normal impulse. The equations are integrated
over the impulse in `STEPS` steps a stage; friction in a step never does more than stop the slip, so
a gripping contact stays gripped. Fitted by its authors to normal speeds up to
2.5 m/s (`FITTED_TO_MM_S`): above that the answer is an extrapolation.

Scalar functions of plain numbers: the shot kernel compiles this same source.
"""

from __future__ import annotations

import math

from engine.compiled import inlined

FITTED_TO_MM_S = 2500.0
STEPS = 16


@inlined
def _held(
    x0: float,
    z0: float,
    x1: float,
    z1: float,
    give: float,
    most: float,
    fx: float,
    fz: float,
) -> tuple[float, float]:
    """Friction against a slip that would go from (x0, z0) to (x1, z1) without it.

    Full friction `most` against the mean slip (which fx, fz, an earlier guess of the answer,
    lessens), or just what leaves no slip: an impulse j changes the slip by 7/2·j along x and by
    `give`·j along z.
    """
    stop_x, stop_z = x1 / 3.5, z1 / give
    # plain squares: these are nothing near overflow, and libm's hypot took a third of a shot
    if stop_x * stop_x + stop_z * stop_z <= most * most:
        return -stop_x, -stop_z
    mx, mz = x0 + x1 + 3.5 * fx, z0 + z1 + give * fz
    mean = math.sqrt(mx * mx + mz * mz)
    if mean <= 0.0:
        return 0.0, 0.0
    return -most * mx / mean, -most * mz / mean


@inlined
def _step(
    a: float, b: float, p: float, q: float, z: float, c: float, s: float,
    grip: float, cloth: float, dp: float,
) -> tuple[float, float, float, float, float]:  # fmt: skip
    """State (vx, vy, R·wx, R·wy, R·wz) after the normal impulse `dp` (per mass).

    y points into the cushion, z up; (0, c, s) is the way from the centre to the nose. Two
    passes, so that each friction sees what the other does within the step.
    """
    nose_x, nose_z = a + q * s - z * c, p - b * s
    low_x, low_y = a - q, b + p
    fx = fz = gx = gy = 0.0
    for _ in range(2):
        fx, fz = _held(
            nose_x, nose_z,
            nose_x + gx * (1.0 - 2.5 * s), nose_z + s * c * dp + gy * (2.5 - s),
            2.5 + s * s, grip * dp, fx, fz,
        )  # fmt: skip
        gx, gy = _held(
            low_x, low_y,
            low_x + fx * (1.0 - 2.5 * s), low_y - c * dp + fz * (2.5 - s),
            3.5, cloth * max(s * dp - fz * c, 0.0), gx, gy,
        )  # fmt: skip
    return (
        a + fx + gx,
        b - c * dp - fz * s + gy,
        p + 2.5 * (fz + gy),
        q + 2.5 * (fx * s - gx),
        z - 2.5 * fx * c,
    )


@inlined
def cushion_impact(
    vx: float, vy: float, wx: float, wy: float, wz: float, nx: float, ny: float, radius: float,
    restitution: float, grip: float, height_ratio: float, cloth: float,
) -> tuple[float, float, float, float, float]:  # fmt: skip
    """Velocity (mm/s) and spin (rad/s) after a cushion; (nx, ny) is the unit way into it.

    `grip` is the friction at the nose, `cloth` at the bed, `height_ratio` the nose's height
    over the radius. Returns (vx, vy, wx, wy, wz); a ball not moving into the cushion is returned
    unchanged.
    """
    b1 = vx * nx + vy * ny
    if b1 <= 0.0:
        return vx, vy, wx, wy, wz
    # own axes: x along the cushion, y into it; spins as rim speeds
    a1 = vx * ny - vy * nx
    p1 = (wx * ny - wy * nx) * radius
    q1 = (wx * nx + wy * ny) * radius
    z1 = wz * radius
    s = height_ratio - 1.0
    c = math.sqrt(1.0 - s * s)
    dp = b1 / (c * STEPS)
    work = 0.0
    # compression: until the ball no longer moves into the cushion
    for _ in range(200 * STEPS):
        a2, b2, p2, q2, z2 = _step(a1, b1, p1, q1, z1, c, s, grip, cloth, dp)
        if b2 <= 0.0:
            part = b1 / (b1 - b2)
            a2, b2, p2, q2, z2 = _step(a1, b1, p1, q1, z1, c, s, grip, cloth, dp * part)
            work += 0.5 * b1 * dp * part
            a1, p1, q1, z1 = a2, p2, q2, z2
            b1 = 0.0
            break
        work += 0.5 * (b1 + b2) * dp
        a1, b1, p1, q1, z1 = a2, b2, p2, q2, z2
    # restitution: until the cushion has given back e² of the work
    left = restitution * restitution * work
    for _ in range(200 * STEPS):
        if left <= 0.0:
            break
        a2, b2, p2, q2, z2 = _step(a1, b1, p1, q1, z1, c, s, grip, cloth, dp)
        given = -0.5 * (b1 + b2) * dp
        if given >= left:
            # b falls evenly within the step: b1·x + (b2 − b1)·x²/2 = −left/dp
            slope = b2 - b1
            root = math.sqrt(max(b1 * b1 - 2.0 * slope * left / dp, 0.0))
            part = (-b1 - root) / slope
            a1, b1, p1, q1, z1 = _step(a1, b1, p1, q1, z1, c, s, grip, cloth, dp * part)
            break
        left -= given
        a1, b1, p1, q1, z1 = a2, b2, p2, q2, z2
    b1 = min(b1, 0.0)
    return (
        a1 * ny + b1 * nx,
        -a1 * nx + b1 * ny,
        (p1 * ny + q1 * nx) / radius,
        (-p1 * nx + q1 * ny) / radius,
        z1 / radius,
    )


@inlined
def level_impact(
    vx: float, vy: float, wx: float, wy: float, nx: float, ny: float, radius: float,
    restitution: float, height_ratio: float,
) -> tuple[float, float, float, float]:  # fmt: skip
    """Velocity and level spin after a cushion that pushes level at its height and does not rub.

    The 7/10 rule in closed form: the spin changes by (5/2)(h/R − 1) of the change of speed over
    the radius. Returns (vx, vy, wx, wy); a ball not moving into the cushion is left alone.

    >>> _, vy, wx, _ = level_impact(0.0, 1000.0, -40.0, 0.0, 0.0, 1.0, 25.0, 0.85, 1.4)
    >>> vy, round(wx, 9)    # rolls in, rolls out
    (-850.0, 34.0)
    """
    into = vx * nx + vy * ny
    if into <= 0.0:
        return vx, vy, wx, wy
    change = (1.0 + restitution) * into
    turn = 2.5 * (height_ratio - 1.0) * change / radius
    return vx - change * nx, vy - change * ny, wx + turn * ny, wy - turn * nx
