"""Ball on cushion: the rigid-cushion impulse model of 2010.

Mathavan, Jackson & Parkin, "A theoretical analysis of billiard ball dynamics under cushion
impacts", Proc. IMechE C 224 (2010) 1863-1873: the cushion's nose touches above the ball's centre
and pushes it into the cloth; friction acts at nose and cloth at once, against slips that turn as
the impulse grows. Restitution is by the work of the normal impulse. The slips are followed in
stretches between the switches from slipping to gripping and back (`engine.motion.rubbing`), to
1e-5 of the incoming speed. Fitted by its authors to normal speeds up to 2.5 m/s
(`FITTED_TO_MM_S`): above that the answer is an extrapolation.

Scalar functions of plain numbers: the shot kernel compiles this same source.
"""

from __future__ import annotations

import math

from engine.compiled import inlined
from engine.motion.rubbing import (
    frictions,
    reach,
    settle,
    slip_rates,
    slipping,
    spare,
    stretch,
)
from engine.motion.small_steps import rub_in_steps

FITTED_TO_MM_S = 2500.0
#: Speeds across the cushion at which its restitution may be stated, slow and fast; the usual value
#: is that of the speed the model was fitted to.
SLOW_MM_S, FAST_MM_S = 500.0, 5000.0
#: A slip of this share of the incoming speed is none, and one that begins is of this share.
NONE, FIRST = 1e-5, 1e-9
#: How far the rates may bend within a stretch, as a share of the incoming speed.
BEND = 0.01
#: How far beyond its limit friction may be when a grip is let go, as a share of the push.
LATE = 5e-4
#: What may be left out where the end is reached by straight rates, as a share of the speed.
LEFT_OUT = 1e-6
#: An impact that takes more is followed in small steps from its beginning.
MOST_STRETCHES = 400


@inlined
def _most_work(b0: float, b1: float, db0: float, db1: float, h: float, whole: float) -> float:
    """The work up to where the speed into the cushion, b0 to b1 over h, comes to nothing.

    The speed is taken as the curve of order four that has these speeds and rates at its ends and
    the work `whole` in between; its root, where the work is greatest, as that of the cubic.
    """
    x = b0 / (b0 - b1)
    for _ in range(3):
        y = 1.0 - x
        speed = y * y * (1.0 + 2.0 * x) * b0 + x * x * (3.0 - 2.0 * x) * b1
        speed += h * x * y * (y * db0 - x * db1)
        slope = 6.0 * x * y * (b1 - b0)
        slope += h * (y * (1.0 - 3.0 * x) * db0 + x * (3.0 * x - 2.0) * db1)
        x -= speed / slope
    of_speeds = b0 * (1.0 - x * x + 0.5 * x * x * x) + b1 * x * x * (1.0 - 0.5 * x)
    of_rates = db0 * x * (0.5 - x / 1.5 + 0.25 * x * x) + db1 * x * x * (0.25 * x - 1.0 / 3.0)
    missing = whole - h * (0.5 * (b0 + b1) + h * (db0 - db1) / 12.0)
    share = x * x * x * (10.0 - 15.0 * x + 6.0 * x * x)
    return h * x * (of_speeds + h * of_rates) + share * missing


@inlined
def _to_end(b: float, db: float, over: float) -> float:
    """The impulse, of either sign, after which `over` of the work is given back at even rates."""
    return (-b - math.sqrt(max(b * b - 2.0 * db * over, 0.0))) / db


@inlined
def _ends(x: float, y: float, dx: float, dy: float, none: float) -> bool:
    """Whether a slip of these rates comes to nothing."""
    return x * x + y * y < none * none and x * dx + y * dy < 0.0


@inlined
def _straight(
    nx: float, nz: float, lx: float, ly: float, held: bool, laid: bool, most: float
) -> bool:
    """Whether no slip is so small that it turns by more than `most` per impulse."""
    turning = 0.0
    if not held:
        turning += 1.0 / (abs(nx) + abs(nz))
    if not laid:
        turning += 1.0 / (abs(lx) + abs(ly))
    return turning < most


