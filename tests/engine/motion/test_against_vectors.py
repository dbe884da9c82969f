"""Scalar forms of the kernel against plain vectors and the raw equations of motion."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from engine.motion.cushion import cushion_impact
from engine.motion.impact import contact_slip
from engine.motion.straight import straight_state
from tests.shares import mixed

NUMBER = st.floats(-3000.0, 3000.0)
SPIN = st.tuples(*[st.floats(-150.0, 150.0)] * 3)
RADIUS = st.sampled_from([23.8, 25.4, 26.25, 28.575])


@given(
    st.tuples(NUMBER, NUMBER), SPIN, RADIUS, st.tuples(NUMBER, NUMBER), SPIN, RADIUS,
    st.floats(0.0, 2.0 * math.pi),
)  # fmt: skip
@pytest.mark.slow
def test_slip_of_two_touching_balls_is_that_of_their_touching_points(v1, w1, r1, v2, w2, r2, angle):
    """Rigid bodies: the touching point moves by v + ω × arm; two balls lie on one cloth.

    Both have one speed along the line, as at the end of the impact: what the approach itself adds
    upright between balls of two sizes is left out by the model, and said there.
    """
    n = (math.cos(angle), math.sin(angle))
    behind = (v1[0] - v2[0]) * n[0] + (v1[1] - v2[1]) * n[1]
    v2 = (v2[0] + behind * n[0], v2[1] + behind * n[1])
    apart = np.array([2.0 * math.sqrt(r1 * r2) * n[0], 2.0 * math.sqrt(r1 * r2) * n[1], r2 - r1])
    line = apart / np.linalg.norm(apart)
    one = np.array([*v1, 0.0]) + np.cross(w1, r1 * line)
    two = np.array([*v2, 0.0]) + np.cross(w2, -r2 * line)
    level = np.array([-n[1], n[0], 0.0])
    upright = np.cross(line, level)
    found = contact_slip(*v1, *w1, r1, *v2, *w2, r2, *n)
    assert found[0] == pytest.approx((one - two) @ level, abs=1e-6)
    assert found[1] == pytest.approx((one - two) @ upright, abs=1e-6)


@pytest.mark.parametrize(
    ("distance", "tip"),
    mixed((100.0, 700.0, 1600.0, 3000.0), (-0.5, -0.25, 0.0, 0.2, 0.4, 0.5), usual=8),
)
@pytest.mark.slow
def test_a_straight_ball_against_the_raw_equations(tip, distance):
    """Friction at the cloth slows the ball and turns it until it rolls; then it is only slowed."""
    speed, friction, resistance, gravity = 2000.0, 0.2, 0.0127, 9810.0

    def rates(_t, y):
        _, v, rim = y
        slip = v - rim
        if abs(slip) > 1e-3:
            push = -friction * gravity * math.copysign(1.0, slip)
            return [v, push, -2.5 * push]
        return [v, -resistance * gravity, -resistance * gravity]

    def there(_t, y):
        return y[0] - distance

    there.terminal = True
    found = solve_ivp(
        rates, (0.0, 30.0), [0.0, speed, 2.5 * tip * speed], events=there, max_step=2e-3, rtol=1e-8
    )  # fmt: skip
    v, spin = straight_state(distance, speed, tip, friction, resistance, gravity)
    if not len(found.y_events[0]):
        assert (v, spin) == (0.0, 1.0), "it stops before"
        return
    (end,) = found.y_events[0]
    assert v == pytest.approx(end[1], rel=2e-3)
    assert spin == pytest.approx(end[2] / end[1], abs=6e-3)


@pytest.mark.parametrize("off", [0.0, -1e-9, -0.4, -0.999, -500.0])
def test_a_ball_that_leaves_a_cushion_ever_so_slowly_is_left_alone(off):
    state = (300.0, off, 1.0, 2.0, 3.0)
    assert cushion_impact(*state, 0.0, 1.0, 26.25, 0.98, 0.14, 1.4, 0.21) == state
