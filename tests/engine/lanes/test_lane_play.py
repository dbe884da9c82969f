"""Lanes played by the shot engine: aim, stun, arrival, angles, and the facts of the trade."""

import math
from dataclasses import replace

import numpy as np
import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.lanes import lane
from engine.playing import strike_name
from engine.potting import pot
from engine.results import Fact
from engine.routine.values import LaneAsk, Shot
from engine.tables import load_table

TABLE, REAL = load_table("snooker-12ft"), Conditions()
IDEAL = Conditions(
    ball_restitution=1.0, ball_friction_base=0.0, ball_friction_extra=0.0, sliding_friction=0.2,
    rolling_resistance=0.01,
)  # fmt: skip
BLACK = Ball("black", "black", 889.0, 3245.0)
CUE = Ball("cue", "cue", 1100.0, 2900.0)


def played(ask, balls=(CUE, BLACK), conditions=REAL, **shot_values):
    shot = Shot("s", "black", "top-left", **shot_values)
    return lane(TABLE, conditions, balls, shot, pot(TABLE, conditions, balls, shot), ask)


def cut_to(cut_deg, distance_mm=900.0, conditions=REAL):
    """The cue ball placed so that the plain cut on the black into top-left is `cut_deg`."""
    (ax, ay), (bx, by) = pot(
        TABLE, conditions, (CUE, BLACK), Shot("s", "black", "top-left")
    ).potting_line_mm
    line = math.atan2(by - ay, bx - ax)
    two = 2 * conditions.ball_radius_mm
    contact = (ax - two * math.cos(line), ay - two * math.sin(line))
    way = line - math.radians(cut_deg)
    return Ball(
        "cue",
        "cue",
        contact[0] - distance_mm * math.cos(way),
        contact[1] - distance_mm * math.sin(way),
    )


@pytest.mark.parametrize("tip", [0.5, 0.0, -0.5, "stun"])
def test_object_ball_leaves_along_the_potting_line_in_spite_of_throw(tip):
    found = played(LaneAsk("A", tip, 4))
    (ax, ay), (bx, by) = pot(
        TABLE, REAL, (CUE, BLACK), Shot("s", "black", "top-left")
    ).potting_line_mm
    vx, vy = found.contact.ball_after_m_s
    assert math.atan2(vy, vx) == pytest.approx(math.atan2(by - ay, bx - ax), abs=1e-6)
    assert found.throw_deg > 0.5 and found.object_potted


def test_side_and_raised_cue_are_aimed_by_playing_the_shot():
    found = played(LaneAsk("A", 0.1, 4, side=0.2, elevation_deg=5.0))
    (ax, ay), (bx, by) = pot(
        TABLE, REAL, (CUE, BLACK), Shot("s", "black", "top-left")
    ).potting_line_mm
    vx, vy = found.contact.ball_after_m_s
    assert math.atan2(vy, vx) == pytest.approx(math.atan2(by - ay, bx - ax), abs=1e-6)


def test_without_allowance_the_line_of_centres_is_the_potting_line():
    found = played(LaneAsk("A", 0.0, 3), allow_for_throw=False)
    (ax, ay), (bx, by) = pot(
        TABLE, REAL, (CUE, BLACK), Shot("s", "black", "top-left")
    ).potting_line_mm
    assert found.contact.centres_deg == pytest.approx(
        math.degrees(math.atan2(by - ay, bx - ax)), abs=1e-6
    )
    assert found.throw_deg > 0.5


@pytest.mark.parametrize(("throw", "cut", "tolerance"), [(1.443, 10.0, 0.02), (4.156, 30.0, 0.05)])
def test_stun_throw_of_published_rows(throw, cut, tolerance):
    """physics.md, check row 15 (cut 10, v <= 4; cut 30, v 1): Marlow's fit, e = 1."""
    conditions = Conditions(ball_restitution=1.0)
    balls = (cut_to(cut, 60.0, conditions), BLACK)
    # so near and so fast off the tip that it arrives at about 1 m/s, still without spin
    found = played(LaneAsk("A", "stun", speed_m_s=1.12), balls, conditions, allow_for_throw=False)
    assert found.arrival_speed_m_s == pytest.approx(1.0, abs=0.02)
    assert found.throw_deg == pytest.approx(throw, abs=tolerance)


@pytest.mark.parametrize("pace", [3.5, 4, 6, 9])
def test_stun_arrives_without_spin(pace):
    found = played(LaneAsk("A", "stun", pace))
    assert found.is_stun and found.strike_name == "stun"
    assert abs(found.spin_ratio_on_arrival) < 1e-6
    assert found.tip_height < 0.0, "stun over a distance needs a tip below centre"


