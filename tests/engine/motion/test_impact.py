"""Ball on ball: published figures, conservation laws and the trade's 90 degrees."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.motion.impact import ball_friction, ball_impact

R, M = 26.25, 0.142
MARLOW = (0.009951, 0.108, 1.088)
SMOOTH = (0.0, 0.0, 0.0)


def hit(v, cut_deg, spin_ratio=0.0, e=1.0, friction=SMOOTH, side=0.0, radius=R):
    """Cue ball along +x cuts a ball to its left: line of centres at +cut from +x."""
    cut = math.radians(cut_deg)
    n = (math.cos(cut), math.sin(cut))
    return ball_impact(
        v, 0.0, 0.0, spin_ratio * v / radius, side, radius, M,
        0.0, 0.0, 0.0, 0.0, 0.0, radius, M, *n, e, *friction,
    )  # fmt: skip


def rolled_direction(out, radius=R):
    """Direction of the cue ball's final rolling line: v_roll = 5/7 v + 2/7 R w."""
    x = 5 / 7 * out[0] + 2 / 7 * radius * out[3]
    y = 5 / 7 * out[1] - 2 / 7 * radius * out[2]
    return math.degrees(math.atan2(y, x))


@pytest.mark.parametrize(("slip_m_s", "friction"), [(0.0707, 0.110), (0.707, 0.060), (7.07, 0.010)])
def test_ball_friction_as_marlow_measured(slip_m_s, friction):
    # check row 14: Marlow 1995, Table 10
    assert ball_friction(1000 * slip_m_s, *MARLOW) == pytest.approx(friction, abs=0.001)


@pytest.mark.parametrize(
    ("cut", "deflection", "tolerance"),
    [(30.0, 33.670, 0.05), (48.590, 27.267, 0.05), (14.478, 27.626, 0.05), (28.126, 33.749, 0.02)],
)
def test_natural_roll_deflection(cut, deflection, tolerance):
    # check rows 6-8: Alciatore TP A.20 (2005); 33.7 near f 0.53 published
    out = hit(1000.0, cut, spin_ratio=1.0)
    assert -rolled_direction(out) == pytest.approx(deflection, abs=tolerance)


def test_natural_roll_deflection_is_greatest_at_28_degrees():
    # check row 8: Alciatore TP A.20
    cuts = np.linspace(20.0, 36.0, 1601)
    found = [-rolled_direction(hit(1000.0, c, spin_ratio=1.0)) for c in cuts]
    assert cuts[int(np.argmax(found))] == pytest.approx(28.126, abs=0.1)
    assert max(found) == pytest.approx(33.749, abs=0.02)


def test_half_the_screw_for_a_right_angle_at_half_ball():
    # check row 9: Alciatore, Billiards Digest, January 2006
    assert -rolled_direction(hit(1000.0, 30.0, spin_ratio=-0.625)) == pytest.approx(90.0, abs=0.5)


@pytest.mark.parametrize(("e", "separation"), [(1.0, 90.0), (0.95, 87.521)])
def test_stun_separation(e, separation):
    # check row 10: derived; common practice, no source: stun leaves at a right angle
    out = hit(1000.0, 30.0, e=e)
    cue = math.degrees(math.atan2(out[1], out[0]))
    ball = math.degrees(math.atan2(out[6], out[5]))
    assert ball - cue == pytest.approx(separation, abs=0.05)


def test_stun_at_45_degrees_shares_the_speed():
    # check row 11: Alciatore, travel-distance FAQ
    out = hit(1000.0, 45.0)
    assert math.hypot(out[0], out[1]) == pytest.approx(707.1, rel=0.01)
    assert math.hypot(out[5], out[6]) == pytest.approx(707.1, rel=0.01)


@pytest.mark.parametrize(
    ("v", "cut", "throw", "tolerance"),
    [(500.0, 10.0, 1.443, 0.02), (4000.0, 10.0, 1.443, 0.02), (1000.0, 30.0, 4.156, 0.05)],
)
def test_throw_of_a_stun_shot(v, cut, throw, tolerance):
    # check row 15: derived with Marlow's fit; 1/7 of the slip when the balls grip
    out = hit(v, cut, friction=MARLOW, radius=28.575)
    direction = math.degrees(math.atan2(out[6], out[5]))
    assert cut - direction == pytest.approx(throw, abs=tolerance)


def test_balls_that_part_are_left_alone():
    before = (-5.0, 1.0, 2.0, 3.0, 4.0, 7.0, 0.0, 1.0, 1.0, 1.0)
    out = ball_impact(
        *before[:5], R, M, *before[5:], R, M, 1.0, 0.0, 0.95, *MARLOW
    )  # fmt: skip
    assert out == before


speeds = st.floats(-4000, 4000)
spins = st.floats(-300, 300)


@given(
    st.tuples(speeds, speeds, spins, spins, spins),
    st.tuples(speeds, speeds, spins, spins, spins),
    st.floats(0, 2 * math.pi),
    st.floats(0, 1),
    st.sampled_from([(R, M, R, M), (23.8, 0.094, 25.4, 0.116)]),
)
@pytest.mark.slow
def test_momentum_is_kept_and_energy_never_rises(one, two, angle, e, sizes):
    r1, m1, r2, m2 = sizes
    n = (math.cos(angle), math.sin(angle))
    out = ball_impact(*one, r1, m1, *two, r2, m2, *n, e, *MARLOW)

    def energy(ball, r, m):
        vx, vy, *w = ball
        return 0.5 * m * (vx * vx + vy * vy) + 0.2 * m * r * r * sum(x * x for x in w)

    before = energy(one, r1, m1) + energy(two, r2, m2)
    after = energy(out[:5], r1, m1) + energy(out[5:], r2, m2)
    assert after <= before * (1 + 1e-12) + 1e-9
    for axis in range(2):
        kept = m1 * (one[axis] - out[axis]) + m2 * (two[axis] - out[5 + axis])
        assert kept == pytest.approx(0.0, abs=1e-9)
    approach_before = (one[0] - two[0]) * n[0] + (one[1] - two[1]) * n[1]
    approach_after = (out[0] - out[5]) * n[0] + (out[1] - out[6]) * n[1]
    if approach_before > 0:
        assert approach_after == pytest.approx(-e * approach_before, abs=1e-8)


@given(spins, st.floats(5, 80))
def test_side_does_not_steer_a_stun_cue_ball_apart_from_throw(side, cut):
    # common practice, no source: side throws the object ball a little, it does not turn the cue
    # ball's line off its 90 degrees by more than the same small impulse does
    plain = hit(1500.0, cut, friction=SMOOTH)
    sided = hit(1500.0, cut, friction=SMOOTH, side=side)
    assert plain[:2] == sided[:2]
