"""The JSON of answers: valid by its schema, finite, units in keys, and the published rows."""

import json
import math

import jsonschema
import pytest

from engine.answers import answer, reach_of, reach_to_json, to_json
from engine.balls import Ball
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import check_schema, reach_schema
from engine.version import VERSION

CUE = Ball("cue", "cue", 1100.0, 2900.0)
BLACK = Ball("black", "black", 889.0, 3245.0)
REDS = (Ball("r1", "red", 1200.0, 2500.0), Ball("r2", "red", 900.0, 2500.0))
IDEAL = {
    "ball_restitution": 1.0, "ball_friction_base": 0.0, "ball_friction_extra": 0.0,
    "sliding_friction": 0.2, "rolling_resistance": 0.01,
}  # fmt: skip
FULL = Routine(
    title="Round the black",
    balls=(CUE, BLACK, *REDS),
    shots=(
        Shot(
            "s", "black", "top-left",
            lanes=(LaneAsk("A", 0.5, 4), LaneAsk("B", "stun", 4), LaneAsk("C", -0.5, 1)),
        ),
        Shot("t", aim_deg=90.0, lanes=(LaneAsk("A", 0.0, speed_m_s=2.0),)),
        Shot("u"),
    ),
    gaps=(
        Gap("g1", "ball-ball", ("r1", "r2")),
        Gap("g2", "cloth-area", points_mm=((800, 500), (1300, 500), (1300, 900))),
        Gap("g3", "cannon", ("r1",)),
    ),
    claims=(Claim("pot-on", "s"), Claim("lane-clears", "s", "A")),
)  # fmt: skip


def checked(routine):
    """The answer through real JSON text, refusing NaN and infinity, valid by the schema."""
    data = json.loads(json.dumps(to_json(answer(routine), routine, words=str), allow_nan=False))
    jsonschema.Draft202012Validator(check_schema()).validate(data)
    return data


def line_shot(tip, speed=2.0, cue=(500.0, 300.0), aim=90.0, balls=(), **conditions):
    """One lane along a line in ideal conditions."""
    routine = Routine(
        balls=(Ball("cue", "cue", *cue), *balls),
        shots=(Shot("s", aim_deg=aim, lanes=(LaneAsk("A", tip, speed_m_s=speed),)),),
        conditions={**IDEAL, **conditions},
    )
    return checked(routine)["shots"][0]["lanes"][0]


@pytest.mark.slow
def test_whole_answer_is_valid_and_says_what_it_rests_on():
    data = checked(FULL)
    assert data["engine_version"] == VERSION and data["table_id"] == "snooker-12ft"
    assert data["conditions"]["ball_restitution"] == 0.95
    assert data["conditions"]["pace_speeds_m_s"][3] == 2.0
    lane = data["shots"][0]["lanes"][0]
    assert len(lane["path_mm"]) > 10 and lane["rests_mm"]["black"] is None
    assert lane["events"][0]["kind"] == "struck"
    assert data["shots"][2]["refusal"] and data["all_claims_hold"] is True


@pytest.mark.parametrize(
    ("routine", "shots"), [(Routine(), []), (Routine(balls=(CUE,), shots=(Shot("s"),)), ["s"])]
)
def test_half_made_routines_give_valid_answers(routine, shots):
    data = checked(routine)
    assert [shot["id"] for shot in data["shots"]] == shots
    assert all(shot["refusal"] and shot["lanes"] == [] for shot in data["shots"])
    found = reach_to_json(routine, reach_of(routine), words=str)
    jsonschema.Draft202012Validator(reach_schema()).validate(found)
    assert found["verdicts"] == []


@pytest.mark.slow
def test_reach_is_valid_and_finite():
    data = json.loads(json.dumps(reach_to_json(FULL, reach_of(FULL), words=str), allow_nan=False))
    jsonschema.Draft202012Validator(reach_schema()).validate(data)
    assert {(v["shot"], v["gap"]) for v in data["verdicts"]} >= {("s", "g1"), ("t", "g3")}
    assert len(data["paces"]) == len(data["speeds_m_s"]) == 10


@pytest.mark.slow
def test_schema_refuses_an_unknown_key_and_a_missing_one():
    data = checked(FULL)
    validator = jsonschema.Draft202012Validator(check_schema())
    assert not validator.is_valid({**data, "extra": 1})
    data.pop("engine_version")
    assert not validator.is_valid(data)