@pytest.mark.parametrize(
    "ask",
    [
        LaneAsk("A", 0.0, 6.0),
        LaneAsk("A", -0.45, 6.0),
        LaneAsk("A", 0.3, 8.5, side=0.35),
        LaneAsk("A", "stun", 5.0),
        LaneAsk("A", "stun", 5.0, side=0.2, elevation_deg=5.0),
    ],
)
def test_the_ball_leaves_as_fast_as_its_stroke_and_its_tip_say(ask):
    """One stroke, and the speed told is the one played: of stun with the tip that was found."""
    found = played(ask)
    wanted = REAL.speed_mm_s(ask.pace, found.tip_height, ask.side)
    assert 1000.0 * found.speed_m_s == pytest.approx(wanted, rel=1e-12)
    assert found.pace == ask.pace
    struck = next(event for event in found.events if event.kind == "struck")
    assert 1000.0 * math.hypot(*struck.velocity_m_s) == pytest.approx(wanted, rel=1e-12)
    stated = played(replace(ask, speed_m_s=found.speed_m_s))
    assert stated.pace == pytest.approx(ask.pace, rel=1e-9), "the stroke that speed takes"
    assert stated.tip_height == pytest.approx(found.tip_height, abs=1e-9)


def test_stun_tip_is_the_closed_form():
    """(v²/μg)(β − β²/2) = distance, physics.md (Screw), for the plain line of an ideal pot."""
    found = played(LaneAsk("A", "stun", speed_m_s=2.0), conditions=IDEAL)
    ax, ay = found.approach_mm[0]
    bx, by = found.contact.at_mm
    beta = -found.tip_height
    assert 4.0 / (0.2 * 9.81) * (beta - beta**2 / 2) * 1000 == pytest.approx(
        math.hypot(bx - ax, by - ay), rel=1e-9
    )


def test_stun_out_of_reach_is_said_and_played_with_the_lowest_tip():
    found = played(LaneAsk("A", "stun", 2.5), (cut_to(30.0, 600.0), BLACK))
    assert not found.is_stun and found.tip_height == -0.5
    assert found.cautions[0].kind.startswith("no-stun")
    assert found.spin_ratio_on_arrival == pytest.approx(1.0)


def test_soft_full_screw_over_a_distance_arrives_without_backspin():
    """Fact of the trade (common practice, no source): from 0.6 m on at low pace."""
    found = played(LaneAsk("A", -0.5, 2.5), (cut_to(30.0, 600.0), BLACK))
    assert found.spin_ratio_on_arrival > 0.0
    assert Fact("backspin-gone") in found.cautions


@pytest.mark.parametrize(("e", "separation"), [(1.0, 90.0), (0.95, 87.521)])
def test_stun_separation(e, separation):
    """physics.md, check row 10 (cut 30): derived."""
    conditions = Conditions(ball_restitution=e, ball_friction_base=0.0, ball_friction_extra=0.0)
    found = played(LaneAsk("A", "stun", 6), (cut_to(30.0), BLACK), conditions)
    assert found.contact.separation_deg == pytest.approx(separation, abs=0.05)
    assert found.first_angle_deg == pytest.approx(separation, abs=0.05)


@pytest.mark.parametrize(
    ("cut", "deflection"), [(30.0, 33.670), (48.590, 27.267), (14.478, 27.626)]
)
def test_natural_roll_deflection(cut, deflection):
    """physics.md, check rows 6 and 7 (e = 1): Alciatore TP A.20."""
    found = played(LaneAsk("A", 0.4, speed_m_s=1.5), (cut_to(cut), BLACK), IDEAL)
    assert found.deflection_deg == pytest.approx(deflection, abs=0.05)
    assert found.spin_ratio_on_arrival == pytest.approx(1.0)


def test_bend_after_a_half_ball_roll():
    """physics.md, check row 12: lasts 0.2522 s, ends 260 mm off at 1.1157 m/s."""
    ball = Ball("black", "black", 889.0, 1600.0)
    cue = Ball("cue", "cue", 889.0 - 26.25, 1600.0 - 52.5 * math.cos(math.pi / 6) - 5.0)
    found = lane(
        TABLE, IDEAL, (cue, ball), Shot("s", "black", aim_deg=90.0), None,
        LaneAsk("A", 0.4, speed_m_s=2.0),
    )  # fmt: skip
    assert found.contact.cut_deg == pytest.approx(30.0, abs=0.01)
    assert found.contact.bend_s == pytest.approx(0.2522, rel=0.01)
    assert found.contact.bend_end_speed_m_s == pytest.approx(1.1157, rel=0.01)
    bend = math.dist(found.contact.at_mm, found.bend_end_mm)
    assert bend == pytest.approx(math.hypot(180.2, 187.2), rel=0.01)


def test_tip_order_gives_lane_order():
    """Fact of the trade (common practice, no source): the lower the tip, the farther back."""
    balls = (cut_to(35.0, 400.0), BLACK)
    turns = [played(LaneAsk("A", tip, 5), balls).deflection_deg for tip in (0.5, 0.2, -0.2, -0.5)]
    assert turns == sorted(turns) and turns[-1] - turns[0] > 20.0


