"""Friction at the cushion's nose and at the cloth during an impact: slips, grips, and their ways.

Two slips describe the state: of the ball's touching point at the nose (along the cushion, and
upright across the line to the centre) and at the cloth (along the cushion, and into it). Friction
changes both, and depends on nothing but their directions, so the impact is the way of these four
numbers over the impulse. Each contact either slips or grips:

* a slipping nose rubs with `grip` of the push, a slipping cloth with `cloth` of what it carries;
* a gripping contact gives just what keeps its slip at nothing, in closed form.

Speeds are of the centre and of the rim; friction is per unit of the nose's push, by mass. The nose
stands `s` radii above the centre, at the cosine `c`. Answers of the slips to frictions:
nose 7/2·fx + k·gx and m·fz + j·gy + s·c, cloth 7/2·gx + k·fx and 7/2·gy + j·fz − c, with
m = 5/2 + s², j = 5/2 − s, k = 1 − 5/2·s (the inertia of a solid sphere).
"""

from __future__ import annotations

import math

from engine.compiled import inlined

_Q = math.sqrt(15.0)
# Gauss's three places within a stretch, with what each place takes from the rates at all three
PLACE_1, PLACE_2, PLACE_3 = 0.5 - _Q / 10, 0.5, 0.5 + _Q / 10
_W11, _W12, _W13 = 5 / 36, 2 / 9 - _Q / 15, 5 / 36 - _Q / 30
_W21, _W22, _W23 = 5 / 36 + _Q / 24, 2 / 9, 5 / 36 - _Q / 24
_W31, _W32, _W33 = 5 / 36 + _Q / 30, 2 / 9 + _Q / 15, 5 / 36
_OUTER, _INNER = 5 / 18, 4 / 9
#: A stretch is solved when further sweeps would move no slip by more than this share of the speed.
SETTLED = 8e-6
#: Nor by more than this share of a slip: a small one may take long to come to nothing.
SMALL = 0.05
SWEEPS = 12
#: The part of a stretch's friction that a sweep sets against the new direction where it is stiff.
EASE = 0.7
#: How far a slip may be followed on its way to nothing, as a share of the way.
CLOSING, STRAIGHT = 0.7, 0.99
#: What turning is left out, as a share of the incoming speed, when a slip goes straight to nothing.
_TURN_LEFT_OUT = 3e-5


@inlined
def slipping(
    nx: float, nz: float, lx: float, ly: float, s: float, c: float, grip: float, cloth: float
) -> tuple[float, float, float, float]:
    """Frictions where both contacts slip: the cloth carries less when the nose lifts the ball."""
    nose, bed = math.sqrt(nx * nx + nz * nz), math.sqrt(lx * lx + ly * ly)
    # one division for both: this is most of the time of an impact
    both = 1.0 / max(nose * bed, 1e-300)
    size = grip * bed * both
    fx, fz = -size * nx, -size * nz
    size = cloth * max(s - c * fz, 0.0) * nose * both
    return fx, fz, -size * lx, -size * ly


@inlined
def frictions(
    nx: float, nz: float, lx: float, ly: float, held: bool, laid: bool,
    s: float, c: float, grip: float, cloth: float,
) -> tuple[float, float, float, float]:  # fmt: skip
    """Frictions at the nose (along, upright) and the cloth (along, into) for the slips n and l.

    `held`: the nose grips; `laid`: the cloth does.
    """
    m, j, k = 2.5 + s * s, 2.5 - s, 1.0 - 2.5 * s
    if held and laid:
        det = 2.5 * (1.0 + s) * (1.0 + s)
        return 0.0, -(3.5 * s + j) * c / det, 0.0, (m + j * s) * c / det
    if held:
        size = 1.0 / max(math.sqrt(lx * lx + ly * ly), 1e-300)
        ux, uy = lx * size, ly * size
        # the nose lifts by what the cloth asks of it
        load = cloth * (s + s * c * c / m) / max(1.0 + cloth * c * j / m * uy, 1e-9)
        gx, gy = -load * ux, -load * uy
        return -k * gx / 3.5, -(j * gy + s * c) / m, gx, gy
    if laid:
        size = grip / max(math.sqrt(nx * nx + nz * nz), 1e-300)
        fx, fz = -size * nx, -size * nz
        return fx, fz, -k * fx / 3.5, (c - j * fz) / 3.5
    return slipping(nx, nz, lx, ly, s, c, grip, cloth)