@inlined
def _rub(
    nx: float, nz: float, lx: float, ly: float, b: float, unit: float,
    restitution: float, grip: float, s: float, c: float, cloth: float,
) -> tuple[float, float, float, float, float]:  # fmt: skip
    """Slips at the end of an impact, and its whole impulse, from the slips and speed before it.

    The impulse is 0 if no stretches can follow it: a slip creeps, or friction drives the ball on.
    """
    none, first = NONE * unit, FIRST * unit
    held = laid = False
    nose_idle, cloth_idle = nx * nx + nz * nz < none * none, lx * lx + ly * ly < none * none
    if nose_idle or cloth_idle:
        nx, nz, lx, ly, held, laid = settle(
            nx, nz, lx, ly, held, laid, nose_idle, cloth_idle, s, c, grip, cloth, first
        )
    fx, fz, gx, gy = frictions(nx, nz, lx, ly, held, laid, s, c, grip, cloth)
    r1, r2, r3, r4 = slip_rates(fx, fz, gx, gy, s, c)
    impulse = work = 0.0
    kept = 1.0 - restitution * restitution
    left = math.inf  # work at the end, known when the compression is over
    longest = 0.6 * b
    slope = gy - s * fz - c
    for _ in range(MOST_STRETCHES):
        if slope >= 0.0:
            break
        guess = left
        if left == math.inf:
            guess = kept * (work - 0.5 * b * b / slope)
        h = min(_to_end(b, slope, work - guess), longest)
        if not held:
            h = min(h, reach(nx, nz, r1, r2, unit))
        if not laid:
            h = min(h, reach(lx, ly, r3, r4, unit))
        n1, n2, l1, l2, change, mean, bend = stretch(
            nx, nz, lx, ly, r1, r2, r3, r4, held, laid, h, unit, BEND * unit, s, c, grip, cloth
        )
        if bend > BEND * unit:
            longest = h * max(0.3, 0.85 * math.sqrt(math.sqrt(BEND * unit / bend)))
            continue
        room = 1.0
        if not held and not laid:
            fx1, fz1, gx1, gy1 = slipping(n1, n2, l1, l2, s, c, grip, cloth)
        else:
            fx1, fz1, gx1, gy1 = frictions(n1, n2, l1, l2, held, laid, s, c, grip, cloth)
            room = spare(fx1, fz1, gx1, gy1, held, laid, s, c, grip, cloth)
        if room < -LATE:
            before = spare(fx, fz, gx, gy, held, laid, s, c, grip, cloth)
            longest = h * min(max((before + 0.3 * LATE) / (before - room), 0.05), 0.95)
            continue
        speed, steepness, done = b + change, gy1 - s * fz1 - c, work + h * (b + mean)
        if left == math.inf and speed <= 0.0:
            left = kept * (work + _most_work(b, speed, slope, steepness, h, done - work))
        d1, d2, d3, d4 = slip_rates(fx1, fz1, gx1, gy1, s, c)
        rest = math.inf
        if speed < 0.0:
            rest = _to_end(speed, steepness, done - left)
            if abs(rest) < 0.003 * unit and _straight(
                n1, n2, l1, l2, held, laid, LEFT_OUT * unit / (rest * rest + 1e-30)
            ):
                return (
                    n1 + rest * d1,
                    n2 + rest * d2,
                    l1 + rest * d3,
                    l2 + rest * d4,
                    impulse + h + rest,
                )
            if rest < 0.0:
                longest = h + rest
                continue
        shrunk = 1.0
        if not held:
            shrunk = min(shrunk, (n1 * n1 + n2 * n2) / (nx * nx + nz * nz))
        if not laid:
            shrunk = min(shrunk, (l1 * l1 + l2 * l2) / (lx * lx + ly * ly))
        nx, nz, lx, ly, b, work = n1, n2, l1, l2, speed, done
        fx, fz, gx, gy, slope = fx1, fz1, gx1, gy1, steepness
        r1, r2, r3, r4 = d1, d2, d3, d4
        impulse += h
        grown = 0.85 * h * math.sqrt(math.sqrt(BEND * unit / (bend + 1e-9 * unit)))
        longest = min(grown, max(longest, 4.0 * h)) * math.sqrt(shrunk)
        nose_idle, cloth_idle = held and room < 0.0, laid and room < 0.0
        if not held:
            nose_idle = _ends(nx, nz, r1, r2, none)
        if not laid:
            cloth_idle = _ends(lx, ly, r3, r4, none)
        if nose_idle or cloth_idle:
            # what the other contact asks of one that grips changes at once
            nose_idle, cloth_idle = nose_idle or held, cloth_idle or laid
            nx, nz, lx, ly, held, laid = settle(
                nx, nz, lx, ly, held, laid, nose_idle, cloth_idle, s, c, grip, cloth, first
            )
            fx, fz, gx, gy = frictions(nx, nz, lx, ly, held, laid, s, c, grip, cloth)
            r1, r2, r3, r4 = slip_rates(fx, fz, gx, gy, s, c)
            slope = gy - s * fz - c
            longest = math.inf
    return nx, nz, lx, ly, 0.0


