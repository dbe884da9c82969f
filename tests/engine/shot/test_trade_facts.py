"""What every coach knows of a half-ball pot, as the engine plays it on the regulation table.

Every fact here is common practice, no source. The set-up: an object ball in the middle of the
table, cut half-ball to the left, nothing in the way.
"""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from engine.balls import Ball
from engine.motion.cloth import stun_tip_height
from engine.shot import Strike, play
from tests.engine.shot.aiming import NeverMetError, cut_shot, rolling_start
from tests.engine.shot.random_shots import CONDITIONS, RADIUS, regulation

HALF_BALL = 30.0
G = 9810.0


def half_ball(strike, distance=600.0, conditions=CONDITIONS):
    """The half-ball pot on the regulation table."""
    return cut_shot(
        regulation(), conditions, HALF_BALL, distance, strike, object_mm=(889.0, 1500.0)
    )  # fmt: skip


def stun(distance, speed, conditions=CONDITIONS, side=0.0):
    """The half-ball pot that arrives without spin."""
    tip = float(stun_tip_height(distance, speed, conditions.sliding_friction, G))
    return half_ball(Strike(speed, tip, side), distance, conditions)


def test_tip_order_gives_lane_order():
    # common practice, no source: the lower the tip, the further back the cue ball comes
    tips = np.linspace(0.5, -0.5, 21)
    found = [half_ball(Strike(1800.0, float(tip)), 400.0).deflection_deg() for tip in tips]
    assert all(lower > higher for higher, lower in pairwise(found))
    assert found[0] < 35.0 and found[-1] > 90.0


@pytest.mark.parametrize("speed", [1000.0, 2000.0, 3000.0])
def test_tips_between_stun_and_top_give_lanes_between(speed):
    # common practice, no source: stun run-through lies between stun and top
    distance = 150.0
    low = float(stun_tip_height(distance, speed, CONDITIONS.sliding_friction, G))
    tips = np.linspace(low, 0.4, 9)
    found = [half_ball(Strike(speed, float(tip)), distance).deflection_deg() for tip in tips]
    assert found[0] == pytest.approx(60.0, abs=3.0)  # square to the line of centres, less 2.5
    assert all(higher < lower for lower, higher in pairwise(found))


def shifts_along_the_90_degree_line(conditions):
    """How far along it the cue ball is when it rolls again, at medium to firm pace."""
    away, found = math.radians(HALF_BALL - 90.0), []
    for speed in (1000.0, 1600.0, 2400.0):
        met = half_ball(rolling_start(speed, 600.0, conditions), conditions=conditions)
        along, aside = met.place("cue", met.bend_s())
        found.append(along * math.cos(away) + aside * math.sin(away))
    return found


def test_a_firm_top_shot_passes_farther_along_the_90_degree_line():
    # common practice, no source: pace carries the cue ball wide before the top takes
    medium, between, firm = shifts_along_the_90_degree_line(CONDITIONS)
    assert 1.5 * medium < between and 1.5 * between < firm
    # derived: without friction between the balls it grows as the square of the speed
    smooth = replace(CONDITIONS, ball_friction_base=0.0, ball_friction_extra=0.0)
    medium, _, firm = shifts_along_the_90_degree_line(smooth)
    assert firm / medium == pytest.approx(2.4**2, rel=1e-4)


def test_soft_full_screw_over_a_distance_arrives_with_no_backspin():
    # common practice, no source. Under about 0.9 m/s full screw does not even go 0.6 m
    arrived = 0
    for speed in np.arange(700.0, 1301.0, 50.0):
        for distance in (600.0, 750.0, 900.0):
            try:
                met = half_ball(Strike(float(speed), -0.5), distance)
            except NeverMetError:
                assert speed < 1250.0
                continue
            arrived += 1
            assert met.spin_ratio >= 0.0
            assert met.deflection_deg() < 37.0  # it runs on like any rolling ball
    assert arrived > 10


def test_firm_full_screw_over_the_same_distance_keeps_its_backspin():
    # the other side of the same fact
    assert half_ball(Strike(3000.0, -0.5), 600.0).spin_ratio < -0.3


def top_directions(cut, conditions):
    """Final directions of a rolling cue ball at soft and at medium pace (speed at contact)."""
    found = []
    for speed in (750.0, 1350.0):
        strike = rolling_start(speed, 600.0, conditions)
        met = cut_shot(regulation(), conditions, cut, 600.0, strike, object_mm=(889.0, 1500.0))
        assert met.spin_ratio == pytest.approx(1.0, abs=1e-6)
        found.append(met.deflection_deg())
    return found


