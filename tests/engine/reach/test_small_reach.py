"""Reach with a handful of strikes: each fate a try can have, held against the shot played out.

Quick both compiled and as plain Python, so that the compiled functions can be watched.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString

from engine.balls import Ball
from engine.conditions import Conditions
from engine.judging import outcomes
from engine.judging.outcomes import rooms
from engine.judging.rules import (
    BLOCKED,
    EDGE,
    IN_OFF,
    KISS,
    MISSES,
    NEVER_PLAYED,
    NOT_POTTED,
    SHORT_OF_BALL,
    STOPS_SHORT,
    THREADS,
    WRONG_BALL,
    WRONG_CUSHION,
)
from engine.judging.trying import WAY_LENGTH
from engine.lanes import lane
from engine.playing import laid_out_of
from engine.playing.aiming import aims
from engine.playing.aims import AIMED, BEHIND, SHORT, aim_many, sizes_of
from engine.potting import pot
from engine.reach import preview
from engine.routine.values import Gap, LaneAsk, Routine, Shot
from engine.shot import Strike, play
from engine.shot.layout import condition_values
from engine.tables import load_table

TABLE, CONDITIONS = load_table("snooker-12ft"), Conditions()
WIDE = Gap("wide", "cloth-area", points_mm=((5, 5), (1773, 5), (1773, 3564), (5, 3564)))
#: A pot into the top left pocket from near, with nothing else about.
CUE, BLACK = Ball("cue", "cue", 700.0, 3050.0), Ball("black", "black", 450.0, 3300.0)
POT = Shot("s", "black", "top-left")
#: From here it is a cut of 42 degrees, and the cue ball goes to the top cushion.
THIN = Ball("cue", "cue", 600.0, 2950.0)
TIPS = (-0.4, 0.0, 0.4)


def tried(gap, tip, pace, *, balls=(CUE, BLACK), shot=POT, **more):
    """(scene, outcomes) of a few strikes at one gap."""
    gaps = gap if isinstance(gap, tuple) else (gap,)
    plan = Routine(balls=balls, shots=(shot,), gaps=gaps)
    scene = laid_out_of(plan, "s", tuple(one.id for one in gaps))
    speed = scene.conditions.speed_mm_s(pace, tip)
    return scene, outcomes(scene, tip, speed, **more)


def told(found):
    return [int(one) for one in found.reason], [int(one) for one in found.other]


def lane_of(tip, pace, balls=(CUE, BLACK), shot=POT):
    answer = pot(TABLE, CONDITIONS, balls, shot)
    return lane(TABLE, CONDITIONS, balls, shot, answer, LaneAsk("A", tip, pace))


def played(scene, found, k, tip, pace):
    """The shot of one try, every ball in play."""
    strike = Strike(float(CONDITIONS.speed_mm_s(pace, tip)), tip)
    return play(TABLE, CONDITIONS, scene.balls, strike, float(found.direction_rad[k]))


def test_a_place_to_finish_is_judged_by_where_the_cue_ball_stops():
    scene, found = tried(WIDE, TIPS, 4.0, balls=(THIN, BLACK))
    assert told(found) == ([THREADS] * 3, [-1] * 3)
    for k, tip in enumerate(TIPS):
        trace = played(scene, found, k, tip, 4.0)
        x, y = trace.instant("cue", trace.duration_s).at_mm
        assert trace.potted == {"black": "top-left"}
        room = min(x - 5, 1773 - x, y - 5, 3564 - y)
        assert found.margin_mm[k] == pytest.approx(room, abs=0.01), tip


def test_a_slow_pot_that_stops_on_the_way_is_told():
    scene, found = tried(WIDE, TIPS, 2.0, balls=(THIN, BLACK))
    assert told(found) == ([NOT_POTTED, NOT_POTTED, THREADS], [-1] * 3)
    for k, tip in enumerate(TIPS):
        assert ("black" in played(scene, found, k, tip, 2.0).potted) == bool(found.threads[k])


def test_a_stretch_by_where_the_cushion_is_first_met():
    stretch = Gap("t", "cushion-stretch", cushion="top", from_mm=540.0, to_mm=600.0)
    _, found = tried(stretch, TIPS, 4.0, balls=(THIN, BLACK))
    assert told(found)[0] == [MISSES, THREADS, THREADS]
    for k, tip in enumerate(TIPS):
        x = lane_of(tip, 4.0, (THIN, BLACK)).first_cushion_mm[0]
        assert found.margin_mm[k] == pytest.approx(min(x - 540.0, 600.0 - x), abs=0.01), tip
    right = replace(stretch, cushion="right", from_mm=3000.0, to_mm=3500.0)
    _, found = tried(right, TIPS, 4.0, balls=(THIN, BLACK))
    assert told(found)[0] == [WRONG_CUSHION] * 3 and (found.margin_mm < -1000.0).all()


def test_a_cue_ball_left_on_the_cloth_stops_short_of_the_cushion():
    straight = (Ball("cue", "cue", 900.0, 3000.0), BLACK)
    stretch = Gap("t", "cushion-stretch", cushion="top", from_mm=0.0, to_mm=1700.0)
    _, found = tried(stretch, -0.4, 3.0, balls=straight)
    _, y = lane_of(-0.4, 3.0, straight).stops_mm
    assert told(found)[0] == [STOPS_SHORT]
    assert found.margin_mm[0] == pytest.approx(-(3569.0 - y - 26.25), abs=0.01)


def beside_the_lane(tip, pace, *, on=0.0):
    """The way's heading half way to its first cushion, and a place there, so much to the right."""
    leg = LineString(lane_of(tip, pace, (THIN, BLACK)).legs_mm[0])
    middle, next_to_it = (leg.interpolate(0.5 * leg.length + more) for more in (0.0, 1.0))
    ux, uy = next_to_it.x - middle.x, next_to_it.y - middle.y
    return ux, uy, middle.x + on * uy, middle.y - on * ux


