"""Aims, plans, gaps and cautions where something is missing, out of reach or not settled."""

import math
from dataclasses import replace
from importlib import import_module
from typing import ClassVar

import numpy as np
import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.judging.passes import gap_pass
from engine.judging.touching import first_touch
from engine.judging.way import Way
from engine.lanes import lane
from engine.lanes.band import _common_legs
from engine.lanes.cautions import _off_target
from engine.playing.aiming import aim_of, root_near
from engine.playing.edges import gap_ends_mm
from engine.playing.laid_out import laid_out
from engine.playing.plan import plan, stun_height
from engine.playing.strikes import Struck, check_strike
from engine.potting import pot
from engine.results import Fact
from engine.routine.values import Gap, LaneAsk, Shot
from engine.tables import load_table

TABLE, REAL = load_table("snooker-12ft"), Conditions()
CUE, BLACK = Ball("cue", "cue", 1100.0, 2900.0), Ball("black", "black", 889.0, 3245.0)
POT, ALONG = Shot("s", "black", "top-left"), Shot("s", aim_deg=60.0)


def scene(balls=(CUE, BLACK), shot=POT, conditions=REAL):
    return laid_out(TABLE, conditions, balls, shot)


def played(ask, balls=(CUE, BLACK), conditions=REAL, shot=POT):
    answer = pot(TABLE, conditions, balls, shot) if shot.pocket else None
    return lane(TABLE, conditions, balls, shot, answer, ask)


def test_a_ball_cannot_be_met_from_behind():
    behind = Ball("black", "black", 1100.0, 3400.0)
    with pytest.raises(OutOfRangeError, match=r"less than 90°.*Choose another pocket"):
        aim_of(scene((CUE, behind), Shot("s", "black", "bottom-left")), Struck(2000.0, 0.0))
    touching = Ball("cue", "cue", 889.0 + 52.5, 3245.0)
    pots = Shot("s", "black", "top-left", allow_for_throw=False)
    line = float(scene((touching, BLACK), pots).line_rad(np.array([[(0, 0), (889.0, 3245.0)]]))[0])
    at = (889.0 - 52.5 * math.cos(line), 3245.0 - 52.5 * math.sin(line))
    found = aim_of(scene((Ball("cue", "cue", *at), BLACK), pots), Struck(2000.0, 0.0))
    assert found == pytest.approx(line), "touching: driven along the line of centres"


def test_a_root_is_found_or_none_is_claimed():
    assert root_near(lambda x: math.sin(x) - 0.25, 0.0, 1.0) == pytest.approx(math.asin(0.25))
    assert root_near(lambda x: 0.0, 0.3, 1.0) == 0.3, "already there"
    assert root_near(lambda x: 0.5, 0.0, 1.0) is None, "flat: no secant"
    assert root_near(lambda x: None, 0.0, 1.0) is None
    assert root_near(lambda x: 1.0 if x == 0.0 else None, 0.0, 1.0) is None
    assert root_near(lambda x: 1.0 + x * x, 0.1, 0.2) is None, "there is none"

    def refuses(x):
        if x > 0.5:
            raise OutOfRangeError("the cut", "95°", "less than 90°")
        return -1.0

    assert root_near(refuses, 0.0, 1.0) is None


def test_a_shot_without_a_pocket_has_no_line_to_pot_along():
    for shot in (Shot("s", "black"), Shot("s")):
        with pytest.raises(OutOfRangeError, match="wanted an object ball and its pocket"):
            scene((CUE, BLACK), shot)


def test_stun_is_for_object_balls_that_screw_can_reach():
    with pytest.raises(OutOfRangeError, match="without a pot"):
        plan(scene(shot=ALONG), LaneAsk("A", "stun", 4))
    assert stun_height(scene(shot=ALONG), LaneAsk("A", speed_m_s=2.0)) is None
    assert stun_height(scene(), LaneAsk("A", speed_m_s=0.2)) is None, (
        "at a crawl the backspin is gone long before"
    )
    tip = stun_height(scene(), LaneAsk("A", speed_m_s=2.5))
    assert -REAL.tip_limit < tip < 0.0