@pytest.mark.parametrize(("cut", "within"), [(15.0, 0.6), (30.0, 0.5), (45.0, 0.5)])
def test_soft_and_medium_top_end_on_the_same_direction(cut, within):
    # common practice, no source. Friction between balls is greater at low slip and takes more of
    # a soft shot's top, so that in this model the two end within 0.5 degrees of their mean (0.6
    # at a thick hit); without it they are one
    soft, medium = top_directions(cut, CONDITIONS)
    assert abs(soft - medium) < 2 * within
    smooth = replace(CONDITIONS, ball_friction_base=0.0, ball_friction_extra=0.0)
    soft, medium = top_directions(cut, smooth)
    assert soft == pytest.approx(medium, abs=1e-3)


@pytest.mark.parametrize("distance", [300.0, 600.0])
@pytest.mark.parametrize("speed", [2000.0, 3000.0])
def test_stun_over_a_distance_needs_a_tip_below_centre(distance, speed):
    # common practice, no source
    tip = float(stun_tip_height(distance, speed, CONDITIONS.sliding_friction, G))
    assert tip < -0.05
    assert half_ball(Strike(speed, tip), distance).spin_ratio == pytest.approx(0.0, abs=1e-6)
    assert half_ball(Strike(speed, 0.0), distance).spin_ratio > 0.1


@pytest.mark.parametrize(
    ("restitution", "apart", "tolerance"), [(1.0, 90.0, 0.01), (0.95, 87.52, 0.3)]
)
def test_the_first_line_is_square_to_the_line_of_centres(restitution, apart, tolerance):
    # common practice, no source: the 90-degree line; e = 0.95 makes it 87.5 (derived). Friction
    # between the balls takes a little of the cue ball's way across: within 0.3 degrees
    met = stun(300.0, 1800.0, replace(CONDITIONS, ball_restitution=restitution))
    assert met.centres_deg - met.direction_deg("cue") == pytest.approx(apart, abs=tolerance)


@pytest.mark.parametrize("side", [-0.4, -0.2, 0.2, 0.4])
@pytest.mark.parametrize("speed", [1500.0, 3000.0])
def test_side_does_not_steer_the_cue_ball_off_the_object_ball(speed, side):
    # common practice, no source: side throws the object ball a little and leaves the cue ball's
    # line alone but for the same small impulse. The impulse of throw is at most mu(0) of the
    # normal one either way, so the line turns at most from
    # atan2(across - k, back) to atan2(across + k, back), k = mu(0)(1 + e)/2 cos(cut)
    plain, sided = stun(200.0, speed), stun(200.0, speed, side=side)
    cut, e = math.radians(plain.centres_deg), CONDITIONS.ball_restitution
    back = (1 - e) / 2 * math.cos(cut)
    most = CONDITIONS.ball_friction_base + CONDITIONS.ball_friction_extra
    throw = most * (1 + e) / 2 * math.cos(cut)
    low = math.degrees(math.atan2(math.sin(cut) - throw, back))
    high = math.degrees(math.atan2(math.sin(cut) + throw, back))
    turned = sided.direction_deg("cue") - plain.direction_deg("cue")
    assert high - low < 1.1
    assert abs(turned) <= high - low
    for met in (plain, sided):
        assert low <= met.centres_deg - met.direction_deg("cue") <= high
    # the object ball is thrown by up to some degrees, and the final line within 1.5
    assert abs(sided.direction_deg("object") - plain.direction_deg("object")) > 0.3
    assert abs(sided.deflection_deg() - plain.deflection_deg()) < 1.5


def test_side_changes_the_rebound_off_a_cushion():
    # common practice, no source: running side widens the angle, check side narrows it
    angles = {}
    for side in (-0.4, 0.0, 0.4):
        cue = Ball("cue", "cue", 500.0, 3000.0)
        trace = play(regulation(), CONDITIONS, [cue], Strike(1500.0, 0.0, side), math.radians(55.0))
        hit = next(event for event in trace.events if event.kind == "cushion")
        assert hit.other == "top"
        x, y = trace.velocities("cue", hit.t_s)
        angles[side] = math.degrees(math.atan2(x, -y))
    # towards the right, right side runs along the top cushion
    assert angles[0.4] - angles[0.0] > 3.0
    assert angles[0.0] - angles[-0.4] > 3.0


def test_side_alone_does_not_bend_the_way_of_a_level_cue():
    # common practice, no source: swerve needs a raised cue
    cue = Ball("cue", "cue", 889.0, 500.0)
    level = play(regulation(), CONDITIONS, [cue], Strike(1500.0, 0.0, 0.4), math.pi / 2)
    raised = play(regulation(), CONDITIONS, [cue], Strike(1500.0, 0.0, 0.4, 20.0), math.pi / 2)
    assert abs(level.positions("cue", 1.0)[0] - 889.0) < 1e-6
    assert abs(raised.positions("cue", 1.0)[0] - 889.0) > RADIUS / 4