def test_a_red_on_the_way_blocks_and_costs_what_it_overlaps():
    _, _, x, y = beside_the_lane(0.4, 4.0)
    balls = (THIN, BLACK, Ball("red", "red", x, y))
    scene, found = tried(WIDE, 0.4, 4.0, balls=balls)
    assert told(found) == ([BLOCKED], [2])
    assert -52.5 < found.margin_mm[0] < -30.0, "the red stands nearly in the middle of the way"
    first = [one.other for one in played(scene, found, 0, 0.4, 4.0).events if one.ball == "cue"
             and one.kind == "ball"]  # fmt: skip
    assert first[:2] == ["black", "red"]
    quick = outcomes(scene, 0.4, CONDITIONS.speed_mm_s(4.0, 0.4), margins=False)
    assert told(quick) == told(found), "only the margin is left unsure without margins"


def test_a_red_before_the_object_ball_is_the_wrong_ball():
    # half way, a little aside so that the pot as such can still be aimed
    between = Ball("red", "red", 520.0, 3110.0)
    _, found = tried(WIDE, TIPS, 5.0, balls=(THIN, BLACK, between))
    assert told(found) == ([WRONG_BALL] * 3, [2] * 3)
    # a way that never began has no room to tell of
    assert np.isnan(found.margin_mm).all()


def test_a_cannon_off_the_pot_by_which_side_is_met():
    _, _, x, y = beside_the_lane(0.0, 4.0, on=25.0)
    balls = (THIN, BLACK, Ball("red", "red", x, y))
    either, left, right = (
        tried(Gap("c", "cannon", ("red",), side=side), 0.0, 4.0, balls=balls)[1]
        for side in ("either", "left", "right")
    )
    assert either.threads[0] and left.threads[0] != right.threads[0]
    assert either.margin_mm[0] == pytest.approx(52.5 - 25.0, abs=6.0)
    met, missed = (left, right) if left.threads[0] else (right, left)
    assert told(missed)[0] == [MISSES] and missed.margin_mm[0] < 0.0 < met.margin_mm[0]
    away = Gap("c", "cannon", ("far",))
    _, never = tried(away, 0.0, 4.0, balls=(THIN, BLACK, Ball("far", "red", 1500.0, 500.0)))
    assert told(never)[0] == [MISSES] and never.margin_mm[0] < -500.0