def test_lane_runs_on_from_contact_to_rest():
    red = Ball("r1", "red", 1200.0, 2500.0)
    found = played(LaneAsk("A", 0.5, 4), (CUE, BLACK, red))
    assert found.path_mm[0] == pytest.approx(found.contact.at_mm)
    assert tuple(found.path_mm[-1]) == pytest.approx(found.stops_mm)
    assert np.concatenate(found.legs_mm)[-1] == pytest.approx(found.stops_mm)
    assert len(found.bounces) == len(found.legs_mm) - 1
    assert found.first_cushion == "top" == found.bounces[0].cushion
    assert dict(found.rests)["black"] is None and dict(found.rests)["r1"] == (1200.0, 2500.0)
    assert found.clear and found.clearances[0].clearance_mm > 0.0


def test_a_lane_that_touches_a_ball_goes_on_as_it_is_played():
    free = played(LaneAsk("A", 0.5, 4))
    x, y = free.path_mm[len(free.path_mm) // 2]
    red = Ball("r1", "red", float(x), float(y))
    found = played(LaneAsk("A", 0.5, 4), (CUE, BLACK, red))
    assert found.path_mm[-1] == pytest.approx(found.stops_mm)
    assert found.played_mm[-1] == pytest.approx(found.stops_mm)
    assert found.path_mm[-1] != pytest.approx(free.path_mm[-1], abs=50.0)
    assert dict(found.rests)["cue"] == found.stops_mm
    assert not found.clear and found.first_touched == "r1"
    (room,) = found.clearances
    assert room.clearance_mm == pytest.approx(-52.5, abs=0.1) and room.fullness > 0.9
    twice = [e for e in found.events if e.kind == "ball" and "r1" in (e.ball, e.other)]
    assert {(e.ball, e.other) for e in twice[:2]} == {("cue", "r1"), ("r1", "cue")}


def test_order_of_the_balls_in_the_routine_decides_nothing():
    red = Ball("r1", "red", 1120.0, 3350.0)
    one = played(LaneAsk("A", 0.3, 5), (CUE, BLACK, red))
    other = played(LaneAsk("A", 0.3, 5), (red, BLACK, CUE))
    assert one.played_mm == pytest.approx(other.played_mm)
    assert one.first_touched == other.first_touched


def test_shot_along_a_line_has_a_lane_from_the_start():
    shot = Shot("s", aim_deg=90.0)
    cue = Ball("cue", "cue", 500.0, 1000.0)
    found = lane(TABLE, REAL, (cue, BLACK), shot, None, LaneAsk("A", 0.4, speed_m_s=1.0))
    assert tuple(found.path_mm[0]) == (500.0, 1000.0) and len(found.approach_mm) == 0
    assert found.contact is None and math.isnan(found.deflection_deg)
    assert found.clearances[0].ball == "black"


def test_cue_ball_that_stops_short_says_so():
    found = played(LaneAsk("A", 0.0, speed_m_s=0.2), (cut_to(30.0, 1500.0), BLACK))
    assert len(found.path_mm) == 0 and not found.clear and found.contact is None
    assert Fact("short-of-object-ball") in found.cautions
    assert math.isnan(found.spin_ratio_on_arrival)


def test_blocked_way_is_a_caution():
    red = Ball("r1", "red", 1050.0, 3000.0)
    found = played(LaneAsk("A", 0.0, 4), (CUE, BLACK, red))
    assert Fact("meets-before-object-ball", ball="r1") in found.cautions


def test_fast_cushion_names_the_limit_of_the_model():
    cue = Ball("cue", "cue", 889.0, 2000.0)
    found = lane(TABLE, REAL, (cue,), Shot("s", aim_deg=90.0), None, LaneAsk("A", 0.4, 10))
    assert "fast-into-cushion" in [one.kind for one in found.cautions]


@pytest.mark.parametrize(
    ("ask", "words"),
    [(LaneAsk("A", 0.6), "miscue"), (LaneAsk("A", 0.0, 11), "1 to 10"),
     (LaneAsk("A", 0.0, speed_m_s=-1.0), "speed_m_s of lane A"),
     (LaneAsk("A", 0.0, elevation_deg=85), "elevation of lane A")],
)  # fmt: skip
def test_strikes_that_cannot_be_played_are_refused(ask, words):
    with pytest.raises(OutOfRangeError, match=words):
        played(ask)


@pytest.mark.parametrize(
    ("tip", "name"),
    [(0.5, "full top"), (0.3, "top"), (0.1, "run-through"), (-0.2, "screw"), (-0.45, "full screw"),
     (0.0, "centre")],
)  # fmt: skip
def test_strike_names(tip, name):
    assert strike_name(tip, 0.5) == name
