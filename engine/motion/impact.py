"""Ball on ball: one impulse with restitution and speed-dependent friction, spin in three axes.

Normal impulse J = (1 + e)·m'·v_n with the reduced mass m'; friction J_t = min(μ_b(u)·J, what
stops the slip), against the slip u of the touching points, which has a part along the cloth
(throw) and an upright part (transferred top or screw). The balls stay on the cloth: the upright
part changes spin only. Throw as in Alciatore TP A.14; friction fit to Marlow 1995, Table 10, in
Alciatore TP A.28 (2007).

Balls of unequal radii touch along a tilted line of centres, n₃ = cos α·n + sin α·ẑ with
cos α = 2√(R1·R2)/(R1 + R2) and sin α = (R2 − R1)/(R1 + R2). As both stay on the cloth (the bed
takes what pushes the smaller ball down; the larger one's hop is left out), their vertical speeds
are nothing before and after, cos α falls out of (v1 − v2)·n₃, and restitution along n₃ is
restitution along n: the horizontal impulse is (1 + e)·m'·v_n for unequal radii too, exactly. The
tilt is kept where it stays: in the force between the balls, (1 + e)·m'·v_n/cos α, which limits
friction, in the slip and in the torque. Left out: the upright slip sin α·v_n of the approach,
which turns round during the contact, and the hop. For balls of 50.8 and 47.6 mm (sin α = 0.0325)
at 2 m/s the hop is 0.16 mm high and lasts 12 ms, and the approach adds at most 0.065 m/s to the
slip.

Scalar functions of plain numbers: the shot kernel compiles this same source.
"""

from __future__ import annotations

import math

from engine.compiled import inlined


@inlined
def ball_friction(slip_mm_s: float, base: float, extra: float, decay_s_m: float) -> float:
    """Friction between balls at a slip speed: base + extra·exp(−decay·u), u in m/s.

    >>> round(ball_friction(707.0, 0.009951, 0.108, 1.088), 3)
    0.06
    """
    return base + extra * math.exp(-decay_s_m * slip_mm_s * 1e-3)


@inlined
def tilt(r1: float, r2: float) -> tuple[float, float]:
    """cos α and sin α of the line of centres' tilt, upwards from ball 1 to a larger ball 2.

    >>> tilt(26.25, 26.25)
    (1.0, 0.0)
    """
    if r1 == r2:
        return 1.0, 0.0
    return 2.0 * math.sqrt(r1 * r2) / (r1 + r2), (r2 - r1) / (r1 + r2)


@inlined
def contact_slip(
    v1x: float, v1y: float, w1x: float, w1y: float, w1z: float, r1: float,
    v2x: float, v2y: float, w2x: float, w2y: float, w2z: float, r2: float,
    nx: float, ny: float,
) -> tuple[float, float]:  # fmt: skip
    """Slip of ball 1's touching point over ball 2's: along the cloth (t = ẑ×n) and upright.

    Upright is n₃×t: up for equal balls, leaning back by the tilt for unequal ones.
    """
    along = -(v1x - v2x) * ny + (v1y - v2y) * nx + r1 * w1z + r2 * w2z
    if r1 != r2:
        cos, sin = tilt(r1, r2)
        turn = r1 * w1z + r2 * w2z
        roll = r1 * (w1x * nx + w1y * ny) + r2 * (w2x * nx + w2y * ny)
        along += (cos - 1.0) * turn - sin * roll
    upright = r1 * (w1x * ny - w1y * nx) + r2 * (w2x * ny - w2y * nx)
    return along, upright


@inlined
def friction_impulse(
    along: float, upright: float, normal_impulse: float, reduced_mass: float,
    base: float, extra: float, decay_s_m: float, share: float,
) -> tuple[float, float]:  # fmt: skip
    """Friction impulse on ball 1, along the cloth and upright, for a normal impulse.

    At most what stops the slip, 2/7·m'·|u|, times `share` (1 for a single contact).
    """
    slip = math.sqrt(along * along + upright * upright)
    if slip <= 0.0:
        return 0.0, 0.0
    size = min(
        ball_friction(slip, base, extra, decay_s_m) * normal_impulse,
        share * 2.0 / 7.0 * reduced_mass * slip,
    )
    return -size * along / slip, -size * upright / slip


@inlined
def ball_impact(
    v1x: float, v1y: float, w1x: float, w1y: float, w1z: float, r1: float, m1: float,
    v2x: float, v2y: float, w2x: float, w2y: float, w2z: float, r2: float, m2: float,
    nx: float, ny: float, restitution: float, base: float, extra: float, decay_s_m: float,
) -> tuple[float, float, float, float, float, float, float, float, float, float]:  # fmt: skip
    """Velocities and spins of both balls after contact.

    n is the unit line of centres as seen from above, from ball 1 to ball 2.
    Returns (v1x, v1y, w1x, w1y, w1z, v2x, v2y, w2x, w2y, w2z). Balls that are not approaching
    come back as they went in.
    """
    approach = (v1x - v2x) * nx + (v1y - v2y) * ny
    if approach <= 0.0:
        return v1x, v1y, w1x, w1y, w1z, v2x, v2y, w2x, w2y, w2z
    reduced = m1 * m2 / (m1 + m2)
    normal = (1.0 + restitution) * reduced * approach
    along, upright = contact_slip(v1x, v1y, w1x, w1y, w1z, r1, v2x, v2y, w2x, w2y, w2z, r2, nx, ny)
    cos, sin = tilt(r1, r2)
    fa, fu = friction_impulse(along, upright, normal / cos, reduced, base, extra, decay_s_m, 1.0)
    jx = -normal * nx - fa * ny
    jy = -normal * ny + fa * nx
    # the torque n₃ × F is the same for both balls: the arm and the force both turn round
    k1, k2 = 2.5 / (m1 * r1), 2.5 / (m2 * r2)
    tx, ty, tz = fu * ny, -fu * nx, fa
    if r1 != r2:
        tx, ty, tz = tx - fa * sin * nx, ty - fa * sin * ny, fa * cos
    return (
        v1x + jx / m1, v1y + jy / m1, w1x + k1 * tx, w1y + k1 * ty, w1z + k1 * tz,
        v2x - jx / m2, v2y - jy / m2, w2x + k2 * tx, w2y + k2 * ty, w2z + k2 * tz,
    )  # fmt: skip
