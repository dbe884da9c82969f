"""Routines of version 1 open with the speeds, lanes and claims they had, each with an id."""

import json
from dataclasses import replace
from pathlib import Path
from uuid import UUID

import numpy as np
import pytest

from engine.answers import answer, answer_shot
from engine.errors import RoutineFileError
from engine.routine.context import conditions_of
from engine.routine.values import STUN
from engine.storage import dump_routine, load_routine, parse_routine
from tests.shares import share

FILES = sorted((Path(__file__).parent / "version_1").glob("*.json"))
HEAD = {"format": "baizewright-routine", "version": 1}
CUE = {"id": "cue", "kind": "cue", "x_mm": 600, "y_mm": 2600}
BLACK = {"id": "black", "kind": "black", "x_mm": 889, "y_mm": 3245}

each_file = pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)


def opened(lanes, **more):
    shots = [{"id": "s", "object_ball": "black", "pocket": "top-right", "lanes": lanes}]
    return parse_routine(json.dumps({**HEAD, "balls": [CUE, BLACK], "shots": shots, **more}))


def speeds(routine):
    """The speed (m/s) of every lane's ball, by what the engine plays."""
    return [lane.speed_m_s for lane in answer_shot(routine, "s").lanes]


def as_it_was(file):
    """The routine with the speed of version 1 stated for each lane: half the pace, in m/s."""
    old, routine = json.loads(file.read_text(encoding="utf-8")), load_routine(file)
    shots = []
    for shot, was in zip(routine.shots, old["shots"], strict=True):
        paces = [lane.get("pace", 4.0) for lane in was["lanes"]]
        lanes = zip(shot.lanes, paces, strict=True)
        stated = tuple(replace(lane, speed_m_s=0.5 * pace) for lane, pace in lanes)
        shots.append(replace(shot, lanes=stated))
    return replace(routine, shots=tuple(shots))


@each_file
def test_its_lanes_are_those_of_the_speeds_it_was_written_with(file):
    routine, was = load_routine(file), as_it_was(file)
    compared = 0
    for shot in routine.shots:
        found, wanted = answer_shot(routine, shot.id), answer_shot(was, shot.id)
        for ours, theirs in zip(found.lanes, wanted.lanes, strict=True):
            assert ours.speed_m_s == pytest.approx(theirs.speed_m_s, rel=1e-14)
            assert np.abs(ours.path_mm - theirs.path_mm).max() <= 1e-6
            compared += 1
    assert compared == sum(len(shot.lanes) for shot in routine.shots) > 0


@pytest.mark.parametrize("file", share(FILES, 4), ids=lambda file: file.stem)
@pytest.mark.slow
def test_its_claims_hold_as_they_did(file):
    found = answer(load_routine(file), chances=False)
    assert found.claims and found.all_claims_hold


@each_file
def test_opened_twice_it_is_the_same_routine_and_saved_it_stays_so(file):
    one, two = load_routine(file), load_routine(file)
    assert one.id == two.id == str(UUID(one.id))
    assert parse_routine(dump_routine(one)) == one


def test_every_file_is_another_routine():
    assert len({load_routine(file).id for file in FILES}) == len(FILES) == 11


def test_a_tip_off_the_middle_gets_the_stroke_that_gives_its_ball_the_same_speed():
    tips = (0.0, 0.4, -0.5, 0.1)
    lanes = [{"label": str(k), "tip_height": tip, "pace": 6} for k, tip in enumerate(tips)]
    lanes[3]["side"] = 0.3
    routine = opened(lanes)
    assert speeds(routine) == pytest.approx([3.0] * 4, rel=1e-14)
    middle, top, low, across = (lane.pace for lane in routine.shots[0].lanes)
    assert middle == pytest.approx(5.0 + 5.0 / 7.0), "3 m/s between paces 5 (2.5) and 6 (3.2)"
    assert middle < across < top < low


def test_a_lane_without_a_pace_had_that_of_two_metres_a_second():
    assert speeds(opened([{"label": "A", "tip_height": -0.5}])) == pytest.approx([2.0], rel=1e-14)
    plain = opened([{"label": "A"}])
    assert plain.shots[0].lanes[0].pace == 4.0 and speeds(plain) == [2.0]


