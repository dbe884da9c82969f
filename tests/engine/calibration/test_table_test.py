"""The two-minute test: what it asks for can be played, and what was read becomes observations."""

import math

import pytest

from engine.calibration.plausibility import impossible
from engine.calibration.table_test import READINGS, observed, planned
from engine.conditions import usual_conditions
from engine.errors import OutOfRangeError
from engine.potting.pockets import pocket_window
from engine.tables import load_table, table_ids

READ = {
    "lengths": 1.6, "stretch_mm": 900.0, "stretch_s": 3.8, "free_mm": 2800.0, "ramp_mm": 1100.0,
    "back_mm": 560.0, "mark_mm": 500.0,
}  # fmt: skip


@pytest.mark.parametrize("table_id", table_ids())
def test_every_stroke_can_be_played_on_every_table(table_id):
    table = load_table(table_id)
    usual = usual_conditions(table)
    share = table.length_mm / 3569.0
    read = {name: value * share if name.endswith("_mm") else value for name, value in READ.items()}
    rows = observed(table, usual, read)
    assert [one.kind for one in rows] == ["up-and-down", "roll", "rebound", "lane"]
    # the time over a shorter stretch is shorter: only that reading may be off elsewhere
    assert [impossible(one, table, usual) for one in rows if one.kind != "roll"] == [None] * 3


def test_the_pot_is_a_half_ball():
    table = load_table("snooker-12ft")
    usual = usual_conditions(table)
    pot = planned(table, usual)[-1]
    cue, ball = ((pot.number(f"{one}_x_mm"), pot.number(f"{one}_y_mm")) for one in ("cue", "ball"))
    line = pocket_window(table.pocket("top-right"), ball, usual.ball_radius_mm).direction_rad
    x, y = (ball[0] - usual.touch_mm * math.cos(line), ball[1] - usual.touch_mm * math.sin(line))
    aim = math.atan2(y - cue[1], x - cue[0])
    assert math.degrees(aim - line) == pytest.approx(30.0, abs=0.2)


def test_a_stroke_left_out_is_left_out_and_half_of_one_is_told():
    table = load_table("snooker-12ft")
    usual = usual_conditions(table)
    only = {name: READ[name] for name in ("stretch_mm", "stretch_s")}
    (row,) = observed(table, usual, only)
    assert (row.kind, row.number("time_s"), row.number("then_mm")) == ("roll", 3.8, 0.0)
    assert observed(table, usual, {}) == ()
    with pytest.raises(OutOfRangeError, match="ramp_mm"):
        observed(table, usual, {"free_mm": 2800.0, "back_mm": 560.0})
    assert set(READ) == set(READINGS)