@inlined
def slip_rates(
    fx: float, fz: float, gx: float, gy: float, s: float, c: float
) -> tuple[float, float, float, float]:
    """How both slips change with the impulse under these frictions."""
    j, k = 2.5 - s, 1.0 - 2.5 * s
    return (
        3.5 * fx + k * gx,
        (2.5 + s * s) * fz + j * gy + s * c,
        3.5 * gx + k * fx,
        3.5 * gy + j * fz - c,
    )


@inlined
def nose_onset(
    lx: float, ly: float, laid: bool, s: float, c: float, grip: float, cloth: float
) -> tuple[float, float]:
    """The unit way along which a nose without slip begins to slip: the way its slip then grows."""
    m, j, k = 2.5 + s * s, 2.5 - s, 1.0 - 2.5 * s
    # growth along the way = drift − answer to the friction against it; the answer is triangular
    along, shared, upright = 3.5 - k * k / 3.5, 0.0, m - j * j / 3.5
    dx, dz = 0.0, s * c + j * c / 3.5
    if not laid:
        size = 1.0 / math.sqrt(lx * lx + ly * ly)
        along, shared, upright = 3.5, k * cloth * c * lx * size, m + j * cloth * c * ly * size
        dx, dz = -k * cloth * s * lx * size, s * c - j * cloth * s * ly * size
    growth = max(math.sqrt(dx * dx + dz * dz) - grip * upright, 0.0)
    ex = ez = 0.0
    for _ in range(20):
        per_x, per_z = 1.0 / (growth + grip * along), 1.0 / (growth + grip * upright)
        ez = dz * per_z
        ex = (dx - grip * shared * ez) * per_x
        size = math.sqrt(ex * ex + ez * ez)
        if abs(size - 1.0) < 1e-9:
            break
        falls_z = -ez * per_z
        falls_x = -(ex + grip * shared * falls_z) * per_x
        growth -= (size - 1.0) * size * size / (ex * falls_x + ez * falls_z)
    size = 1.0 / math.sqrt(ex * ex + ez * ez)
    return ex * size, ez * size


@inlined
def cloth_onset(
    nx: float, nz: float, held: bool, s: float, c: float, grip: float
) -> tuple[float, float]:
    """The unit way along which a cloth without slip begins to slip."""
    if held:
        return 0.0, -1.0
    size = grip / math.sqrt(nx * nx + nz * nz)
    dx, dy = -(1.0 - 2.5 * s) * size * nx, -(2.5 - s) * size * nz - c
    size = 1.0 / math.sqrt(dx * dx + dy * dy)
    return dx * size, dy * size


@inlined
def spare(
    fx: float, fz: float, gx: float, gy: float, held: bool, laid: bool,
    s: float, c: float, grip: float, cloth: float,
) -> float:  # fmt: skip
    """The least friction that a gripping contact could still give; below nothing it must slip."""
    left = grip + cloth
    if held:
        left = grip - math.sqrt(fx * fx + fz * fz)
    if laid:
        left = min(left, cloth * (s - c * fz) - math.sqrt(gx * gx + gy * gy))
    return left


@inlined
def settle(
    nx: float, nz: float, lx: float, ly: float, held: bool, laid: bool,
    nose_idle: bool, cloth_idle: bool, s: float, c: float, grip: float, cloth: float, first: float,
) -> tuple[float, float, float, float, bool, bool]:  # fmt: skip
    """Let contacts without slip grip where friction is enough; elsewhere they begin to slip.

    A slip that begins is given the size `first`, far too small to matter.
    """
    for tried in range(4):
        if nose_idle:
            held = tried < 2
        if cloth_idle:
            laid = tried % 2 == 0
        if nose_idle and not held:
            ex, ez = 0.0, 1.0
            if laid or not cloth_idle:
                ex, ez = nose_onset(lx, ly, laid, s, c, grip, cloth)
            nx, nz = first * ex, first * ez
        if cloth_idle and not laid:
            ux, uy = cloth_onset(nx, nz, held, s, c, grip)
            lx, ly = first * ux, first * uy
        fx, fz, gx, gy = frictions(nx, nz, lx, ly, held, laid, s, c, grip, cloth)
        if spare(
            fx, fz, gx, gy, held and nose_idle, laid and cloth_idle, s, c, grip, cloth
        ) >= 0.0:  # fmt: skip
            break
    return nx, nz, lx, ly, held, laid


