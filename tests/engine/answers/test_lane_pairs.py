"""How far apart lanes lie where the player points, and when a guess could be right for two."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from engine.answers import answer_shot
from engine.answers.distinct import APART_MM, lane_pairs, pointing_place
from engine.balls import Ball
from engine.routine.values import LaneAsk, Routine, Shot
from engine.storage import load_routine

FOLDER = Path(__file__).resolve().parents[3] / "layouts_demo"
CUE, BLUE = Ball("cue", "cue", 640.0, 1420.0), Ball("blue", "blue", 889.0, 1784.5)


def answered(*lanes):
    shot = Shot("s", "blue", "top-right", lanes=lanes)
    return answer_shot(Routine(balls=(CUE, BLUE), shots=(shot,)), "s")


def test_every_pair_is_told_once_with_the_distance_where_the_player_points():
    found = answered(LaneAsk("A", 0.5, 6), LaneAsk("B", "stun", 6), LaneAsk("C", -0.5, 6))
    pairs = lane_pairs(found)
    assert [(one.one, one.two) for one in pairs] == [("A", "B"), ("A", "C"), ("B", "C")]
    at = {lane.label: lane.first_cushion_mm or lane.stops_mm for lane in found.lanes}
    assert at["A"] == found.lanes[0].first_cushion_mm and at["B"] == found.lanes[1].stops_mm
    for one in pairs:
        assert one.distance_mm == pytest.approx(math.dist(at[one.one], at[one.two]))
        assert one.apart == (one.distance_mm >= APART_MM)


def test_without_a_cushion_the_player_points_at_where_it_stops():
    (lane,) = answered(LaneAsk("A", -0.1, 1.0)).lanes
    assert lane.first_cushion_mm is None
    assert pointing_place(lane) == pytest.approx(lane.stops_mm, abs=0.01)


def test_lanes_that_a_guess_cannot_tell_apart_are_warned_of():
    found = answered(LaneAsk("A", 0.30, 5), LaneAsk("B", 0.33, 5), LaneAsk("C", -0.5, 5))
    near = {(one.one, one.two): one for one in lane_pairs(found)}
    assert not near["A", "B"].apart and near["A", "C"].apart and near["B", "C"].apart
    # the threshold is the caller's to choose
    distance = near["A", "B"].distance_mm
    assert next(iter(lane_pairs(found, distance - 0.1))).apart
    assert not any(one.apart for one in lane_pairs(found, 5000.0))


def test_one_lane_or_a_lane_that_never_gets_there_makes_no_pair():
    assert lane_pairs(answered(LaneAsk("A", 0.5, 5))) == ()
    found = answered(LaneAsk("A", 0.5, 5), LaneAsk("B", -0.5, 5))
    stuck = replace(found.lanes[1], first_cushion_mm=None, path_mm=found.lanes[1].path_mm[:0])
    assert lane_pairs(replace(found, lanes=(found.lanes[0], stuck))) == ()


def test_demo_lanes_are_all_told_apart():
    for file in sorted(FOLDER.glob("*.json")):
        routine = load_routine(file)
        for shot in routine.shots:
            assert all(one.apart for one in lane_pairs(answer_shot(routine, shot.id))), file.name
