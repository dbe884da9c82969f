"""Whole answers of a routine and every kind of claim, held and refuted."""

from dataclasses import replace

import pytest

from engine.answers import answer, answer_shot
from engine.answers.claims import judge_claims
from engine.balls import Ball
from engine.results import Fact
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot

CUE = Ball("cue", "cue", 1100.0, 2900.0)
BLACK = Ball("black", "black", 889.0, 3245.0)
R1, R2 = Ball("r1", "red", 1200.0, 2500.0), Ball("r2", "red", 900.0, 2500.0)
SHOT = Shot("s", "black", "top-left", lanes=(LaneAsk("A", 0.5, 4), LaneAsk("B", "stun", 4)))
GAPS = (
    Gap("near", "ball-ball", ("r1", "r2")),
    Gap("far", "cushion-stretch", cushion="bottom", from_mm=200.0, to_mm=260.0),
)


def judged(*claims, balls=(CUE, BLACK, R1, R2), shots=(SHOT,)):
    """The claims judged; a set-up's shots and gaps are answered once for all tests."""
    routine = Routine(balls=balls, shots=shots, gaps=GAPS, claims=claims)
    found = answered(balls, shots)
    return judge_claims(routine, found.shots, found.verdicts)


def answered(balls, shots, known={}):  # noqa: B006 - kept for all tests on purpose
    key = repr((balls, shots))
    if key not in known:
        known[key] = answer(Routine(balls=balls, shots=shots, gaps=GAPS), chances=False)
    return known[key]


def touching_red():
    """A red in the middle of lane A's way."""
    plain = answer_shot(Routine(balls=(CUE, BLACK), shots=(SHOT,)), "s").lanes[0].path_mm
    x, y = plain[len(plain) // 2]
    return Ball("r3", "red", float(x), float(y))


@pytest.mark.parametrize(
    ("claim", "holds"),
    [
        (Claim("pot-on", "s"), True),
        (Claim("pot-off", "s"), False),
        (Claim("lane-clears", "s", "A"), True),
        (Claim("lane-clears", "s", "A", "r1", margin_mm=20.0), True),
        (Claim("lane-clears", "s", "A", "r1", margin_mm=900.0), False),
        (Claim("lane-contacts", "s", "A", "r1"), False),
        (Claim("lane-threads", "s", "A", gap="near"), True),
        (Claim("lane-threads", "s", "A", gap="near", margin_mm=400.0), False),
        (Claim("lane-threads", "s", "B", gap="near"), False),
        (Claim("gap-reachable", "s", gap="near"), True),
        (Claim("gap-reachable", "s", gap="near", margin_mm=500.0), False),
        (Claim("gap-reachable", "s", gap="near", pace_min=4, pace_max=4), True),
        (Claim("gap-reachable", "s", gap="near", pace_max=1.2), False),
        (Claim("gap-unreachable", "s", gap="near"), False),
        (Claim("gap-reachable", "s", gap="far"), False),
        (Claim("gap-unreachable", "s", gap="far"), True),
    ],
)
@pytest.mark.slow
def test_claims_hold_or_fail(claim, holds):
    (found,) = judged(claim)
    assert found.holds is holds, found
    assert found.found or found.verdict is not None


def test_contact_claims():
    balls = (CUE, BLACK, touching_red())
    met, clear = judged(
        Claim("lane-contacts", "s", "A", "r3"), Claim("lane-clears", "s", "A"), balls=balls
    )
    (touched,) = met.found
    assert met.holds and (touched.kind, touched.ball) == ("touches-ball", "r3")
    assert not clear.holds and clear.found == met.found


@pytest.mark.parametrize(
    ("claim", "words"),
    [
        (Claim("lane-clears", "s", "Z"), "no lane called 'Z'"),
        (Claim("lane-clears", "t", "A"), "no shot called 't'"),
        (Claim("lane-clears", "s", "A", "r9"), "no obstacle ball called 'r9'"),
        (Claim("lane-threads", "s", "A", gap="x"), "no gap called 'x'"),
        (Claim("gap-unreachable", "s", gap="x"), "no gap called 'x'"),
        (Claim("guess", "s"), "no kind of claim called 'guess'"),
    ],
)
@pytest.mark.slow
def test_claim_about_what_is_not_there_fails(claim, words):
    (found,) = judged(claim)
    (refused,) = found.found
    assert not found.holds and words in str(refused.error)


def test_blocked_pot_fails_pot_on_and_holds_pot_off():
    balls = (CUE, BLACK, Ball("r3", "red", 450.0, 3400.0))
    on, off = judged(Claim("pot-on", "s"), Claim("pot-off", "s"), balls=balls)
    assert not on.holds and off.holds and on.found == off.found
    assert [(one.kind, one.ball) for one in on.found] == [("line-blocked", "r3")]


def test_half_made_routines_are_answered_as_far_as_they_go():
    assert answer(Routine()).problems[0].kind == "no-cue-ball"
    nothing = answer_shot(Routine(shots=(Shot("s"),), balls=(CUE,)), "s")
    assert nothing.pot is None and nothing.refusals == (Fact("nothing-chosen"),)
    away = Shot("s", "pink", "top-left", lanes=SHOT.lanes)
    found = answer_shot(Routine(shots=(away,), balls=(CUE, BLACK)), "s")
    assert found.lanes == () and "no ball called 'pink'" in str(found.refusals[0].error)


def test_one_bad_lane_leaves_the_others_and_says_why():
    shot = Shot("s", "black", "top-left", lanes=(LaneAsk("A", 0.9, 4), LaneAsk("B", 0.3, 4)))
    found = answer_shot(Routine(balls=(CUE, BLACK), shots=(shot,)), "s")
    assert [lane.label for lane in found.lanes] == ["B"]
    assert [one.lane for one in found.refusals] == ["A"]


def test_cut_past_ninety_has_a_pot_answer_and_no_lanes():
    behind = Ball("cue", "cue", 300.0, 3400.0)
    found = answer_shot(Routine(balls=(behind, BLACK), shots=(SHOT,)), "s")
    assert found.pot is not None and not found.pot.on
    assert found.lanes == () and found.refusals == (Fact("no-lanes", then=found.pot.reasons[0]),)


def test_stun_tip_of_a_shot_is_that_of_its_stun_lane():
    found = answer_shot(Routine(balls=(CUE, BLACK), shots=(SHOT,)), "s")
    assert found.stun_tip_height == pytest.approx(found.lanes[1].tip_height, abs=1e-9)


@pytest.mark.slow
def test_leaving_the_chances_out_changes_nothing_else():
    routine = Routine(balls=(CUE, BLACK, R1, R2), shots=(SHOT,), gaps=GAPS)
    whole, short = answer(routine).verdicts, answer(routine, chances=False).verdicts
    assert any(one.choice is not None for one in whole)
    assert short == tuple(replace(one, choice=None) for one in whole)