@inlined
def reach(x: float, y: float, dx: float, dy: float, unit: float) -> float:
    """The impulse over which a slip (x, y) of these rates can be followed in one stretch.

    Its direction turns ever faster the smaller it gets: a stretch ends well before it is least.
    """
    square, speed = x * x + y * y, dx * dx + dy * dy
    if square < 1e-16 * unit * unit or speed == 0.0:
        return math.inf
    time = math.sqrt(square / speed)
    closing = -(x * dx + y * dy)
    if closing <= 0.0:
        return 2.0 * time
    across = abs(x * dy - y * dx)
    if across * across * square < (_TURN_LEFT_OUT * unit * closing) ** 2:
        return STRAIGHT * time
    return (CLOSING + 0.3 * min(across / closing, 1.0)) * time


@inlined
def _stiff(x: float, y: float, dx: float, dy: float, most_turning: float) -> bool:
    """Whether a slip is so small for a stretch that friction may turn it faster than it grows.

    Full friction could turn it by `most_turning` over its size; `dx`, `dy` is what it grows by.
    """
    return most_turning * most_turning > 2.0 * max(0.09 * (x * x + y * y), dx * dx + dy * dy)


@inlined
def _eased(x: float, y: float, old_x: float, old_y: float, turning: float) -> tuple[float, float]:
    """A slip's next value in a sweep where friction is stiff, from the rates' answer (x, y).

    The answer's part of the friction, against the old direction, is taken back and set against
    the new direction instead, as far as it reaches.
    """
    old = max(math.sqrt(old_x * old_x + old_y * old_y), 1e-300)
    x += turning * old_x / old
    y += turning * old_y / old
    whole = max(math.sqrt(x * x + y * y), 1e-300)
    part = max(whole - turning, 0.1 * old) / whole
    return part * x, part * y


