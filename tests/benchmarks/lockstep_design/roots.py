"""Lock-step design: first roots of many quartics at once, isolated and polished as in the kernel.

Every function works on flat arrays of one length, with masks in place of branches. Roots that are
found drop out of the iteration, so late Newton steps run on few numbers.
"""

from __future__ import annotations

import numpy as np

Coefficients = tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray, np.ndarray]


def value(c: Coefficients, t: np.ndarray) -> np.ndarray:
    """c0 + … + c4·t⁴."""
    return (((c[4] * t + c[3]) * t + c[2]) * t + c[1]) * t + c[0]


def slope(c: Coefficients, t: np.ndarray) -> np.ndarray:
    """Derivative of `value` in t."""
    return ((4.0 * c[4] * t + 3.0 * c[3]) * t + 2.0 * c[2]) * t + c[1]


def chosen(c: Coefficients, which: np.ndarray) -> Coefficients:
    """The coefficients of some of the quartics."""
    return tuple(part[which] for part in c)


def polish(c: Coefficients, low: np.ndarray, high: np.ndarray, f_low: np.ndarray) -> np.ndarray:
    """The root of each quartic between low and high: Newton kept inside the bracket."""
    below = f_low < 0.0
    t = 0.5 * (low + high)
    found = t.copy()
    live = np.arange(len(t))
    ended = np.zeros(len(t), dtype=bool)
    for _ in range(200):
        f = value(c, t)
        same = (f < 0.0) == below
        low, high = np.where(same, t, low), np.where(same, high, t)
        new = t - f / slope(c, t)
        new = np.where((low < new) & (new < high), new, 0.5 * (low + high))
        new = np.where(f == 0.0, t, new)
        done = (np.abs(new - t) <= 1e-15 * np.abs(new)) | (new == low) | (new == high)
        fresh = done & ~ended
        if fresh.any():
            found[live[fresh]] = new[fresh]
            ended |= done
            left = np.flatnonzero(~ended)
            if not len(left):
                return found
            if 2 * len(left) < len(live):
                live, ended, below = live[left], ended[left], below[left]
                c, low, high, new = chosen(c, left), low[left], high[left], new[left]
        t = new
    found[live[~ended]] = t[~ended]
    return found


def quadratic_turns(
    c1: np.ndarray, c2: np.ndarray, c3: np.ndarray, span: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Real roots of c1 + 2·c2·t + 3·c3·t² inside (0, span), in order; `span` fills up."""
    a, b, c = 3.0 * c3, 2.0 * c2, c1
    disc = b * b - 4.0 * a * c
    real = disc > 0.0
    q = -0.5 * (b + np.copysign(np.sqrt(np.where(real, disc, 0.0)), b))
    t1 = q / a
    t2 = np.where(q != 0.0, c / q, t1)
    straight = a == 0.0
    if straight.any():
        t1 = np.where(straight, np.where(b != 0.0, -c / b, np.inf), t1)
        t2 = np.where(straight, np.inf, t2)
        real |= straight
    t1 = np.where(real & (t1 > 0.0) & (t1 < span), t1, span)
    t2 = np.where(real & (t2 > 0.0) & (t2 < span), t2, span)
    return np.minimum(t1, t2), np.maximum(t1, t2)


def first_fall(c: Coefficients, span: np.ndarray) -> np.ndarray:
    """First t in (0, span] where each quartic falls through zero, given c0 ≥ 0; else inf."""
    found = np.full(len(span), np.inf)
    cubic = (c[1], 2.0 * c[2], 3.0 * c[3], 4.0 * c[4], np.zeros_like(span))
    ends = (*quadratic_turns(cubic[1], cubic[2], cubic[3], span), span)
    low, f_low = np.zeros_like(span), c[0].copy()
    edge, d_edge = np.zeros_like(span), c[1]
    open_still = np.ones(len(span), dtype=bool)
    for k, end in enumerate(ends):
        live = open_still & (end > edge) if k else open_still
        d_end = slope(c, end)
        turning = np.flatnonzero(live & ((d_edge < 0.0) != (d_end < 0.0)))
        if len(turning):
            turn = polish(
                chosen(cubic, turning), edge[turning], end[turning], d_edge[turning]
            )  # fmt: skip
            f_turn = value(chosen(c, turning), turn)
            falls = (f_low[turning] > 0.0) & (f_turn < 0.0)
            hit = turning[falls]
            if len(hit):
                found[hit] = polish(chosen(c, hit), low[hit], turn[falls], f_low[hit])
                open_still[hit] = False
            low[turning], f_low[turning] = turn, f_turn
        if k < 2:
            edge, d_edge = np.where(live, end, edge), np.where(live, d_end, d_edge)
    last = np.flatnonzero(open_still & (f_low > 0.0) & (value(c, span) < 0.0))
    if len(last):
        found[last] = polish(chosen(c, last), low[last], span[last], f_low[last])
    return found


def _reaches(
    p: np.ndarray, v: np.ndarray, a: np.ndarray, span: np.ndarray, reach: np.ndarray | float
) -> np.ndarray:
    """Whether p + v·t + ½a·t² comes within `reach` of zero somewhere in [0, span]."""
    end = p + (v + 0.5 * a * span) * span
    when = -v / a
    turn = np.where((when > 0.0) & (when < span), p + 0.5 * v * when, p)
    low = np.minimum(np.minimum(p, end), turn)
    high = np.maximum(np.maximum(p, end), turn)
    return (low <= reach) & (high >= -reach)


def disc_time(
    p: tuple[np.ndarray, np.ndarray],
    v: tuple[np.ndarray, np.ndarray],
    a: tuple[np.ndarray, np.ndarray],
    reach: np.ndarray | float,
    span: np.ndarray,
    loose: float,
) -> np.ndarray:
    """When points moving as p + v·t + ½a·t² come within `reach` of the origin; inf if never."""
    found = np.full(len(span), np.inf)
    near = np.flatnonzero(
        _reaches(p[0], v[0], a[0], span, reach) & _reaches(p[1], v[1], a[1], span, reach)
    )
    if not len(near):
        return found
    px, py, vx, vy, ax, ay = (part[near] for part in (*p, *v, *a))
    span = span[near]
    reach = reach[near] if isinstance(reach, np.ndarray) else reach
    square = px * px + py * py
    c: Coefficients = (
        square - reach * reach,
        2.0 * (px * vx + py * vy),
        vx * vx + vy * vy + px * ax + py * ay,
        vx * ax + vy * ay,
        0.25 * (ax * ax + ay * ay),
    )
    apart = c[0] > 2e-6 * reach
    if apart.all():
        found[near] = first_fall(c, span)
        return found
    times = np.empty(len(near))
    times[apart] = first_fall(chosen(c, apart), span[apart])
    touching = ~apart
    times[touching] = _from_touch(
        square[touching], chosen(c, touching), span[touching], loose
    )  # fmt: skip
    found[near] = times
    return found


def _from_touch(square: np.ndarray, c: Coefficients, span: np.ndarray, loose: float) -> np.ndarray:
    """`disc_time` of points that touch at the start."""
    far = np.where(square > 0.0, np.sqrt(square), 1.0)
    rate = 0.5 * c[1] / far
    pull = (c[2] - rate * rate) / far
    leaving = (np.maximum(c[1], 0.0), c[2], c[3], c[4], np.zeros_like(span))
    times = first_fall(leaving, span)
    pressed = (loose + rate) / -pull
    drawn = (rate < 1e-6) & (pull < 0.0)
    times = np.where(drawn, np.where(pressed < span, pressed, np.inf), times)
    return np.where(rate < -1e-6, 0.0, times)
