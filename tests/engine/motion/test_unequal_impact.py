"""Balls of unequal mass and size: conservation laws and textbook cases.

Textbooks, all from memory: Halliday, Resnick & Walker, "Fundamentals of Physics", section on
elastic collisions in one dimension and its sample problem of two pendulums; Landau & Lifshitz,
"Mechanics", section 17 on elastic scattering.
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.balls import Ball, touch_distance_mm
from engine.conditions import Conditions, usual_conditions
from engine.motion.impact import ball_impact, tilt
from engine.shot import Strike, play
from engine.tables import load_table

SMOOTH = (0.0, 0.0, 0.0)
MARLOW = (0.009951, 0.108, 1.088)
UK = usual_conditions(load_table("uk-pool-7ft"))


def impact(v1, w1, r1, m1, v2, w2, r2, m2, angle, e, friction):
    n = (math.cos(angle), math.sin(angle))
    out = ball_impact(*v1, *w1, r1, m1, *v2, *w2, r2, m2, *n, e, *friction)
    return (
        np.array(out[0:2]), np.array(out[2:5]), np.array(out[5:7]), np.array(out[7:10])
    )  # fmt: skip


def test_halliday_two_pendulums():
    # sample problem "Elastic collision, two pendulums" (from memory): 30 g at 1.252 m/s meets
    # 75 g at rest; the light one goes back at 0.537 m/s
    still = (0.0, 0.0, 0.0)
    v1, _, v2, _ = impact(
        (1252.0, 0.0), still, 10, 0.030, (0.0, 0.0), still, 10, 0.075, 0, 1, SMOOTH
    )
    assert v1[0] == pytest.approx(-537.0, abs=1.0)
    assert v2[0] == pytest.approx(2 * 0.030 / 0.105 * 1252.0)
    assert v1[1] == v2[1] == 0.0


@pytest.mark.parametrize("ratio", [0.5, 0.81, 1.0, 1.7])
def test_landau_angles_of_elastic_scattering(ratio):
    # Landau & Lifshitz, section 17 (from memory): with the angle χ in the centre-of-mass system,
    # tan θ1 = m2 sin χ / (m1 + m2 cos χ), θ2 = (π − χ)/2
    m1, m2 = 0.1 * ratio, 0.1
    still = (0.0, 0.0, 0.0)
    for angle in np.radians([10.0, 30.0, 55.0, 80.0]):
        v1, _, v2, _ = impact(
            (1000.0, 0.0), still, 25, m1, (0.0, 0.0), still, 25, m2, angle, 1.0, SMOOTH
        )
        chi = math.pi - 2 * angle
        assert math.atan2(v2[1], v2[0]) == pytest.approx(angle)
        expected = math.atan2(m2 * math.sin(chi), m1 + m2 * math.cos(chi))
        assert -math.atan2(v1[1], v1[0]) == pytest.approx(expected)


def test_landau_greatest_deflection_by_a_lighter_ball():
    # Landau & Lifshitz, section 17 (from memory): m1 > m2 is turned by at most asin(m2/m1)
    still, m1, m2 = (0.0, 0.0, 0.0), 0.170, 0.116
    turned = []
    for angle in np.linspace(0.0, math.pi / 2, 2001)[1:-1]:
        v1, *_ = impact((1.0, 0.0), still, 25, m1, (0.0, 0.0), still, 25, m2, angle, 1.0, SMOOTH)
        turned.append(-math.atan2(v1[1], v1[0]))
    assert max(turned) == pytest.approx(math.asin(m2 / m1), abs=1e-5)


def test_a_stun_ball_that_is_lighter_comes_back():
    # a fact of the trade (common practice, no source): the small cue ball of UK pool rebounds
    # from a full, stunned hit; with e the speed is (m1 − e·m2)/(m1 + m2), momentum and restitution
    still = (0.0, 0.0, 0.0)
    v1, _, v2, _ = impact(
        (1000.0, 0.0), still, 23.8, 0.094, (0.0, 0.0), still, 25.4, 0.116, 0, 0.95, MARLOW
    )
    assert v1[0] == pytest.approx(1000 * (0.094 - 0.95 * 0.116) / 0.210)
    assert v1[0] < 0.0
    assert v2[0] == pytest.approx(1000 * 1.95 * 0.094 / 0.210)


speeds = st.floats(-3000, 3000)
spins = st.floats(-150, 150)
sizes = st.floats(20, 32)
masses = st.floats(0.05, 0.25)


@given(
    st.tuples(speeds, speeds), st.tuples(spins, spins, spins), sizes, masses,
    st.tuples(speeds, speeds), st.tuples(spins, spins, spins), sizes, masses,
    st.floats(-math.pi, math.pi), st.floats(0.5, 1.0),
)  # fmt: skip
@pytest.mark.slow
def test_conservation_for_any_sizes_and_masses(v1, w1, r1, m1, v2, w2, r2, m2, angle, e):
    n = np.array([math.cos(angle), math.sin(angle)])
    before1, before2 = np.array(v1), np.array(v2)
    a1, s1, a2, s2 = impact(v1, w1, r1, m1, v2, w2, r2, m2, angle, e, MARLOW)
    closing = float((before1 - before2) @ n)
    if closing <= 0.0:
        assert np.array_equal(a1, before1) and np.array_equal(s2, np.array(w2))
        return
    # momentum along the cloth
    assert m1 * a1 + m2 * a2 == pytest.approx(m1 * before1 + m2 * before2, rel=1e-9, abs=1e-6)
    # restitution along the line of centres as seen from above
    assert float((a1 - a2) @ n) == pytest.approx(-e * closing, rel=1e-9, abs=1e-6)
    # the torques on both balls are the same but for their arms, and have no part along n3
    i1, i2 = 0.4 * m1 * r1**2, 0.4 * m2 * r2**2
    turn1, turn2 = i1 * (s1 - np.array(w1)) / r1, i2 * (s2 - np.array(w2)) / r2
    assert turn1 == pytest.approx(turn2, rel=1e-7, abs=1e-6)
    cos, sin = tilt(r1, r2)
    n3 = np.array([cos * n[0], cos * n[1], sin])
    assert float(turn1 @ n3) == pytest.approx(0.0, abs=1e-6 * (1.0 + np.linalg.norm(turn1)))

    # no energy is won
    def energy(v, w, m, i):
        return 0.5 * m * float(v @ v) + 0.5 * i * float(w @ w)

    first = energy(before1, np.array(w1), m1, i1) + energy(before2, np.array(w2), m2, i2)
    last = energy(a1, s1, m1, i1) + energy(a2, s2, m2, i2)
    assert last <= first * (1.0 + 1e-9) + 1e-6


def test_equal_sizes_have_no_tilt_and_touching_distance_is_geometric():
    assert tilt(26.25, 26.25) == (1.0, 0.0)
    cos, sin = tilt(23.8, 25.4)
    assert (cos, sin) == pytest.approx((2 * math.sqrt(23.8 * 25.4) / 49.2, 1.6 / 49.2))
    assert cos * cos + sin * sin == pytest.approx(1.0)
    # two spheres on a plane: their centres are R1 + R2 apart in space
    flat = touch_distance_mm(23.8, 25.4)
    assert math.hypot(flat, 25.4 - 23.8) == pytest.approx(23.8 + 25.4)


def test_the_kernel_plays_each_ball_with_its_own_size_and_mass():
    balls = (Ball("cue", "cue", 400.0, 300.0), Ball("red", "red", 400.0, 700.0))
    free = Conditions(
        ball_radius_mm=25.4, ball_mass_kg=0.116, cue_ball_radius_mm=23.8, cue_ball_mass_kg=0.094,
        cushion_height_ratio=1.27,
    )  # fmt: skip
    table = load_table("uk-pool-7ft")
    trace = play(table, free, balls, Strike(1500.0, -0.5), math.pi / 2)
    hit = next(event for event in trace.events if event.kind == "ball")
    assert 700.0 - hit.at_mm[1] == pytest.approx(touch_distance_mm(23.8, 25.4))
    rate = trace.velocities("cue", hit.t_s - 1e-9)[1]
    after, other = trace.velocities("cue", hit.t_s)[1], trace.velocities("red", hit.t_s)[1]
    assert 0.094 * after + 0.116 * other == pytest.approx(0.094 * rate, rel=1e-6)
    assert other - after == pytest.approx(0.95 * rate, rel=1e-6)


def test_each_ball_meets_a_cushion_at_its_own_radius_and_height():
    table = load_table("uk-pool-7ft")
    for kind, radius in (("cue", 23.8), ("red", 25.4)):
        balls = (Ball("one", kind, 300.0, 600.0),)
        trace = play(table, UK, balls, Strike(1000.0, 0.4), 0.0, cue_id="one")
        hit = next(event for event in trace.events if event.kind == "cushion")
        assert table.width_mm - hit.at_mm[0] == pytest.approx(radius)
    # the nose stands at one height: over the smaller ball that is more of its radius
    assert UK.cushion_height_ratio * 25.4 == pytest.approx(32.3)