@inlined
def stretch(
    nx: float, nz: float, lx: float, ly: float, r1: float, r2: float, r3: float, r4: float,
    held: bool, laid: bool, h: float, unit: float, most_bend: float,
    s: float, c: float, grip: float, cloth: float,
) -> tuple[float, float, float, float, float, float, float]:  # fmt: skip
    """Follow the slips, of rates r1…r4, over an impulse `h` in which no contact switches.

    Gauss's formula of three places, order six: slips and rates at the places are improved in
    sweeps until they agree. Returns the slips at the end, the change of the speed into the
    cushion, that of its mean over the stretch, and how far the rates were from straight (a change
    of slip; inf where the sweeps did not agree).
    """
    # the first guess: rates that change evenly, as they do up to the middle
    e1, e2, e3, e4 = 0.5 * h * r1, 0.5 * h * r2, 0.5 * h * r3, 0.5 * h * r4
    both_slip = not held and not laid
    if both_slip:
        fx, fz, gx, gy = slipping(nx + e1, nz + e2, lx + e3, ly + e4, s, c, grip, cloth)
    else:
        fx, fz, gx, gy = frictions(
            nx + e1, nz + e2, lx + e3, ly + e4, held, laid, s, c, grip, cloth
        )
    q1, q2, q3, q4 = slip_rates(fx, fz, gx, gy, s, c)
    q1, q2, q3, q4 = h * (q1 - r1), h * (q2 - r2), h * (q3 - r3), h * (q4 - r4)
    x, y = 2.0 * PLACE_1, PLACE_1 * PLACE_1
    a1, a2, a3, a4 = (
        nx + x * e1 + y * q1,
        nz + x * e2 + y * q2,
        lx + x * e3 + y * q3,
        ly + x * e4 + y * q4,
    )
    b1, b2, b3, b4 = (
        nx + e1 + 0.25 * q1,
        nz + e2 + 0.25 * q2,
        lx + e3 + 0.25 * q3,
        ly + e4 + 0.25 * q4,
    )
    x, y = 2.0 * PLACE_3, PLACE_3 * PLACE_3
    c1, c2, c3, c4 = (
        nx + x * e1 + y * q1,
        nz + x * e2 + y * q2,
        lx + x * e3 + y * q3,
        ly + x * e4 + y * q4,
    )
    nose, bed = EASE * 3.5 * h * grip, EASE * 3.5 * h * cloth * (s + c * grip)
    nose_stiff = not held and _stiff(nx, nz, h * r1, h * r2, nose)
    bed_stiff = not laid and _stiff(lx, ly, h * r3, h * r4, bed)
    p1 = p2 = p3 = p4 = q1 = q2 = q3 = q4 = t1 = t2 = t3 = t4 = 0.0
    fz = gy = fz_b = gy_b = fz_c = gy_c = 0.0
    bend, before = math.inf, 0.0
    for sweep in range(SWEEPS):
        if both_slip:
            fx, fz, gx, gy = slipping(a1, a2, a3, a4, s, c, grip, cloth)
            fx_b, fz_b, gx_b, gy_b = slipping(b1, b2, b3, b4, s, c, grip, cloth)
            fx_c, fz_c, gx_c, gy_c = slipping(c1, c2, c3, c4, s, c, grip, cloth)
        else:
            fx, fz, gx, gy = frictions(a1, a2, a3, a4, held, laid, s, c, grip, cloth)
            fx_b, fz_b, gx_b, gy_b = frictions(b1, b2, b3, b4, held, laid, s, c, grip, cloth)
            fx_c, fz_c, gx_c, gy_c = frictions(c1, c2, c3, c4, held, laid, s, c, grip, cloth)
        p1, p2, p3, p4 = slip_rates(fx, fz, gx, gy, s, c)
        q1, q2, q3, q4 = slip_rates(fx_b, fz_b, gx_b, gy_b, s, c)
        t1, t2, t3, t4 = slip_rates(fx_c, fz_c, gx_c, gy_c, s, c)
        x, y, z = h * _W11, h * _W12, h * _W13
        e1, e2 = nx + x * p1 + y * q1 + z * t1, nz + x * p2 + y * q2 + z * t2
        e3, e4 = lx + x * p3 + y * q3 + z * t3, ly + x * p4 + y * q4 + z * t4
        moved = abs(e1 - a1) + abs(e2 - a2) + abs(e3 - a3) + abs(e4 - a4)
        if nose_stiff:
            e1, e2 = _eased(e1, e2, a1, a2, nose * PLACE_1)
        if bed_stiff:
            e3, e4 = _eased(e3, e4, a3, a4, bed * PLACE_1)
        a1, a2, a3, a4 = e1, e2, e3, e4
        x, y, z = h * _W21, h * _W22, h * _W23
        e1, e2 = nx + x * p1 + y * q1 + z * t1, nz + x * p2 + y * q2 + z * t2
        e3, e4 = lx + x * p3 + y * q3 + z * t3, ly + x * p4 + y * q4 + z * t4
        moved += abs(e1 - b1) + abs(e2 - b2) + abs(e3 - b3) + abs(e4 - b4)
        if nose_stiff:
            e1, e2 = _eased(e1, e2, b1, b2, nose * PLACE_2)
        if bed_stiff:
            e3, e4 = _eased(e3, e4, b3, b4, bed * PLACE_2)
        b1, b2, b3, b4 = e1, e2, e3, e4
        x, y, z = h * _W31, h * _W32, h * _W33
        e1, e2 = nx + x * p1 + y * q1 + z * t1, nz + x * p2 + y * q2 + z * t2
        e3, e4 = lx + x * p3 + y * q3 + z * t3, ly + x * p4 + y * q4 + z * t4
        moved += abs(e1 - c1) + abs(e2 - c2) + abs(e3 - c3) + abs(e4 - c4)
        if nose_stiff:
            e1, e2 = _eased(e1, e2, c1, c2, nose * PLACE_3)
        if bed_stiff:
            e3, e4 = _eased(e3, e4, c3, c4, bed * PLACE_3)
        c1, c2, c3, c4 = e1, e2, e3, e4
        settled = SETTLED * unit
        if not held:
            settled = min(settled, SMALL * (abs(c1) + abs(c2)))
        if not laid:
            settled = min(settled, SMALL * (abs(c3) + abs(c4)))
        # what all further sweeps would move: each moves by about the same share of the one before
        solved = moved * moved < settled * (before - moved) or moved < 0.2 * settled
        if solved or sweep == 2:
            bend = h * (
                abs(p1 - 2.0 * q1 + t1)
                + abs(p2 - 2.0 * q2 + t2)
                + abs(p3 - 2.0 * q3 + t3)
                + abs(p4 - 2.0 * q4 + t4)
            )
            if solved or bend > most_bend:
                break
        before = moved
    else:
        bend = math.inf
    x, y = h * _OUTER, h * _INNER
    first, middle, last = gy - s * fz, gy_b - s * fz_b, gy_c - s * fz_c
    return (
        nx + x * (p1 + t1) + y * q1, nz + x * (p2 + t2) + y * q2,
        lx + x * (p3 + t3) + y * q3, ly + x * (p4 + t4) + y * q4,
        x * (first + last) + y * middle - c * h,
        x * (first * PLACE_3 + last * PLACE_1) + y * middle * PLACE_2 - 0.5 * c * h,
        bend,
    )  # fmt: skip