def test_an_aim_with_swerve_leaves_the_line_of_centres_on_the_potting_line_without_throw():
    shot = replace(POT, allow_for_throw=False)
    found = played(LaneAsk("A", 0.1, 4, side=0.25, elevation_deg=8.0), shot=shot)
    (ax, ay), (bx, by) = pot(TABLE, REAL, (CUE, BLACK), shot).potting_line_mm
    wanted = math.degrees(math.atan2(by - ay, bx - ax))
    assert found.contact.centres_deg == pytest.approx(wanted, abs=1e-5)
    thrown = played(LaneAsk("A", 0.1, 4, side=0.25, elevation_deg=8.0))
    assert thrown.contact.centres_deg != pytest.approx(wanted, abs=1e-3)


def test_a_swerving_cue_ball_that_stops_short_keeps_its_plain_aim():
    slow = Conditions(pace_speeds_m_s=tuple(0.1 + 0.01 * k for k in range(10)))
    found = played(LaneAsk("A", 0.1, 1, side=0.25, elevation_deg=8.0), conditions=slow)
    assert found.cautions == (Fact("short-of-object-ball"),)
    plain = played(LaneAsk("A", 0.1, 1), conditions=slow)
    assert found.aim_deg == pytest.approx(plain.aim_deg, abs=1e-6)


def test_a_tip_lower_than_the_cue_can_get_is_warned_of():
    # a cue ball tight on a cushion, the cue over it
    tight = Ball("cue", "cue", 889.0, 26.25)
    blue = Ball("blue", "blue", 889.0, 700.0)
    shot = Shot("s", "blue", "middle-left")
    answer = pot(TABLE, REAL, (tight, blue), shot)
    assert answer.lowest_tip > -0.4
    found = played(LaneAsk("A", -0.45, 4), (tight, blue), shot=shot)
    (told,) = [one for one in found.cautions if one.kind == "tip-too-low"]
    assert told.tip == answer.lowest_tip and told.then == answer.lowest_tip_reason


def test_a_strike_word_that_is_no_number_is_refused():
    with pytest.raises(OutOfRangeError, match='a number or "stun"'):
        check_strike(LaneAsk("A", "drag", 4), REAL)
    with pytest.raises(OutOfRangeError, match="less than 80°"):
        check_strike(LaneAsk("A", 0.1, 4, elevation_deg=85.0), REAL)


def test_legs_are_shared_as_long_as_the_cushions_agree():
    assert _common_legs([["top", "left"], ["top", "left"], ["top", "left", "bottom"]]) == 3
    assert _common_legs([["top", "left"], ["top", "right"]]) == 2
    assert _common_legs([["top"], []]) == 1


RED = Ball("a", "red", 800.0, 1500.0)


def way(*points, balls=(RED,), **more):
    legs = (np.array(points, dtype=float),)
    return Way("L", legs, tuple(balls), 26.25, **{"stops_mm": tuple(legs[0][-1]), **more})


UP = way((900.0, 1000.0), (900.0, 2000.0))


@pytest.mark.parametrize(
    ("gap", "error", "words"),
    [
        (Gap("g", "cushion-stretch", cushion="upper", from_mm=0.0, to_mm=9.0), UnknownNameError,
         "upper"),
        (Gap("g", "cannon"), OutOfRangeError, "wanted one ball"),
        (Gap("g", "ball-ball", ("a",)), OutOfRangeError, "2 of them"),
        (Gap("g", "ball-cushion", ("a",), "upper"), UnknownNameError, "upper"),
        (Gap("g", "in-order", gaps=("h",)), OutOfRangeError, "one gap at a time"),
        (Gap("g", "luck"), UnknownNameError, "luck"),
    ],
)  # fmt: skip
def test_gaps_that_name_what_is_not_there_are_refused(gap, error, words):
    with pytest.raises(error, match=words):
        gap_pass(TABLE, (gap,), (RED,), UP, UP)
    if gap.kind == "ball-cushion":
        with pytest.raises(error, match=words):
            gap_ends_mm(TABLE, gap, (RED,))