def test_between_two_reds_and_then_to_rest():
    pace = CONDITIONS.pace_at(1500.0, -0.4)
    ux, uy, x, y = beside_the_lane(-0.4, pace)
    # 70 mm to the left of the way, 75 mm to the right
    balls = (THIN, BLACK, Ball("r1", "red", x - 70 * uy, y + 70 * ux),
             Ball("r2", "red", x + 75 * uy, y - 75 * ux))  # fmt: skip
    pair = Gap("pair", "ball-ball", ("r1", "r2"))
    _, found = tried(pair, -0.4, pace, balls=balls)
    assert told(found)[0] == [THREADS]
    # the way bends a little, so the straight line to the cushion is no exact measure
    assert found.margin_mm[0] == pytest.approx(70.0 - 52.5, abs=8.0)
    _, both = tried((pair, WIDE), -0.4, pace, balls=balls)
    _, swapped = tried((WIDE, pair), -0.4, pace, balls=balls)
    assert told(both)[0] == [THREADS] and both.margin_mm[0] <= found.margin_mm[0]
    assert not swapped.threads[0], "at rest nothing is left to pass through"


def test_an_edge_of_the_gap_in_the_way_is_its_edge():
    _, _, x, y = beside_the_lane(0.4, 4.0, on=30.0)
    balls = (THIN, BLACK, Ball("red", "red", x, y))
    _, found = tried(Gap("g", "ball-cushion", ("red",), "left"), 0.4, 4.0, balls=balls)
    assert told(found) == ([EDGE], [2])
    assert found.margin_mm[0] == pytest.approx(30.0 - 52.5, abs=6.0)


def test_the_object_ball_met_again_is_a_kiss():
    balls = (Ball("cue", "cue", 1540.0, 2590.0), Ball("black", "black", 1250.0, 2730.0))
    pace = CONDITIONS.pace_at(2500.0, 0.3)
    scene, found = tried(WIDE, 0.3, pace, balls=balls, shot=Shot("s", "black", "middle-left"))
    assert told(found) == ([KISS], [1])
    met = [one for one in played(scene, found, 0, 0.3, pace).events if one.kind == "ball"
           and one.ball == "cue"]  # fmt: skip
    assert [one.other for one in met[:2]] == ["black", "black"] and met[1].t_s > met[0].t_s


def test_in_off_before_and_after_the_gap_is_done():
    shot = Shot("s", "black", "top-right")
    straight = (Ball("cue", "cue", 690.0, 2430.0), Ball("black", "black", 1120.0, 2880.0))
    pace = CONDITIONS.pace_at(2000.0, 0.2)
    scene, found = tried(WIDE, 0.2, pace, balls=straight, shot=shot)
    assert told(found)[0] == [IN_OFF] and found.margin_mm[0] <= -26.25
    assert "cue" in played(scene, found, 0, 0.2, pace).potted
    thin = (Ball("cue", "cue", 1380.0, 2510.0), Ball("black", "black", 1280.0, 2980.0),
            Ball("red", "red", 1500.0, 600.0))  # fmt: skip
    half = Gap("half", "ball-cushion", ("red",), "left")
    pace = CONDITIONS.pace_at(2500.0, 0.5)
    scene, found = tried(half, 0.5, pace, balls=thin, shot=shot)
    assert told(found)[0] == [IN_OFF], "the gap is passed first, then the cue ball falls"
    assert set(played(scene, found, 0, 0.5, pace).potted) == {"cue", "black"}


