"""Bands of whole answers, claims about what is half made, and judges of misplaced balls."""

import math
from dataclasses import replace

import numpy as np
import pytest

from engine.answers import answer, answer_shot, set_up_tolerance, to_json
from engine.answers.bands import with_bands
from engine.answers.claims import judge_claims
from engine.answers.lane_json import _slide_end
from engine.answers.misplaced import judges_of
from engine.answers.plain import number, plain
from engine.balls import Ball
from engine.lanes.band import lane_band
from engine.reach.verdicts import verdicts
from engine.results import BallTolerance
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot

CUE, BLACK = Ball("cue", "cue", 1100.0, 2900.0), Ball("black", "black", 889.0, 3245.0)
LANES = (LaneAsk("A", 0.3, 4), LaneAsk("B", "stun", 3))
SHOT = Shot("s", "black", "top-left", lanes=LANES)
NARROW = Gap("narrow", "cushion-stretch", cushion="bottom", from_mm=200.0, to_mm=260.0)
ALONG = Shot("s", aim_deg=90.0, lanes=(LaneAsk("A", 0.0, 3),))


def test_bands_are_those_of_each_lane_and_change_nothing_else():
    routine = Routine(balls=(CUE, BLACK), shots=(SHOT,))
    plain_answer = answer(routine)
    found = with_bands(routine, plain_answer)
    table, conditions = table_of(routine), conditions_of(routine)
    for one, before in zip(found.shots[0].lanes, plain_answer.shots[0].lanes, strict=True):
        band = lane_band(table, conditions, routine.balls, SHOT, plain_answer.shots[0].pot,
                         SHOT.lane(one.label))  # fmt: skip
        assert one.doubt.first_cushion_mm == band.first_cushion_mm > 0.0
        assert one.doubt.samples == band.samples and before.doubt is None
        assert one.first_cushion_mm == before.first_cushion_mm
    told = to_json(found, routine, words=str)["shots"][0]["lanes"][0]["doubt"]
    assert told["first_cushion_spread_mm"] == number(found.shots[0].lanes[0].doubt.first_cushion_mm)
    assert len(told["outlines_mm"]) == len(found.shots[0].lanes[0].doubt.outlines_mm)


def test_figures_that_are_none_become_nothing_in_json():
    assert plain({"a": (1.0, math.nan), 2: [math.inf, "x"]}) == {"a": [1.0, None], "2": [None, "x"]}


def told(claim, routine, found=()):
    shots = tuple(answer_shot(routine, shot.id) for shot in routine.shots)
    (one,) = judge_claims(replace(routine, claims=(claim,)), shots, found)
    return one.holds, *(fact.kind for fact in one.found)


def test_pot_claims_of_a_shot_without_a_pot():
    routine = Routine(balls=(CUE,), shots=(ALONG,))
    for kind in ("pot-on", "pot-off"):
        assert told(Claim(kind, "s"), routine) == (False, "no-pot")


def test_lane_claims_where_nothing_stands_in_the_way():
    routine = Routine(balls=(CUE, BLACK), shots=(SHOT,))
    assert told(Claim("lane-clears", "s", "A"), routine) == (True, "no-obstacle")
    assert told(Claim("lane-contacts", "s", "A"), routine) == (False, "no-obstacle")


def test_claims_on_lanes_that_never_begin_or_are_refused():
    slow = {"pace_speeds_m_s": [0.1 + 0.01 * k for k in range(10)]}
    routine = Routine(balls=(CUE, BLACK), shots=(SHOT,), conditions=slow)
    assert told(Claim("lane-clears", "s", "A"), routine) == (False, "short-of-object-ball")
    nothing = Routine(balls=(BLACK,), shots=(SHOT,))
    assert told(Claim("lane-clears", "s", "A"), nothing) == (False, "refused")


def test_gap_claims_without_a_verdict_say_so():
    routine = Routine(balls=(CUE, BLACK), shots=(SHOT,), gaps=(NARROW,))
    claim = Claim("gap-reachable", "s", gap="narrow")
    assert told(claim, routine) == (False, "no-verdict")
    bad = replace(routine, gaps=(Gap("narrow", "cushion-stretch", cushion="bottom"),))
    found = verdicts(bad, "s")
    assert told(claim, bad, found) == (False, "not-judged")
    assert told(replace(claim, kind="gap-unreachable"), bad, found) == (False, "not-judged")


def places_of(routine):
    return np.array([ball.centre_mm for ball in routine.balls])


def test_claims_that_cannot_be_judged_have_no_judge():
    claims = (
        Claim("luck", "s"),
        Claim("lane-clears", "s", "Z"),
        Claim("gap-reachable", "s", gap="nowhere"),
        Claim("pot-on", "s"),
    )
    routine = Routine(balls=(CUE, BLACK), shots=(SHOT,), claims=claims)
    (only,) = judges_of(routine)
    assert only.claim == 3 and only.holds(places_of(routine)[None]).tolist() == [True]


def test_with_nothing_in_the_way_every_place_clears_and_none_contacts():
    claims = (Claim("lane-clears", "s", "A"), Claim("lane-contacts", "s", "A"))
    routine = Routine(balls=(CUE, BLACK), shots=(SHOT,), claims=claims)
    clears, contacts = judges_of(routine)
    places = np.repeat(places_of(routine)[None], 3, axis=0)
    assert clears.holds(places).all() and not contacts.holds(places).any()


