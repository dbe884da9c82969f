"""Side, a raised cue and the nap: what the coach's plain default leaves out."""

import math

import numpy as np
import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.shot import Strike, play, play_many
from engine.tables import load_table

TABLE = load_table("snooker-12ft")
CUE = Ball("cue", "cue", 889.0, 600.0)
UP = math.pi / 2


def test_level_side_leaves_the_way_straight():
    trace = play(TABLE, Conditions(), [CUE], Strike(1500.0, 0.0, side=0.4), UP)
    way = trace.path_mm("cue", 0.0, 1.2)
    assert np.abs(way[:, 0] - 889.0).max() < 1e-6


def test_raised_cue_with_right_side_swerves_first_left_then_right():
    # common practice, no source: a ball struck down with right side leaves to the left of nothing
    # here (squirt is not modelled) and curves to the right
    trace = play(TABLE, Conditions(), [CUE], Strike(1500.0, 0.0, 0.4, elevation_deg=30.0), UP)
    first = next(e.t_s for e in trace.events if e.kind == "rolling")
    x = trace.positions("cue", np.linspace(0.0, first, 50))[:, 0]
    assert x[-1] > 889.0 + 5.0 and np.all(np.diff(x) > -1e-9)


def test_side_changes_the_rebound_from_a_cushion():
    angles = []
    for side in (-0.4, 0.0, 0.4):
        trace = play(TABLE, Conditions(), [CUE], Strike(2500.0, 0.2, side), UP)
        hit = next(e for e in trace.events if e.kind == "cushion")
        angles.append(math.degrees(math.atan2(hit.velocity_m_s[0], -hit.velocity_m_s[1])))
    # right side (anticlockwise spin) sends the ball off to the right from the top cushion
    assert angles[0] < -3.0 and angles[1] == pytest.approx(0.0, abs=1e-9) and angles[2] > 3.0


def test_nap_is_off_by_default_and_pulls_a_slow_ball_up_the_table_when_on():
    # common practice, no source: a slow ball across the nap drifts with it
    across = [
        play(TABLE, Conditions(nap_drift=pull), [CUE], Strike(900.0, 0.4), 0.0).positions(
            "cue", 4.0
        )[1]
        for pull in (0.0, 0.001, 0.002)
    ]
    assert across[0] == pytest.approx(600.0, abs=1e-9)
    assert 600.5 < across[1] < across[2] < 700.0


def test_nap_does_not_bend_a_ball_played_straight_up_the_table():
    trace = play(TABLE, Conditions(nap_drift=0.002), [CUE], Strike(1200.0, 0.4), UP)
    assert np.abs(trace.path_mm("cue")[:, 0] - 889.0).max() < 1e-6
    assert not trace.cut_short


@pytest.mark.parametrize(
    ("strike", "direction", "word"),
    [
        (Strike(0.0), UP, "speed"),
        (Strike(math.nan), UP, "speed"),
        (Strike(1000.0, 0.4, 0.4), UP, "tip offset"),
        (Strike(1000.0), math.inf, "direction"),
        (Strike(1000.0, elevation_deg=80.0), UP, "elevation"),
    ],
)
def test_strikes_that_cannot_be_played(strike, direction, word):
    with pytest.raises(OutOfRangeError, match=word):
        play(TABLE, Conditions(), [CUE], strike, direction)
    with pytest.raises(OutOfRangeError, match=word):
        play_many(
            TABLE, Conditions(), [CUE], strike.speed_mm_s, direction,
            tip_height=strike.tip_height, side=strike.side, elevation_deg=strike.elevation_deg,
        )  # fmt: skip


def test_no_cue_ball_is_told():
    with pytest.raises(UnknownNameError, match="cue ball"):
        play(TABLE, Conditions(), [Ball("r", "red", 500.0, 500.0)], Strike(1000.0), UP)


def test_wrong_shape_of_places_is_told():
    with pytest.raises(OutOfRangeError, match="shape of places_mm"):
        play_many(TABLE, Conditions(), [CUE], [1000.0] * 3, UP, places_mm=np.zeros((2, 1, 2)))