def test_a_stated_speed_stays_and_stun_states_its_own():
    lanes = [{"label": "A", "tip_height": -0.4, "pace": 9, "speed_m_s": 1.5},
             {"label": "B", "tip_height": STUN, "pace": 7}]  # fmt: skip
    routine = opened(lanes)
    assert speeds(routine) == [1.5, 3.5]
    assert routine.shots[0].lanes[1].tip_height == STUN


def test_a_scale_of_the_files_own_stays_and_what_is_beyond_it_states_its_speed():
    scale = [0.4 * pace for pace in range(1, 11)]
    lanes = [{"label": "A", "tip_height": -0.5, "pace": 5},
             {"label": "B", "tip_height": -0.5, "pace": 10}]  # fmt: skip
    routine = opened(lanes, conditions={"pace_speeds_m_s": scale})
    assert list(conditions_of(routine).pace_speeds_m_s) == scale
    assert speeds(routine) == pytest.approx([2.0, 4.0], rel=1e-14)
    assert [lane.speed_m_s for lane in routine.shots[0].lanes] == [None, 4.0]


@pytest.mark.parametrize(
    "more",
    [
        {"table": "uk-pool-7ft"},
        {"table": "pool-9ft"},
        {"conditions": {"ball_mass_kg": 0.2}},
        {"conditions": {"cue_ball_mass_kg": 0.12}},
        {"conditions": {"cue_ball_mass_kg": None, "ball_mass_kg": 0.16}},
        {"measured_table": {"values": {"ball_mass_kg": 0.139}}},
        {"measured_table": {"values": {"cue_ball_mass_kg": 0.13}}},
    ],
)
def test_the_cue_balls_own_mass_is_counted_with(more):
    balls = [{**CUE, "x_mm": 300, "y_mm": 800}, {**BLACK, "x_mm": 450, "y_mm": 1000}]
    lanes = [{"label": "A", "tip_height": -0.5, "pace": 6}]
    shots = [{"id": "s", "aim_deg": 45, "lanes": lanes}]
    routine = parse_routine(json.dumps({**HEAD, "balls": balls, "shots": shots, **more}))
    assert speeds(routine) == pytest.approx([3.0], rel=1e-14)


def test_a_range_of_paces_in_a_claim_is_that_of_the_same_speeds():
    gap = {"id": "g", "kind": "cushion-stretch", "cushion": "left", "from_mm": 1, "to_mm": 900}
    claim = {"kind": "gap-reachable", "shot": "s", "gap": "g", "pace_min": 3.8, "pace_max": 10}
    routine = opened([], gaps=[gap], claims=[claim])
    assert (routine.claims[0].pace_min, routine.claims[0].pace_max) == (3.8, 8.0)


def test_names_that_mean_something_now_are_kept_as_remarks():
    routine = parse_routine(json.dumps({**HEAD, "id": 12, "revision": "third"}))
    assert routine.extra == {"id_in_version_1": 12, "revision_in_version_1": "third"}


def test_what_is_at_fault_is_told_as_it_was_given():
    lanes = [{"label": "A", "pace": 12}, {"label": "B", "tip_height": "high", "pace": "x"}]
    with pytest.raises(RoutineFileError) as caught:
        opened([*lanes, 7], claims="none", conditions=[], table=3)
    told = str(caught.value)
    assert "pace: is 12, wanted a number from 1 to 10" in told and 'pace: is "x"' in told


@pytest.mark.parametrize("number", [1e308, -1e308, 10**400, float("inf"), float("nan"), -1.5])
@pytest.mark.parametrize(
    "name",
    ["tip_height", "side", "pace", "speed_m_s", "ball_mass_kg", "cue_ball_mass_kg", "scale"],
)
def test_a_number_out_of_all_bounds_is_told_and_never_reckoned_with(name, number):
    lane, conditions = {"label": "A", "tip_height": 0.2, "side": 0.1, "pace": 4}, {}
    if name == "scale":
        name, conditions["pace_speeds_m_s"] = "pace_speeds_m_s", [number, *range(2, 11)]
    elif name.endswith("_kg"):
        conditions[name] = number
    else:
        lane[name] = number
    with pytest.raises(RoutineFileError) as caught:
        opened([lane], conditions=conditions)
    assert name in str(caught.value) or "is not a number" in str(caught.value)
