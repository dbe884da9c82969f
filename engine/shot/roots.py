"""The first time a distance closes: exact roots of quartics, by isolating and polishing.

A ball's centre moves as a quadratic in time, so the square of a distance is a quartic. Its
turning points split the span into pieces on which it only rises or only falls; on the piece
where it falls through zero the root is polished by Newton steps kept inside the bracket.
"""

from __future__ import annotations

import math

from engine.compiled import inlined

NEVER = math.inf
#: Below this (mm/s) what touches is not met at once but when it has been pressed in.
SLOWEST = 0.05
#: Beyond this share of its square a distance is not within reach, whatever is lost to rounding.
BESIDE = 1.0 + 1e-6
#: The share by which a last step of Newton's may still move a root.
LAST = 1e-10


@inlined
def polish(c0, c1, c2, c3, c4, low, high, f_low, guess):
    """The root of a quartic between low and high, where it changes sign once.

    Newton from a guess in between, bisection whenever a step leaves the bracket; to machine
    precision: what a last step of `LAST` leaves is of its square.
    """
    below = f_low < 0.0
    t = guess if low < guess < high else 0.5 * (low + high)
    for _ in range(200):
        f = (((c4 * t + c3) * t + c2) * t + c1) * t + c0
        if f == 0.0:
            return t
        if (f < 0.0) == below:
            low = t
        else:
            high = t
        slope = ((4.0 * c4 * t + 3.0 * c3) * t + 2.0 * c2) * t + c1
        new = t - f / slope if slope != 0.0 else low - 1.0
        if not (low < new < high):
            new = 0.5 * (low + high)
        if abs(new - t) <= LAST * abs(new) or new in (low, high):
            return new
        t = new
    return t


@inlined
def quadratic_turns(c1, c2, c3, span):
    """The real roots of c1 + 2·c2·t + 3·c3·t² inside (0, span), in order; `span` fills up."""
    a, b, c = 3.0 * c3, 2.0 * c2, c1
    first = second = span
    if a == 0.0:
        if b != 0.0:
            t = -c / b
            if 0.0 < t < span:
                first = t
        return first, second
    disc = b * b - 4.0 * a * c
    if disc <= 0.0:
        return first, second
    q = -0.5 * (b + math.copysign(math.sqrt(disc), b))
    t1 = q / a
    t2 = c / q if q != 0.0 else t1
    if t1 > t2:
        t1, t2 = t2, t1
    if 0.0 < t1 < span:
        first = t1
        if t2 < span:
            second = t2
    elif 0.0 < t2 < span:
        first = t2
    return first, second


@inlined
def _fall_of_parabola(low, f_low, slope, high, f_high):
    """Where a parabola through both points, of that slope at the first, falls through zero."""
    long = high - low
    bend = (f_high - f_low - slope * long) / (long * long)
    root = math.sqrt(max(slope * slope - 4.0 * bend * f_low, 0.0))
    return low + 2.0 * f_low / (root - slope) if root > slope else high


@inlined
def first_fall(c0, c1, c2, c3, c4, span):
    """First t in (0, span] where c0 + … + c4·t⁴ falls through zero, given c0 >= 0; else inf."""
    # turning points: roots of the derivative, between the roots of the second derivative
    i1, i2 = quadratic_turns(2.0 * c2, 3.0 * c3, 4.0 * c4, span)
    low, f_low = 0.0, c0
    edge, d_edge = 0.0, c1
    for k in range(3):
        end = i1 if k == 0 else (i2 if k == 1 else span)
        if end <= edge and k > 0:
            continue
        d_end = ((4.0 * c4 * end + 3.0 * c3) * end + 2.0 * c2) * end + c1
        if (d_edge < 0.0) != (d_end < 0.0):
            # distances change almost as parabolas do: their slopes along a line
            guess = edge + (end - edge) * d_edge / (d_edge - d_end)
            turn = polish(c1, 2.0 * c2, 3.0 * c3, 4.0 * c4, 0.0, edge, end, d_edge, guess)
            f_turn = (((c4 * turn + c3) * turn + c2) * turn + c1) * turn + c0
            if f_low > 0.0 and f_turn < 0.0:
                guess = _fall_of_parabola(low, f_low, c1 if low == 0.0 else 0.0, turn, f_turn)
                return polish(c0, c1, c2, c3, c4, low, turn, f_low, guess)
            low, f_low = turn, f_turn
        edge, d_edge = end, d_end
        if end >= span:
            break
    f_end = (((c4 * span + c3) * span + c2) * span + c1) * span + c0
    if f_low > 0.0 and f_end < 0.0:
        guess = _fall_of_parabola(low, f_low, c1 if low == 0.0 else 0.0, span, f_end)
        return polish(c0, c1, c2, c3, c4, low, span, f_low, guess)
    return NEVER


@inlined
def extent(p, v, a, span):
    """The least and greatest place along one axis of what moves as p + v·t + ½a·t²."""
    end = p + (v + 0.5 * a * span) * span
    low, high = min(p, end), max(p, end)
    if v * a < 0.0 and -v / a < span:
        turn = p - 0.5 * v * v / a
        low, high = min(low, turn), max(high, turn)
    return low, high


@inlined
def disc_time(px, py, vx, vy, ax, ay, reach, span, give):
    """When a point moving as p + v·t + ½a·t² comes within `reach` of the origin, in [0, span].

    At the start it may already touch: then 0 when it is moving in, the time at which it would
    be pressed in by `give` mm when it is only pulled or creeping in, or the next time after it
    has left.
    inf when it does not come.
    """
    # the strip about the way's chord, as wide as the way bends, misses the disc
    dx, dy = (vx + 0.5 * ax * span) * span, (vy + 0.5 * ay * span) * span
    off = abs(px * dy - py * dx) - abs(ax * dy - ay * dx) * span * span * 0.125
    if off > 0.0 and off * off > BESIDE * reach * reach * (dx * dx + dy * dy):
        return NEVER
    # the box of the way misses the disc
    for axis in range(2):
        p, v, a = (px, vx, ax) if axis == 0 else (py, vy, ay)
        low, high = extent(p, v, a, span)
        if low > reach or high < -reach:
            return NEVER
    square = px * px + py * py
    c0 = square - reach * reach
    c1 = 2.0 * (px * vx + py * vy)
    c2 = vx * vx + vy * vy + px * ax + py * ay
    c3 = vx * ax + vy * ay
    c4 = 0.25 * (ax * ax + ay * ay)
    if c0 > 2e-6 * reach:
        return first_fall(c0, c1, c2, c3, c4, span)
    far = math.sqrt(square) if square > 0.0 else 1.0
    rate = 0.5 * c1 / far
    if rate < -SLOWEST:
        return 0.0
    pull = (c2 - rate * rate) / far
    disc = rate * rate - 2.0 * pull * give
    if rate < 1e-6 and disc > 0.0 and (pull < 0.0 or rate < 0.0):
        t = 2.0 * give / (math.sqrt(disc) - rate)
        return t if t < span else NEVER
    # leaving: divide the root at the start out and look for the next one
    return first_fall(max(c1, 0.0), c2, c3, c4, 0.0, span)