@pytest.mark.parametrize(
    ("tip", "seconds", "metres", "speed"),
    [(0.0, 0.2912, 0.4993, 1.4286), (0.5, 0.0728, 0.1508, 2.1429), (-0.5, 0.6553, 0.8893, 0.7143)],
)
def test_slide_of_published_rows(tip, seconds, metres, speed):
    """physics.md, check rows 2, 4 and 5 (v 2, mu 0.2)."""
    slide = line_shot(tip)["approach"]
    assert slide["slide_end_s"] == pytest.approx(seconds, rel=0.005)
    assert (slide["slide_end_mm"][1] - 300.0) / 1000 == pytest.approx(metres, rel=0.005)
    assert slide["slide_end_speed_m_s"] == pytest.approx(speed, rel=0.005)


def test_ball_struck_to_roll_rolls_at_once():
    """physics.md, check row 3: Coriolis 1835."""
    slide = line_shot(0.4)["approach"]
    assert slide["slide_end_s"] == 0.0 and slide["slide_end_speed_m_s"] == pytest.approx(2.0)


@pytest.mark.parametrize(("metres", "ratio", "speed"), [(0.7645, 0.0, 1.0), (0.5663, -0.625, None)])
def test_screw_spin_on_arrival(metres, ratio, speed):
    """physics.md, check row 5: a ball placed where the row asks for the spin."""
    ball = Ball("r", "red", 500.0, 300.0 + 1000 * metres + 52.5)
    lane = line_shot(-0.5, balls=(ball,))
    assert lane["approach"]["arrival_spin_ratio"] == pytest.approx(ratio, abs=0.005)
    if speed is not None:
        assert lane["approach"]["arrival_speed_m_s"] == pytest.approx(speed, rel=0.005)
    assert lane["contact"]["fullness"] == pytest.approx(1.0, abs=1e-6)


def test_dead_stun_on_a_full_ball_has_no_direction_and_no_nan():
    ball = Ball("r", "red", 500.0, 300.0 + 764.526 + 52.5)
    contact = line_shot(-0.5, balls=(ball,))["contact"]
    assert contact["object_speed_m_s"] == pytest.approx(1.0, abs=0.01)
    assert contact["cue_speed_m_s"] == pytest.approx(0.0, abs=1e-9)
    assert contact["separation_deg"] is None and contact["first_angle_deg"] is None


def test_travel_ratio_of_a_full_rolling_contact():
    """physics.md, check row 13: 6.24 on an open cloth (mu 0.2, mu_r 0.01, e 1)."""
    ball = Ball("r", "red", 889.0, 700.0)
    lane = line_shot(0.4, 0.9, (889.0, 500.0), balls=(ball,))
    contact = lane["contact"]
    assert contact["cut_deg"] == pytest.approx(0.0, abs=1e-9)
    cue_mm = math.dist(lane["rests_mm"]["cue"], contact["contact_mm"])
    object_mm = math.dist(lane["rests_mm"]["r"], contact["ball_mm"])
    assert [e for e in lane["events"] if e["kind"] == "cushion"] == []
    assert object_mm / cue_mm == pytest.approx(6.24, rel=0.01)


def test_cushion_rows_can_be_read():
    """physics.md, check row 18, rolling square on: 0.911 then 0.583 after re-rolling."""
    lane = line_shot(0.4, 1.0, (889.0, 3300.0), rolling_resistance=0.001)
    bounce = lane["cushions"][0]
    assert bounce["cushion"] == "top"
    assert bounce["speed_after_m_s"] / bounce["speed_before_m_s"] == pytest.approx(0.911, rel=0.01)
    rolls = next(
        e for e in lane["events"] if e["kind"] == "rolling" and e["time_s"] > bounce["time_s"]
    )
    assert rolls["speed_m_s"] / bounce["speed_before_m_s"] == pytest.approx(0.583, rel=0.01)


def test_contact_is_told_of_both_balls():
    ball = Ball("r", "red", 520.0, 1000.0)
    lane = line_shot(0.4, balls=(ball,))
    pair = [e for e in lane["events"] if e["kind"] == "ball"]
    assert [(e["ball"], e["other"]) for e in pair] == [("cue", "r"), ("r", "cue")]
    assert pair[0]["time_s"] == pair[1]["time_s"] == lane["contact"]["time_s"]
    assert pair[1]["velocity_m_s"] == lane["contact"]["object_velocity_m_s"]