@pytest.mark.parametrize("kind", ["lane-clears", "lane-contacts"])
def test_any_ball_stands_for_all_of_them(kind):
    reds = (Ball("r1", "red", 300.0, 900.0), Ball("r2", "red", 1500.0, 900.0))
    routine = Routine(balls=(CUE, BLACK, *reds), shots=(SHOT,), claims=(Claim(kind, "s", "A"),))
    (judge,) = judges_of(routine)
    far = places_of(routine)
    on = far.copy()
    path = answer_shot(routine, "s").lanes[0].path_mm
    middle = (path[0] + 0.6 * (path[1] - path[0])) if len(path) == 2 else path[len(path) // 2]
    on[3] = middle
    held = judge.holds(np.stack([far, on])).tolist()
    assert held == ([True, False] if kind == "lane-clears" else [False, True])


def test_stun_along_a_direction_has_no_lane_to_be_judged():
    red = Ball("red", "red", 1190.0, 3300.0)
    shot = replace(ALONG, lanes=(LaneAsk("A", "stun", 3), LaneAsk("B", -0.5, 3)))
    claims = (Claim("lane-clears", "s", "A", "red"), Claim("lane-clears", "s", "B", "red"))
    routine = Routine(balls=(CUE, red), shots=(shot,), claims=claims)
    assert [one.claim for one in judges_of(routine)] == [1], "as the answer has no lane A"
    assert [one.label for one in answer_shot(routine, "s").lanes] == ["B"]


@pytest.mark.slow
def test_a_gap_nothing_threads_is_judged_by_what_comes_nearest():
    claims = (Claim("gap-unreachable", "s", gap="narrow"), Claim("gap-reachable", "s", gap="wide"))
    wide = Gap("wide", "cloth-area", points_mm=((9, 9), (1770, 9), (1770, 3560), (9, 3560)))
    routine = Routine(balls=(CUE, BLACK), shots=(SHOT,), gaps=(NARROW, wide), claims=claims)
    never, always = judges_of(routine)
    places = places_of(routine)
    assert not verdicts(routine, "s", ("narrow",), forgiving=False)[0].reachable
    assert never.holds(places[None]).tolist() == always.holds(places[None]).tolist() == [True]
    # the refined map has the last word, on the place as it is
    assert never.surely(places) and always.surely(places)
    # the object ball on the cue ball's own spot side: no pot, nothing to reach
    off = places.copy()
    off[0] = (60.0, 3480.0)
    assert not always.surely(off)


def test_gaps_in_order_are_judged_for_every_lane():
    reds = (Ball("r1", "red", 1200.0, 2500.0), Ball("r2", "red", 900.0, 2500.0))
    near = Gap("near", "ball-ball", ("r1", "r2"))
    rest = Gap("rest", "cloth-area", points_mm=((200, 800), (1700, 800), (1700, 2400), (200, 2400)))
    both, empty = (
        Gap("both", "in-order", gaps=("near", "rest")), Gap("none", "in-order", gaps=())
    )  # fmt: skip
    lanes = tuple(LaneAsk(str(k), tip, 4) for k, tip in enumerate((-0.4, 0.05, 0.4)))
    routine = Routine(balls=(CUE, BLACK, *reds), shots=(replace(SHOT, lanes=lanes),),
                      gaps=(near, rest, both, empty))  # fmt: skip
    found = answer_shot(routine, "s")
    one = {(each.gap, each.lane): each for each in found.passes}
    for lane in ("0", "1", "2"):
        parts = one["near", lane], one["rest", lane]
        assert one["both", lane].threads == all(part.threads for part in parts)
        done = parts if parts[0].threads else parts[:1]
        assert one["both", lane].margin_mm == min(part.margin_mm for part in done)
    assert {one["both", lane].threads for lane in "012"} == {True, False}
    (refused,) = found.refusals
    assert refused.gap == "none" and "one or more" in str(refused.error)


def test_a_slide_is_only_that_of_the_ball_struck():
    assert _slide_end((), "cue", 26.25) == (None, None, None)


def test_tolerances_and_pairs_as_json_hold_finite_figures():
    found = (
        BallTolerance("red", 7.5, 2, 22.5, False),
        BallTolerance("pink", 40.0, None, None, True),
    )
    assert plain(found) == [
        {"ball": "red", "tolerance_mm": 7.5, "at_least": False, "claim": 2, "direction_deg": 22.5},
        {"ball": "pink", "tolerance_mm": 40.0, "at_least": True, "claim": None,
         "direction_deg": None},
    ]  # fmt: skip


def test_a_ball_that_can_lie_nowhere_else_changes_no_claim():
    # every place 40 mm off is taken or off the bed
    ring = tuple(
        Ball(f"w{k}", "red", 900.0 + 54.0 * math.cos(k * math.pi / 3), 900.0 + 54.0 * math.sin(
            k * math.pi / 3)) for k in range(6)
    )  # fmt: skip
    routine = Routine(balls=(CUE, BLACK, Ball("mid", "red", 900.0, 900.0), *ring), shots=(SHOT,),
                      claims=(Claim("pot-on", "s"),))  # fmt: skip
    one = next(each for each in set_up_tolerance(routine) if each.ball == "mid")
    assert one.at_least and one.claim is None