def test_a_cannon_on_a_ball_that_is_played_is_none():
    found = gap_pass(TABLE, (Gap("g", "cannon", ("black",)),), (RED,), UP, UP)
    assert not found.threads and math.isnan(found.margin_mm)
    assert found.reason.kind == "cannon-ball-gone"


def test_a_ball_before_cushion_area_or_cannon_is_told():
    guard = Ball("guard", "red", 930.0, 1400.0)
    top = way((900.0, 1000.0), (900.0, 3542.75), balls=(guard,), first_cushion="top",
              first_cushion_mm=(900.0, 3542.75))  # fmt: skip
    stretch = Gap("g", "cushion-stretch", cushion="top", from_mm=800.0, to_mm=1000.0)
    found = gap_pass(TABLE, (stretch,), (guard,), top, top)
    assert not found.threads and found.reason == Fact("meets-before-cushion", ball="guard")
    assert found.margin_mm == pytest.approx(-(52.5 - 30.0))
    far = Ball("a", "red", 900.0, 1900.0)
    both = way((900.0, 1000.0), (900.0, 2000.0), balls=(far, guard))
    cannon = gap_pass(TABLE, (Gap("g", "cannon", ("a",)),), (far, guard), both, both)
    assert not cannon.threads and cannon.reason == Fact("meets-first", ball="guard")


def test_no_gaps_in_order_are_refused():
    with pytest.raises(OutOfRangeError, match="one or more"):
        gap_pass(TABLE, (), (RED,), UP, UP, "both")


def test_a_shot_in_which_too_much_happens_says_that_it_is_cut_short(monkeypatch):
    usual = played(LaneAsk("A", 0.3, 5))
    assert Fact("cut-short") not in usual.cautions
    monkeypatch.setattr(import_module("engine.shot.play"), "MOST_EVENTS", 3)
    # another pace: a lane's free part is kept from call to call
    found = played(LaneAsk("A", 0.31, 5))
    assert Fact("cut-short") in found.cautions


def test_an_object_ball_in_another_pocket_is_told():
    class Free:
        potted: ClassVar = {"black": "top-right"}

    told = _off_target(scene(), Free())
    assert told == (Fact("other-pocket", pocket="top-right"),)
    Free.potted = {"black": "top-left"}
    assert _off_target(scene(), Free()) == ()
    Free.potted = {}
    assert _off_target(scene(), Free()) == (Fact("object-ball-stays-out"),)


def test_a_cue_ball_struck_from_touching_arrives_as_it_was_struck():
    (ax, ay), (bx, by) = pot(TABLE, REAL, (CUE, BLACK), POT).potting_line_mm
    far = math.dist((ax, ay), (bx, by))
    behind = (ax - 52.5 * (bx - ax) / far, ay - 52.5 * (by - ay) / far)
    found = played(LaneAsk("A", 0.4, 3), (Ball("cue", "cue", *behind), BLACK))
    # 5/2 of the tip height, with nothing worn off on the way
    assert found.contact.t_s == pytest.approx(0.0, abs=1e-9)
    assert found.spin_ratio_on_arrival == pytest.approx(1.0, abs=1e-3)
    assert found.arrival_speed_m_s == pytest.approx(found.speed_m_s, rel=1e-6)


def test_a_leg_too_short_to_point_anywhere_meets_nothing():
    dot = np.array([[100.0, 100.0], [100.0, 100.0]])
    onward = np.array([[100.0, 100.0], [100.0, 500.0]])
    touch = first_touch((dot, onward), (100.0, 300.0), 52.5)
    assert touch is not None and touch.along_mm == pytest.approx(200.0 - 52.5)
    assert touch.after_cushions == 1, "the leg is counted all the same"
    assert first_touch((dot,), (100.0, 300.0), 52.5) is None
    assert first_touch((onward[:1],), (100.0, 300.0), 52.5) is None
