"""Lengths of the table that a pace runs."""

import pytest

from engine.conditions import Conditions
from engine.shot.lengths import table_lengths
from engine.tables import load_table


def test_a_ball_that_meets_no_cushion_runs_its_sliding_and_rolling_way():
    """Sliding 12 v²/(49 μs g), then rolling at 5/7 v: (5/7 v)²/(2 μr g) (rigid-body mechanics)."""
    table, conditions = load_table("snooker-12ft"), Conditions()
    speed, g = 700.0, 1000.0 * conditions.gravity_m_s2
    slide = 12.0 * speed**2 / (49.0 * conditions.sliding_friction * g)
    roll = (5.0 / 7.0 * speed) ** 2 / (2.0 * conditions.rolling_resistance * g)
    run = table.length_mm - 2 * conditions.cue_radius_mm
    assert slide + roll < run
    assert table_lengths(table, conditions, speed) == pytest.approx((slide + roll) / run, rel=1e-3)


def test_more_pace_runs_farther_and_a_shorter_table_is_run_more_often():
    table, conditions = load_table("snooker-12ft"), Conditions()
    found = [table_lengths(table, conditions, 1000.0 * v) for v in (0.5, 1.0, 2.0, 3.0, 5.0)]
    assert found == sorted(found) and found[-1] < 12.0
    assert table_lengths(load_table("snooker-10ft"), conditions, 2000.0) > found[2]