@inlined
def restitution_at(into: float, slow: float, usual: float, fast: float) -> float:
    """The restitution of a ball that meets the cushion at the speed `into` across it, mm/s.

    >>> restitution_at(1500.0, 1.0, 0.9, 0.5), restitution_at(9000.0, 1.0, 0.9, 0.5)
    (0.95, 0.5)
    """
    if into < FITTED_TO_MM_S:
        share = max(into - SLOW_MM_S, 0.0) / (FITTED_TO_MM_S - SLOW_MM_S)
        return slow + share * (usual - slow)
    share = min(into, FAST_MM_S) - FITTED_TO_MM_S
    return usual + share / (FAST_MM_S - FITTED_TO_MM_S) * (fast - usual)


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
    b = vx * nx + vy * ny
    if b <= 0.0:
        return vx, vy, wx, wy, wz
    # own axes: x along the cushion, y into it; spins as rim speeds
    a = vx * ny - vy * nx
    p = (wx * ny - wy * nx) * radius
    q = (wx * nx + wy * ny) * radius
    z = wz * radius
    s = height_ratio - 1.0
    c = math.sqrt(1.0 - s * s)
    n1, n2, l1, l2 = a + q * s - z * c, p - b * s, a - q, b + p
    e1, e2, e3, e4, push = _rub(
        n1, n2, l1, l2, b, math.sqrt(a * a + b * b), restitution, grip, s, c, cloth
    )
    if not push > 0.0:
        e1, e2, e3, e4, push = rub_in_steps(n1, n2, l1, l2, b, restitution, grip, s, c, cloth)
    # the whole frictions are what changed the slips so
    m, j, k = 2.5 + s * s, 2.5 - s, 1.0 - 2.5 * s
    n1, n2, l1, l2 = e1 - n1, e2 - n2 - s * c * push, e3 - l1, e4 - l2 + c * push
    along, across = 1.0 / (12.25 - k * k), 1.0 / (2.5 * (1.0 + s) * (1.0 + s))
    fx, gx = (3.5 * n1 - k * l1) * along, (3.5 * l1 - k * n1) * along
    fz, gy = (3.5 * n2 - j * l2) * across, (m * l2 - j * n2) * across
    a += fx + gx
    b = min(b - c * push - s * fz + gy, 0.0) if restitution > 0.0 else 0.0
    p += 2.5 * (fz + gy)
    q += 2.5 * (fx * s - gx)
    z -= 2.5 * fx * c
    return (
        a * ny + b * nx,
        -a * nx + b * ny,
        (p * ny + q * nx) / radius,
        (-p * nx + q * ny) / radius,
        z / radius,
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
