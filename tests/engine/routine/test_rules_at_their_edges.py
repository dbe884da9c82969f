"""Rules seldom broken: how a value is shown, how many there may be, parts that are not there."""

import math

import numpy as np
import pytest

from engine.balls import Ball
from engine.problems import problems_of
from engine.routine.context import table_of
from engine.routine.mirror import mirrored
from engine.routine.rules import breaches
from engine.routine.rules.breach import shown
from engine.routine.settle import settle
from engine.routine.values import Gap, LaneAsk, Routine, Shot
from engine.tables import load_table

TABLE = load_table("snooker-12ft")
CUE = Ball("cue", "cue", 500.0, 700.0)


def told(routine):
    return {breach.path: breach.message for breach in breaches(routine)}


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (3.5, "3.5"), ("red", '"red"'), (None, "null"), (math.nan, "not a number"),
        (-math.inf, "infinite"), ({1, }, "{1}"), ([1, "a"], '[1, "a"]'),
        ("x" * 80, '"' + "x" * 56 + "..."),
    ],
)  # fmt: skip
def test_a_value_is_shown_as_it_would_stand_in_a_file(value, text):
    assert shown(value) == text


def test_an_aim_that_is_no_number():
    found = told(Routine(balls=(CUE,), shots=(Shot("s", aim_deg=math.inf),)))
    assert found == {"shots[0].aim_deg": "is infinite, wanted a finite number of degrees"}


def test_an_in_order_gap_names_plain_gaps_alone():
    plain = Gap("left", "cushion-stretch", cushion="left", from_mm=500.0, to_mm=900.0)
    ring = Gap("ring", "in-order", gaps=("left", "ring"))
    lost = Gap("lost", "in-order", gaps=("lefd",))
    found = told(Routine(balls=(CUE,), gaps=(plain, ring, lost)))
    wanted = "wanted the id of a gap that is not in-order itself: left"
    assert found == {
        "gaps[1].gaps[1]": f'is "ring", {wanted}',
        "gaps[2].gaps[0]": f'is "lefd", {wanted}; did you mean "left"?',
    }


def test_too_many_tags_and_too_many_balls_are_told_with_the_most_there_may_be():
    tags = tuple(f"tag {number}" for number in range(41))
    assert told(Routine(tags=tags)) == {"tags": "is a list of 41, wanted at most 40"}
    assert told(Routine(tags=tags[:40])) == {}
    balls = tuple(Ball(f"b{n}", "red", 100.0 + n, 200.0) for n in range(101))
    assert told(Routine(balls=balls)) == {"balls": "is 101, wanted at most 100"}
    assert told(Routine(balls=balls[:100])) == {}


def test_a_nose_that_cannot_be_judged_is_not_judged_twice():
    """A ratio that is no number is its own fault; whether the cue ball fits it is not asked."""
    found = told(Routine(conditions={"cue_ball_radius_mm": 24.0, "cushion_height_ratio": "high"}))
    assert list(found) == ["conditions.cushion_height_ratio"]
    # 1.4 · 26.25 = 36.75 mm is the nose: over the middle of any ball to 36.75, under its top
    low = told(Routine(conditions={"cue_ball_radius_mm": 12.0}))
    assert list(low) == ["conditions.cue_ball_radius_mm"]


def test_a_tip_height_in_a_word_that_is_none():
    lane = LaneAsk("A", "centre")
    shot = Shot("s", "cue", lanes=(lane,))
    found = told(Routine(balls=(CUE,), shots=(shot,)))
    wanted = 'is "centre", wanted a number from -0.5 to 0.5 or "stun"'
    assert found["shots[0].lanes[0].tip_height"] == wanted


def test_a_ball_the_bed_has_no_room_for_stays_where_it_is():
    wide = 2000.0  # wider than the table
    assert settle(Routine(balls=(CUE,)), TABLE, wide, "cue", (900.0, 1800.0)) == CUE.centre_mm
    assert settle(Routine(), TABLE, wide, "new", (900.0, 1800.0)) == (900.0, 1800.0)


@pytest.mark.parametrize(
    ("axis", "aim", "wanted"),
    [("long", 30.0, 150.0), ("long", 350.0, 190.0), ("cross", 30.0, 330.0), ("cross", 270.0, 90.0)],
)
def test_an_aim_is_mirrored_like_its_direction(axis, aim, wanted):
    """(cos, sin) with the first turned round across the long line, the second across the cross."""
    shot = Shot("s", aim_deg=aim)
    found = mirrored(Routine(balls=(CUE,), shots=(shot,)), TABLE, axis).shots[0].aim_deg
    assert found == pytest.approx(wanted)
    sign = np.array([-1.0, 1.0]) if axis == "long" else np.array([1.0, -1.0])
    before = np.array([math.cos(math.radians(aim)), math.sin(math.radians(aim))])
    after = np.array([math.cos(math.radians(found)), math.sin(math.radians(found))])
    assert after == pytest.approx(before * sign, abs=1e-12)


def test_a_stretch_is_mirrored_along_its_cushion_and_stays_a_stretch():
    side = Gap("a", "cushion-stretch", cushion="left", from_mm=500.0, to_mm=900.0, side="left")
    end = Gap("b", "cushion-stretch", cushion="top", from_mm=100.0, to_mm=400.0)
    base = Routine(balls=(CUE,), gaps=(side, end))
    across, along = mirrored(base, TABLE, "long").gaps, mirrored(base, TABLE, "cross").gaps
    assert (across[0].cushion, across[0].from_mm, across[0].to_mm) == ("right", 500.0, 900.0)
    assert (across[1].cushion, across[1].from_mm, across[1].to_mm) == ("top", 1378.0, 1678.0)
    assert (along[0].cushion, along[0].from_mm, along[0].to_mm) == ("left", 2669.0, 3069.0)
    assert (along[1].cushion, along[1].from_mm, along[1].to_mm) == ("bottom", 100.0, 400.0)
    assert across[0].side == "right"
    for axis in ("long", "cross"):
        assert mirrored(mirrored(base, TABLE, axis), TABLE, axis) == base
    assert table_of(base) is TABLE and not [p for p in problems_of(base) if p.gap]
