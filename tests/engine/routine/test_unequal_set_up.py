"""A smaller cue ball all through a set-up: problems, settling, placement, pots, lanes, reach."""

import math

import numpy as np
import pytest

from engine.answers import answer, to_json
from engine.balls import Ball, touch_distance_mm
from engine.judging.outcomes import outcomes
from engine.placement import placements
from engine.playing.laid_out import laid_out_of
from engine.problems import problems_of
from engine.routine.context import conditions_of, table_of
from engine.routine.settle import is_free, settle
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot
from engine.tables.bed import bed_of

CUE, BALL = 23.8, 25.4
TOUCH = touch_distance_mm(CUE, BALL)


def routine(**changes):
    given = {
        "table": "uk-pool-7ft",
        "balls": (
            Ball("cue", "cue", 400.0, 900.0),
            Ball("red-1", "red", 620.0, 1350.0),
            Ball("red-2", "red", 200.0, 1400.0),
            Ball("yellow-1", "yellow", 330.0, 1560.0),
        ),
        "shots": (
            Shot(
                "s", "red-1", "top-right",
                lanes=(
                    LaneAsk("A", 0.4, 4.0), LaneAsk("B", "stun", 4.0), LaneAsk("C", -0.3, 5.0),
                ),
            ),
        ),
        "gaps": (
            Gap("g", "ball-ball", ("red-2", "yellow-1")),
            Gap("h", "ball-cushion", ("red-2",), "left"),
        ),
        "claims": (Claim("pot-on", "s"),),
    }  # fmt: skip
    return Routine(**{**given, **changes})


def test_contact_position_lies_at_the_touching_distance():
    pot = answer(routine()).shots[0].pot
    assert math.dist(pot.contact_mm, (620.0, 1350.0)) == pytest.approx(TOUCH)
    assert TOUCH < 2 * math.sqrt(CUE * BALL) + 1e-12 < CUE + BALL


def test_lanes_pot_the_ball_and_meet_it_at_the_touching_distance():
    found = answer(routine())
    assert found.shots[0].pot.on and found.all_claims_hold
    for lane in found.shots[0].lanes:
        contact = lane.contact
        assert math.dist(contact.at_mm, contact.ball_mm) == pytest.approx(TOUCH, abs=1e-6)
        assert lane.object_potted, lane.label
    stun = next(lane for lane in found.shots[0].lanes if lane.label == "B")
    assert stun.spin_ratio_on_arrival == pytest.approx(0.0, abs=1e-6)


def test_clearance_is_what_the_played_balls_find():
    found = answer(routine())
    for lane in found.shots[0].lanes:
        for room in lane.clearances:
            ball = next(ball for ball in routine().balls if ball.id == room.ball)
            away = np.hypot(*(lane.path_mm - np.array(ball.centre_mm)).T).min()
            assert room.clearance_mm <= away - TOUCH + 0.05


def test_the_batch_plays_and_judges_as_the_lanes_do():
    asked = routine()
    found = answer(asked)
    scene = laid_out_of(asked, "s", ("g",))
    for lane in found.shots[0].lanes:
        if lane.label == "B":
            continue
        one = outcomes(scene, lane.tip_height, 1000.0 * lane.speed_m_s)
        turn = math.remainder(one.direction_rad[0] - math.radians(lane.aim_deg), 2 * math.pi)
        assert abs(turn) < 1e-8
        passed = next(p for p in found.shots[0].passes if p.lane == lane.label and p.gap == "g")
        assert bool(one.threads[0]) == passed.threads


def test_problems_use_each_balls_size():
    touching = routine(
        balls=(
            Ball("cue", "cue", CUE, 400.0),
            Ball("red-1", "red", CUE + TOUCH, 400.0),
            Ball("red-2", "red", 700.0, BALL),
        )
    )
    kinds = {problem.kind for problem in problems_of(touching)}
    assert not kinds & {"overlap", "off-bed"}
    overlapping = routine(
        balls=(
            Ball("cue", "cue", 300.0, 400.0),
            Ball("red-1", "red", 300.0 + TOUCH - 0.5, 400.0),
            Ball("red-2", "red", CUE, 800.0),
        )
    )
    told = {problem.kind: problem for problem in problems_of(overlapping)}
    assert told["overlap"].fact.mm == pytest.approx(0.5)
    assert told["off-bed"].balls == ("red-2",)


def test_balls_settle_against_each_other_and_the_cushions_by_their_own_size():
    asked, table = routine(), table_of(routine())
    x, y = settle(asked, table, CUE, "cue", (-10.0, 900.0 - 300.0))
    assert x == pytest.approx(CUE, abs=1e-5)
    x, y = settle(asked, table, BALL, "red-2", (-10.0, 1300.0))
    assert x == pytest.approx(BALL, abs=1e-5)
    x, y = settle(asked, table, CUE, "cue", (621.0, 1340.0))
    assert math.dist((x, y), (620.0, 1350.0)) == pytest.approx(TOUCH, abs=1e-4)
    assert is_free(asked, table, CUE, "cue", (620.0, 1350.0 - TOUCH - 0.01))
    assert not is_free(asked, table, CUE, "cue", (620.0, 1350.0 - TOUCH + 0.01))


def test_placement_reads_to_each_balls_near_edge():
    rows = {row.ball: row for row in placements(routine())}
    assert rows["cue"].across.edge_mm == pytest.approx(400.0 - CUE)
    assert rows["red-2"].across.edge_mm == pytest.approx(200.0 - BALL)


def test_json_states_both_sizes():
    data = to_json(answer(routine()), routine(), words=str)
    assert data["conditions"]["cue_ball_radius_mm"] == CUE
    assert data["conditions"]["ball_radius_mm"] == BALL
    assert data["conditions"]["cue_ball_mass_kg"] == 0.094


@pytest.mark.slow
def test_a_dragged_ball_stops_at_straight_jaws():
    pool = Routine(table="pool-9ft", balls=(Ball("cue", "cue", 300.0, 300.0),))
    table, radius = table_of(pool), conditions_of(pool).ball_radius_mm
    bed = bed_of(table, radius)
    rng = np.random.default_rng(3)
    for wanted in rng.uniform(-60.0, 120.0, (30, 2)):
        place = settle(pool, table, radius, "cue", (float(wanted[0]), float(wanted[1])))
        assert bed.allows(place)
        # no free place of a fine grid lies nearer to where the pointer is
        grid = np.stack(np.meshgrid(*[np.linspace(0.0, 160.0, 161)] * 2), axis=-1).reshape(-1, 2)
        free = grid[bed.allows(grid)]
        best = np.hypot(*(free - wanted).T).min()
        assert math.dist(place, wanted) <= best + 1e-6