def test_a_cue_ball_that_does_not_get_there_is_short():
    weak = Conditions(pace_speeds_m_s=tuple(0.05 + 0.01 * k for k in range(10)))
    plan = Routine(balls=(CUE, BLACK), shots=(POT,), gaps=(WIDE,),
                   conditions={"pace_speeds_m_s": list(weak.pace_speeds_m_s)})  # fmt: skip
    scene = laid_out_of(plan, "s", ("wide",))
    found = outcomes(scene, TIPS, weak.speed_mm_s(1.0, TIPS))
    assert told(found) == ([SHORT_OF_BALL] * 3, [-1] * 3) and not found.threads.any()


def test_strikes_nobody_can_play_are_not_played():
    _, found = tried(WIDE, (0.6, 0.3, 0.3), 4.0, side=(0.0, 0.45, 0.0),
                     speed_error_mm_s=(0.0, 0.0, -9000.0))  # fmt: skip
    assert told(found)[0] == [NEVER_PLAYED] * 3 and np.isnan(found.margin_mm).all()


def test_a_shot_along_a_direction_needs_no_object_ball():
    up = Shot("s", aim_deg=90.0)
    cue = Ball("cue", "cue", 889.0, 800.0)
    stretch = Gap("t", "cushion-stretch", cushion="top", from_mm=839.0, to_mm=959.0)
    scene, found = tried(stretch, (0.0, 0.0), (3.0, 1.0), balls=(cue,), shot=up)
    assert scene.target < 0 and told(found)[0] == [THREADS, STOPS_SHORT]
    assert found.margin_mm[0] == pytest.approx(50.0)
    into = Shot("s", aim_deg=math.degrees(math.atan2(-800.0, -889.0)))
    _, fell = tried(WIDE, 0.0, 6.0, balls=(cue,), shot=into)
    assert told(fell)[0] == [IN_OFF], "aimed at the bottom left pocket"
    reds = (cue, Ball("red", "red", 930.0, 1500.0))
    _, blocked = tried(WIDE, 0.0, 4.0, balls=reds, shot=up)
    assert told(blocked) == ([BLOCKED], [1])
    room = rooms(laid_out_of(Routine(balls=reds, shots=(up,), gaps=(WIDE,)), "s", ("wide",)),
                 0.0, CONDITIONS.speed_mm_s(4.0, 0.0),
                 np.array([[ball.centre_mm for ball in reds]]))  # fmt: skip
    assert room[0, 1] == pytest.approx(41.0 - 52.5, abs=1e-6)


def test_a_way_of_very_many_cushions_is_followed_as_far_as_it_is_kept():
    # cushions that take nothing and a cloth that hardly brakes: over thirty times across
    given = {"rolling_resistance": 0.001, "sliding_friction": 0.01, "cushion_restitution": 1.0,
             "cushion_friction": 0.0}  # fmt: skip
    smooth = Conditions(**given)
    cue, speed = Ball("cue", "cue", 889.0, 700.0), 5000.0
    plan = Routine(balls=(cue,), shots=(Shot("s", aim_deg=0.2),), gaps=(WIDE,), conditions=given)
    found = outcomes(laid_out_of(plan, "s", ("wide",)), 0.0, speed)
    trace = play(TABLE, smooth, (cue,), Strike(speed, 0.0), math.radians(0.2))
    assert len([one for one in trace.events if one.kind == "cushion"]) > WAY_LENGTH
    assert found.threads[0] and 0.0 < found.margin_mm[0] <= 884.0, "judged by what is kept of it"


def test_places_of_their_own_for_every_try():
    scene, one = tried(WIDE, 0.2, 4.0, balls=(THIN, BLACK))
    places = np.repeat(scene.places_mm[None], 3, axis=0)
    places[1, 0] += (40.0, -60.0)
    places[2] += (0.0, 10.0)
    found = outcomes(scene, 0.2, CONDITIONS.speed_mm_s(4.0, 0.2) * np.ones(3), places_mm=places)
    assert found.margin_mm[0] == one.margin_mm[0] and found.threads.all()
    for k in range(3):
        moved = tuple(replace(ball, x_mm=float(x), y_mm=float(y))
                      for ball, (x, y) in zip(scene.balls, places[k], strict=True))  # fmt: skip
        _, alone = tried(WIDE, 0.2, 4.0, balls=moved)
        assert found.direction_rad[k] == pytest.approx(float(alone.direction_rad[0]), abs=1e-12)
        assert found.margin_mm[k] == pytest.approx(float(alone.margin_mm[0]), abs=1e-6)


