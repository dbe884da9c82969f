"""The guide's tables of runs and screw are the engine's, and the engine's follow closed forms."""

import math

import pytest

from designer.guide.how_far import PACES, PAGE, page_text, tables
from engine.conditions import Conditions
from engine.shot.lengths import screw_back_mm
from engine.tables import load_table

TABLE = load_table("snooker-12ft")
#: Balls that part as fast as they meet and do not rub each other.
IDEAL = Conditions(ball_restitution=1.0, ball_friction_base=0.0, ball_friction_extra=0.0)


def cells(name):
    """The figures of a table, row by row."""
    return [line.strip("| ").split(" | ") for line in tables()[name].splitlines()[2:]]


@pytest.mark.slow
def test_the_page_is_as_the_engine_works_it_out():
    """After a change of the engine: python .ci/guide_tables.py"""
    text = PAGE.read_text(encoding="utf-8")
    assert page_text(text) == text
    assert text.count("<!-- end -->") == 2 and text.count("\n| 10 |") == 2


def test_more_pace_runs_farther_and_a_lower_tip_screws_farther_back():
    runs = [[float(one) for one in row[3:]] for row in cells("run")]
    assert [row[0] for row in cells("run")] == [str(pace) for pace in PACES]
    for column in zip(*runs, strict=True):
        assert list(column) == sorted(column)
    for row in cells("screw"):
        back = [0.0 if one == "–" else float(one.removeprefix("over ")) for one in row[1:]]
        assert back[:3] == sorted(back[:3]) and back[3:] == sorted(back[3:])


@pytest.mark.parametrize(("speed", "tip", "away"), [(2000.0, -0.5, 300.0), (6000.0, -0.2, 1000.0)])
def test_screw_comes_back_as_far_as_the_closed_forms_say(speed, tip, away):
    """Sliding: speed v - μg t, spin Rω + (5/2) μg t; stopped dead by an equal ball; 2/7 of the
    spin's rim speed is left once it rolls (rigid-body mechanics, Coriolis 1835)."""
    grip, drag = (9810.0 * one for one in (IDEAL.sliding_friction, IDEAL.rolling_resistance))
    seconds = (speed - math.sqrt(speed**2 - 2.0 * grip * away)) / grip
    rim = -2.5 * tip * speed - 2.5 * grip * seconds
    rolls = 2.0 * rim / 7.0
    back = rolls**2 / (2.0 * grip) + rolls**2 / (2.0 * drag)
    assert rim > 0.0
    assert screw_back_mm(TABLE, IDEAL, speed, tip, away) == pytest.approx(back, rel=1e-9)


def test_a_ball_that_stops_short_comes_back_by_nothing():
    assert screw_back_mm(TABLE, IDEAL, 100.0, -0.5, 1000.0) == 0.0
    assert screw_back_mm(TABLE, IDEAL, 2000.0, 0.4, 300.0) < 0.0, "top runs on"
