"""What the guide tells of side at a cushion, from the engine itself."""

import math

import pytest

from engine.answers import answer_shot
from engine.balls import Ball
from engine.routine.values import LaneAsk, Routine, Shot

CUE = Ball("cue", "cue", 889.0, 3000.0)


def leaves_deg(aim_deg, speed_m_s, side):
    """The direction the cue ball leaves the top cushion in."""
    lane = LaneAsk("A", 0.0, 4.0, side=side, speed_m_s=speed_m_s)
    shot = Shot("s", aim_deg=aim_deg, lanes=(lane,))
    (found,) = answer_shot(Routine(balls=(CUE,), shots=(shot,)), "s").lanes
    assert found.bounces[0].cushion == "top"
    vx, vy = found.bounces[0].after_m_s
    return math.degrees(math.atan2(vy, vx))


@pytest.mark.parametrize("speed_m_s", [1.0, 2.0, 3.0, 4.0])
@pytest.mark.parametrize(("aim_deg", "least", "most"), [(95.0, 10.0, 15.5), (135.0, 1.0, 11.0)])
def test_how_far_8_mm_of_side_turns_the_way_off_a_cushion(aim_deg, speed_m_s, least, most):
    plain = leaves_deg(aim_deg, speed_m_s, 0.0)
    for side in (-0.3, 0.3):
        turned = leaves_deg(aim_deg, speed_m_s, side) - plain
        # common practice, no source: right side turns it to the right as it comes off
        assert math.copysign(1.0, turned) == math.copysign(1.0, side)
        assert least < abs(turned) < most