def test_room_to_balls_beside_the_free_way():
    ux, uy, x, y = beside_the_lane(0.0, 4.0)
    balls = (THIN, BLACK, Ball("r", "red", x + 200 * uy, y - 200 * ux))
    plan = Routine(balls=balls, shots=(POT,), gaps=(WIDE,))
    scene = laid_out_of(plan, "s", ("wide",))
    found = rooms(scene, 0.0, CONDITIONS.speed_mm_s(4.0, 0.0), scene.places_mm[None])
    (clear,) = [one.clearance_mm for one in lane_of(0.0, 4.0, balls).clearances if one.ball == "r"]
    assert found[0, 2] == pytest.approx(clear, abs=0.05), "compiled and shapely agree"


@pytest.mark.parametrize("throw", [True, False])
def test_aims_are_those_of_the_lanes(throw):
    shot = replace(POT, allow_for_throw=throw)
    scene, _ = tried(WIDE, 0.0, 4.0, balls=(THIN, BLACK), shot=shot)
    found, _ = aims(
        scene, np.array(TIPS), CONDITIONS.speed_mm_s(4.0, np.array(TIPS)), scene.places_mm[None]
    )
    for k, tip in enumerate(TIPS):
        direction = lane_of(tip, 4.0, (THIN, BLACK), shot).aim_deg
        assert math.degrees(found[k]) % 360.0 == pytest.approx(direction % 360.0, abs=1e-6)
    assert (np.ptp(found) > 1e-6) == throw, "the line of centres is the same for every strike"


def aimed_at(line_deg, *, cue=(0.0, 0.0), ball=(500.0, 0.0), speed=3000.0, c=CONDITIONS):
    direction, state = np.empty(1), np.empty(1, dtype=np.int64)
    aim_many(
        np.array([cue]), np.array([ball]), np.array([math.radians(line_deg)]), np.array([speed]),
        np.array([0.0]), np.array([0.0]), sizes_of(c), condition_values(c), True, direction, state,
    )  # fmt: skip
    return float(direction[0]), int(state[0])


def test_aims_that_cannot_be():
    assert aimed_at(0.0) == (pytest.approx(0.0), AIMED)
    assert aimed_at(120.0)[1] == BEHIND, "the ball would have to come back"
    assert aimed_at(10.0, speed=100.0)[1] == SHORT
    # touching: the cue ball is driven along the line of centres
    assert aimed_at(0.0, ball=(52.5, 0.0)) == (pytest.approx(0.0), AIMED)
    # no line of centres near 90 degrees lets throw be made up for
    direction, state = aimed_at(83.9)
    assert state == AIMED and math.isfinite(direction)


def test_a_coarse_map_is_its_tries_one_by_one():
    stretch = Gap("t", "cushion-stretch", cushion="top", from_mm=540.0, to_mm=600.0)
    scene, _ = tried(stretch, 0.0, 4.0, balls=(THIN, BLACK))
    found = preview(scene, tips=3, paces=4)
    assert found.threads.shape == (3, 4) and found.tried.all() and found.tries == 12
    tip, pace = (one.ravel() for one in np.meshgrid(found.tip_heights, found.paces, indexing="ij"))
    _, each = tried(stretch, tip, pace, balls=(THIN, BLACK))
    assert (found.threads.ravel() == each.threads).all()
    np.testing.assert_array_equal(found.reason.ravel(), each.reason)
    assert found.windows and found.windows[0].best_margin_mm == pytest.approx(
        np.nanmax(found.margin_mm[found.threads])
    )
    i, j = found.nearest_miss()
    assert not found.threads[i, j] and found.margin_mm[i, j] == np.nanmax(
        found.margin_mm[~found.threads]
    )
