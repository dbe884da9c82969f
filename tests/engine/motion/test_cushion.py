"""Ball on cushion: the integrated model against its own constants, a yardstick and energy."""

import math

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.motion.cushion import LEFT_OUT, cushion_impact, level_impact
from engine.shot import Strike, play
from engine.tables import load_table
from tests.engine.motion import impulse_yardstick as yardstick

R = 26.25
MODEL = (0.98, 0.14, 1.4, 0.21)  # restitution, nose friction, height ratio, cloth friction


def rebound(v, angle_deg, model=MODEL, spin=None):
    """A ball into the top cushion (+y), `angle_deg` from the normal; rolling unless `spin`."""
    a = math.radians(angle_deg)
    vx, vy = v * math.sin(a), v * math.cos(a)
    w = spin if spin is not None else (-vy / R, vx / R, 0.0)
    return cushion_impact(vx, vy, *w, 0.0, 1.0, R, *model)


def rolled(out):
    return 5 / 7 * out[0] + 2 / 7 * R * out[3], 5 / 7 * out[1] - 2 / 7 * R * out[2]


def test_square_on_and_oblique_rebound_of_a_rolling_ball():
    # check row 18: constants of Mathavan, Jackson & Parkin (2010), equations integrated
    out = rebound(1000.0, 0.0)
    assert -out[1] == pytest.approx(911.0, rel=0.01)
    assert -rolled(out)[1] == pytest.approx(583.0, rel=0.01)
    out = rebound(1000.0, 45.0)
    assert math.hypot(*out[:2]) == pytest.approx(848.0, rel=0.01)
    assert math.degrees(math.atan2(out[0], -out[1])) == pytest.approx(37.3, abs=0.5)
    x, y = rolled(out)
    assert math.hypot(x, y) == pytest.approx(670.0, rel=0.01)
    assert math.degrees(math.atan2(x, -y)) == pytest.approx(50.1, abs=0.5)


def test_smooth_level_cushion_only_reverses_the_normal_speed():
    out = rebound(1000.0, 40.0, model=(0.85, 0.0, 1.0, 0.0), spin=(1.0, 2.0, 3.0))
    assert out[0] == pytest.approx(1000 * math.sin(math.radians(40)))
    assert out[1] == pytest.approx(-0.85 * 1000 * math.cos(math.radians(40)))
    assert out[2:] == (1.0, 2.0, 3.0)


def off(v, angle_deg, spin, model=MODEL):
    """How far velocity and rim speeds lie from the yardstick's, over the incoming speed."""
    a = math.radians(angle_deg)
    ours = rebound(v, angle_deg, model, spin)
    theirs = yardstick.rebound(
        (v * math.sin(a), v * math.cos(a)), spin, (0.0, 1.0), R, yardstick.Cushion(*model)
    )
    apart = np.subtract(ours, theirs) * (1.0, 1.0, R, R, R)
    return np.abs(apart).max() / v


@pytest.mark.parametrize("angle", [3.0, 20.0, 45.0, 70.0])
@pytest.mark.parametrize("turn", [0.0, 60.0, -60.0])
@pytest.mark.parametrize("roll", [1.0, -0.5])
@pytest.mark.slow
def test_impacts_agree_with_solve_ivp(angle, turn, roll):
    v = 1500.0
    a = math.radians(angle)
    spin = (-roll * v * math.cos(a) / R, roll * v * math.sin(a) / R, turn)
    assert off(v, angle, spin) < 1e-5


@pytest.mark.parametrize(
    ("v", "angle", "spin", "model"),
    [
        (2000.0, 37.0, (25.0, -14.0, 44.0), (0.88, 0.12, 1.4, 0.09)),
        (4300.0, 24.0, (21.0, 111.0, 159.0), (0.75, 0.12, 1.4, 0.20)),
        (930.0, 40.0, (11.0, 15.0, 30.0), (0.52, 0.10, 1.4, 0.14)),
        (520.0, 15.0, (10.6, 14.2, 8.6), (0.77, 0.147, 1.4, 0.25)),
        # at 1.4 one of the ways they act on each other is nothing (1 − 2.5·0.4), so others as well
        (1500.0, 18.0, (-10.0, -25.0, 48.0), (0.66, 0.18, 1.3, 0.20)),
        (3000.0, 23.0, (9.0, 61.0, 39.0), (0.73, 0.12, 1.3, 0.10)),
        (3000.0, 5.0, (-109.0, -29.0, 76.0), (0.83, 0.24, 1.3, 0.33)),
        (1500.0, 17.0, (-34.0, -51.0, -18.0), (0.78, 0.17, 1.5, 0.09)),
        (3000.0, 5.0, (-79.0, 8.0, -110.0), (0.66, 0.16, 1.5, 0.35)),
        (3000.0, 7.0, (-1.0, 59.0, 39.0), (0.72, 0.17, 1.5, 0.14)),
        (1500.0, 27.0, (-30.0, 26.0, 39.0), (0.92, 0.18, 1.5, 0.35)),
    ],
)
@pytest.mark.slow
def test_a_nose_that_grips_feels_what_the_cloth_does(v, angle, spin, model):
    """Spins at which one of the frictions holds while the other slips, by `solve_ivp` as well."""
    assert off(v, angle, spin, model) < 2e-5


