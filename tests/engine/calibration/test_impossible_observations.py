"""Observations no table could give are told with a reason; those that can happen are not."""

import pytest

from engine.calibration import Observation
from engine.calibration.calibrate import calibrate
from engine.calibration.plausibility import impossible
from engine.conditions import Conditions, usual_conditions
from engine.tables import load_table
from tests.engine.calibration.club import Club

TABLE = load_table("snooker-12ft")
LANE = {
    "pace": 5, "cue_x_mm": 889, "cue_y_mm": 2570, "ball_x_mm": 1031, "ball_y_mm": 3141,
    "pocket": "top-right", "cushion": "top", "at_mm": 800,
}  # fmt: skip
BANK = {
    "pace": 5, "cue_x_mm": 889, "cue_y_mm": 1428, "cushion": "right", "at_mm": 2141,
    "then_cushion": "top", "then_mark_mm": 300,
}  # fmt: skip
#: Kind and cells, the kind of the reason, and words of it.
CASES = [
    ("roll", {"distance_mm": 1500, "time_s": 0}, "not-above-zero", "time_s is 0"),
    ("roll", {"distance_mm": -5, "time_s": 2}, "not-above-zero", "distance_mm is -5"),
    ("roll", {"distance_mm": 1500, "time_s": 2, "then_mm": -3}, "below-zero", "then_mm is -3"),
    ("roll", {"distance_mm": 5000, "time_s": 5},
     "ball-runs-too-far", "farther than the table allows"),
    ("roll", {"distance_mm": 1500, "time_s": 0.2}, "no-such-cloth", "rolling resistance of"),
    ("roll", {"distance_mm": 1500, "time_s": 60}, "no-such-cloth", "rolling resistance of"),
    ("rebound", {"free_mm": 800, "distance_mm": 900, "rest_mm": 10},
     "stops-before-cushion", "stops before it gets"),
    ("rebound", {"free_mm": 2000, "distance_mm": 900, "rest_mm": 1500},
     "comes-back-too-far", "comes back 1500 mm"),
    ("up-and-down", {"pace": 12, "start_mm": 700, "lengths": 2},
     "off-the-pace-scale", "pace is 12"),
    ("up-and-down", {"pace": 3, "start_mm": 9000, "lengths": 2}, "starts-off-bed", "off the bed"),
    ("up-and-down", {"pace": 3, "start_mm": 700, "cushions": 1.5, "rest_mm": 900},
     "no-count-of-cushions", "whole number"),
    ("up-and-down", {"pace": 3, "start_mm": 700, "cushions": 0, "rest_mm": 600},
     "stops-behind-its-start", "behind where"),
    ("up-and-down", {"pace": 3, "start_mm": 700, "lengths": 40},
     "too-many-lengths", "lengths is 40"),
    ("pace-time", {"pace": 3, "distance_mm": 2800, "time_s": 0.1},
     "too-fast", "faster than any ball"),
    ("stun", {"pace": 3, "tip": 0.2, "distance_mm": 500}, "no-screw", "only screw"),
    ("stun", {"pace": 3, "tip": -0.9, "distance_mm": 500}, "miscue", "a miscue"),
    ("lane", {**LANE, "cue_x_mm": -50}, "cue-ball-off-bed", "the cue ball at -50"),
    ("lane", {**LANE, "ball_x_mm": 889, "ball_y_mm": 2590}, "two-balls-overlap", "overlap"),
    ("lane", {**LANE, "pocket": "top"}, "not-one-of", "pocket is “top”"),
    ("lane", {**LANE, "pocket": "bottom-left"}, "back-at-cue-ball", "come back at the cue ball"),
    ("lane", {**LANE, "cushion": "upper"}, "not-one-of", "cushion is “upper”"),
    ("lane", {**LANE, "at_mm": 2500}, "beyond-cushion", "beyond the top cushion"),
    ("bank", {**BANK, "then_cushion": "right", "then_mark_mm": 100},
     "one-cushion-twice", "twice running"),
    ("bank", {**BANK, "then_mark_mm": 5000}, "beyond-cushion", "beyond the top cushion"),
    ("roll", {"distance_mm": 3000, "time_s": 0.15},
     "too-fast", "it runs at 20.0 m/s, faster than any ball"),
    ("up-and-down", {"pace": 3, "start_mm": 700, "cushions": 1, "rest_mm": 4000},
     "stops-off-bed", "stops at 4000"),
    ("pace-time", {"pace": 3, "distance_mm": 4500, "time_s": 2},
     "timed-too-far", "timed over 4500 mm"),
    ("stun", {"pace": 3, "tip": -0.3, "distance_mm": 4500},
     "ball-runs-too-far", "runs 4500 mm, farther"),
    ("lane", {k: v for k, v in {**LANE, "to_x_mm": 889, "to_y_mm": 0}.items() if k != "pocket"},
     "back-at-cue-ball", "come back at the cue ball"),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "cells", "reason"), [case[:3] for case in CASES])
def test_the_reason_is_told(kind, cells, reason):
    assert impossible(Observation(kind, cells), TABLE, Conditions()).kind == reason


@pytest.mark.slow
def test_what_a_table_really_gives_is_possible():
    for seed in range(3):
        club = Club(seed)
        for one in club.observations():
            assert impossible(one, club.table, usual_conditions(club.table)) is None, one


def test_nothing_but_impossible_observations_changes_nothing():
    found = calibrate([Observation("roll", {"distance_mm": 1500, "time_s": 0}, 2)], TABLE)
    assert found.after == found.before == Conditions()
    assert found.stated == {} and found.findings == ()
    assert [note.kind for note in found.notes] == ["none-usable"]
