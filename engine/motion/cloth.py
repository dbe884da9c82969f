"""A ball on the cloth: sliding, then rolling, then rest, all in closed form.

While the ball slides, friction has constant size and direction, so the path is a parabola and
sliding ends after 2|u|/(7 μ g), u being the slip of the lowest point (Coriolis 1835). Rolling
loses speed at a constant rate. Every function takes scalars or arrays that broadcast; speeds in
mm/s, gravity in mm/s², tip heights and distances as named.

>>> round(float(slide_seconds(2000.0, 0.2, 9810.0)), 4)     # a stun ball at 2 m/s
0.2912
>>> round(float(slide_distance_mm(2000.0, 0.0, 0.2, 9810.0)), 1)
499.3
"""

from __future__ import annotations

import numpy as np

from engine.motion.straight import straight_state

_straight_states = np.frompyfunc(straight_state, 6, 2)


def slide_seconds(slip_mm_s, friction, gravity_mm_s2):
    """Seconds until a ball slipping at `slip_mm_s` rolls: 2|u|/(7 μ g)."""
    return 2.0 * np.abs(slip_mm_s) / (7.0 * friction * gravity_mm_s2)


def rolling_speed_mm_s(speed_mm_s, spin_ratio):
    """Speed once rolling, of a ball sent straight with spin ratio s: v(5 + 2s)/7."""
    return np.asarray(speed_mm_s) * (5.0 + 2.0 * np.asarray(spin_ratio)) / 7.0


def slide_distance_mm(speed_mm_s, spin_ratio, friction, gravity_mm_s2):
    """Distance a straight ball slides before it rolls.

    >>> round(float(slide_distance_mm(2000.0, 1.25, 0.2, 9810.0)), 1)
    150.8
    """
    seconds = slide_seconds(
        np.asarray(speed_mm_s) * (1.0 - np.asarray(spin_ratio)), friction, gravity_mm_s2
    )
    mean = 0.5 * (speed_mm_s + rolling_speed_mm_s(speed_mm_s, spin_ratio))
    return mean * seconds


def roll_seconds(speed_mm_s, resistance, gravity_mm_s2):
    """Seconds until a rolling ball stops."""
    return np.asarray(speed_mm_s) / (resistance * gravity_mm_s2)


def roll_distance_mm(speed_mm_s, resistance, gravity_mm_s2):
    """Distance a rolling ball travels.

    >>> round(float(roll_distance_mm(1000.0, 0.010, 9810.0)))
    5097
    """
    return np.square(speed_mm_s) / (2.0 * resistance * gravity_mm_s2)


def no_spin_distance_mm(speed_mm_s, depth, friction, gravity_mm_s2):
    """Distance after which screw of `depth` below centre (over R, positive) has no spin left.

    (v²/μg)(β − β²/2), β = depth·(5/2)·(2/5) = depth: friction takes 2/5 of the spin's rim speed
    from the ball's own speed.
    """
    beta = np.asarray(depth)
    return np.square(speed_mm_s) / (friction * gravity_mm_s2) * (beta - 0.5 * beta * beta)


def state_after_mm(distance_mm, speed_mm_s, tip_height, friction, resistance, gravity_mm_s2):
    """Speed and spin ratio of a straight ball after a distance: `(speed_mm_s, spin_ratio)`.

    A ball that stops before gives speed 0 and ratio 1.

    >>> v, s = state_after_mm(566.3, 2000.0, -0.5, 0.2, 0.01, 9810.0)
    >>> round(float(s), 3)
    -0.625
    """
    found = _straight_states(
        distance_mm, speed_mm_s, tip_height, friction, resistance, gravity_mm_s2
    )
    return np.asarray(found[0], dtype=float), np.asarray(found[1], dtype=float)


def stun_tip_height(distance_mm, speed_mm_s, friction, gravity_mm_s2):
    """Tip height (over R, negative) that arrives after a distance with no spin; nan if none can.

    Solves (v²/μg)(β − β²/2) = distance for the smaller β; beyond v²/(2μg) no ball arrives
    without spin, since it is rolling or at rest by then. Whether the tip limit allows the
    answer is for the caller to say.

    >>> round(float(stun_tip_height(764.5, 2000.0, 0.2, 9810.0)), 2)
    -0.5
    """
    share = 2.0 * np.asarray(distance_mm) * friction * gravity_mm_s2 / np.square(speed_mm_s)
    with np.errstate(invalid="ignore"):
        return -(1.0 - np.sqrt(1.0 - share))
