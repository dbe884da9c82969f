"""The table and conditions of a routine."""

import pytest

from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine


def test_defaults():
    assert conditions_of(Routine()) == Conditions()
    assert table_of(Routine()).id == "snooker-12ft"


def test_stated_values_take_the_place_of_defaults_and_are_cached():
    routine = Routine(conditions={"ball_restitution": 1.0, "ball_radius_mm": 26.0})
    found = conditions_of(routine)
    assert (found.ball_restitution, found.ball_radius_mm) == (1.0, 26.0)
    assert found.sliding_friction == Conditions().sliding_friction
    assert conditions_of(Routine(conditions=dict(routine.conditions))) is found


def test_pace_speeds_may_be_a_list():
    speeds = [0.1 * n for n in range(1, 11)]
    found = conditions_of(Routine(conditions={"pace_speeds_m_s": speeds}))
    assert found.speed_mm_s(1.0, 0.0) == pytest.approx(100)


@pytest.mark.parametrize(
    "stated",
    [
        {"ball_restitution": 1.5},
        {"ball_restitution": "high"},
        {"ball_restitution": True},
        {"ball_restitution": float("nan")},
        {"ball_restitution": {"a": 1}},
        {"pace_speeds_m_s": 3},
        {"pace_speeds_m_s": [1, 2]},
        {"pace_speeds_m_s": [[1], 2]},
    ],
)
def test_impossible_values_say_which_condition(stated):
    with pytest.raises(OutOfRangeError, match=f"condition {next(iter(stated))}"):
        conditions_of(Routine(conditions=stated))


def test_unknown_condition_lists_the_known_ones():
    with pytest.raises(UnknownNameError, match="sliding_friction"):
        conditions_of(Routine(conditions={"speed_of_cloth": 1.0}))


def test_measured_pocket_openings_reach_the_table():
    assert (
        table_of(Routine(pocket_openings_mm={"top-left": 85})).pocket("top-left").opening_mm == 85
    )