@pytest.mark.slow
def test_a_slip_that_creeps_out_of_a_grip():
    """No stretch can follow this one: small steps do."""
    spin = (-2.8415677726884936, -0.01812875269097543, -0.6653119507787781)
    model = (0.8942399173525293, 0.3818315614832667, 1.4330639009101858, 0.3829332910049609)
    assert off(74.59267203639926, -0.36553304651819474, spin, model) < 1e-4


def energy_kept(v, angle, spin, model):
    """The share of the energy that is left after an impact; the ball must come off."""
    out = rebound(v, angle, model=model, spin=spin)
    assert out[1] <= 0.0
    before = 0.5 * v * v + 0.2 * R * R * sum(w * w for w in spin)
    return (0.5 * (out[0] ** 2 + out[1] ** 2) + 0.2 * R * R * sum(w * w for w in out[2:])) / before


@example(1000.0, 0.0, (0.0, 0.0, 0.0), 1.0, 0.0, 1.0)
@given(
    st.floats(10, 4000), st.floats(-85, 85),
    st.tuples(*[st.floats(-250, 250)] * 3), st.floats(0.3, 1.0), st.floats(0, 0.4),
    st.floats(1.0, 1.5),
)  # fmt: skip
def test_energy_never_rises_and_the_ball_comes_off(v, angle, spin, e, grip, height):
    """It may rise by what the solution leaves out: a millionth of the speed, twice that here."""
    assert energy_kept(v, angle, spin, (e, grip, height, 0.21)) <= 1 + 2 * LEFT_OUT


@given(
    st.floats(10, 4000), st.floats(-85, 85),
    st.tuples(*[st.floats(-250, 250)] * 3), st.floats(0, 1), st.floats(0, 1),
    st.floats(1.0, 1.9), st.floats(0.01, 1.0),
)  # fmt: skip
# in small steps (slow as plain Python): friction drives the ball on; it is wedged
@example(142.0, 30.0, (-5.46, -5.41, 0.0), 0.73, 0.77, 1.84, 0.62)
@example(212.0, -26.5, (-7.2455, -3.5981, 0.0), 0.85, 0.87, 1.82, 0.9)
# nothing takes energy; nothing is given back, and the nose lifts nothing
@example(10.0, 0.0, (0.0, 0.0, 0.0), 1.0, 0.0, 1.0, 0.5)
@example(10.0, 0.0, (0.0, 0.0, 0.0), 1e-237, 0.0, 1.0, 1.0)
@settings(deadline=None)
@pytest.mark.slow
def test_any_condition_a_table_may_state(v, angle, spin, e, grip, height, cloth):
    """Energy to twice what the answer is right to, as nothing may be lost that could hide it."""
    assert energy_kept(v, angle, spin, (e, grip, height, cloth)) <= 1 + 2e-5


@given(st.floats(10, 4000), st.floats(0, 85), st.tuples(*[st.floats(-250, 250)] * 3))
def test_mirror_across_the_normal(v, angle, spin):
    one = rebound(v, angle, spin=spin)
    two = rebound(v, -angle, spin=(spin[0], -spin[1], -spin[2]))
    mirrored = (-two[0], two[1], two[2], -two[3], -two[4])
    assert one == pytest.approx(mirrored, abs=1e-9 * v)


def test_a_ball_moving_off_is_left_alone():
    state = (3.0, -2.0, 1.0, 1.0, 1.0)
    assert cushion_impact(*state, 0.0, 1.0, R, *MODEL) == state


def test_level_cushion_at_seven_tenths_sends_a_rolling_ball_off_rolling():
    # check row 17: 7/10 rule, derived in closed form
    v = 1000.0
    out = level_impact(0.0, v, -v / R, 0.0, 0.0, 1.0, R, 0.85, 1.4)
    assert out[1] == pytest.approx(-850.0, abs=1e-12)
    assert out[2] == pytest.approx(850.0 / R, abs=1e-12)


def test_level_cushion_as_a_condition_of_whole_shots():
    # check row 17, through the shot engine
    conditions = Conditions(
        cushion_level_push=1.0, cushion_restitution=0.85, cushion_height_ratio=1.4
    )
    trace = play(
        load_table("snooker-12ft"), conditions, [Ball("cue", "cue", 889.0, 3000.0)],
        Strike(1200.0, 0.4), math.pi / 2,
    )  # fmt: skip
    hit = next(event for event in trace.events if event.kind == "cushion")
    before = trace.velocities("cue", hit.t_s - 1e-9)[1]
    assert 1000.0 * hit.velocity_m_s[1] == pytest.approx(-0.85 * before, rel=1e-6)
    assert hit.spin_rad_s[0] * R == pytest.approx(0.85 * before, rel=1e-6)


@pytest.mark.parametrize("value", [0.5, -1.0, 2.0])
def test_level_cushion_is_on_or_off(value):
    with pytest.raises(OutOfRangeError, match="cushion_level_push"):
        Conditions(cushion_level_push=value)
