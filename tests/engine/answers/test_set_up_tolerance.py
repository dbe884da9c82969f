"""Set-up tolerance against balls misplaced one by one and the whole routine answered again.

One demo routine each time; all of them with BAIZEWRIGHT_FULL=1 (some minutes).
"""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from engine.answers import answer_shot, set_up_tolerance
from engine.answers.claims import judge_claims
from engine.answers.misplaced import judges_of
from engine.answers.tolerance import CLOSING, STEPS_MM
from engine.balls import Ball
from engine.reach.verdicts import verdicts
from engine.results import Fact
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot
from engine.storage import load_routine
from tests.shares import FULL

FOLDER = Path(__file__).resolve().parents[3] / "layouts_demo"
FILES = [file for file in sorted(FOLDER.glob("*.json")) if FULL or file.name[:2] in ("09",)]
INSIDE, ANYWHERE = (40, 40) if FULL else (5, 8)

each_file = pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)


def holding(routine):
    """The claims that hold, by their indices, from a whole answer."""
    shots = tuple(answer_shot(routine, shot.id) for shot in routine.shots)
    asked = sorted({(one.shot, one.gap) for one in routine.claims if one.kind.startswith("gap-")})
    found = [one for shot, gap in asked for one in verdicts(routine, shot, (gap,), forgiving=False)]
    return {claim.index for claim in judge_claims(routine, shots, found) if claim.holds}


def misplaced(routine, ball_id, distance, direction_deg):
    turn = math.radians(direction_deg)
    balls = tuple(
        replace(
            ball,
            x_mm=ball.x_mm + distance * math.cos(turn),
            y_mm=ball.y_mm + distance * math.sin(turn),
        )
        if ball.id == ball_id
        else ball
        for ball in routine.balls
    )
    return replace(routine, balls=balls)


def just_outside(tolerance_mm):
    """The distance that failed: one step of the closing in farther out."""
    high = next(step for step in STEPS_MM if step > tolerance_mm + 1e-9)
    low = max((step for step in STEPS_MM if step < high), default=0.0)
    return tolerance_mm + (high - low) / 2**CLOSING


@each_file
@pytest.mark.slow
def test_inside_the_tolerance_every_claim_holds_and_just_outside_one_does_not(file):
    routine = load_routine(file)
    random = np.random.default_rng(7)
    held = holding(routine)
    found = set_up_tolerance(routine)
    assert [one.ball for one in found] == [ball.id for ball in routine.balls]
    for one in found:
        for _ in range(INSIDE):
            far = one.tolerance_mm * math.sqrt(random.uniform(0.3, 1.0))
            there = misplaced(routine, one.ball, far, random.uniform(0.0, 360.0))
            assert held <= holding(there), (one, far)
        if one.at_least:
            assert one.tolerance_mm == STEPS_MM[-1] and one.claim is None
            continue
        beyond = just_outside(one.tolerance_mm)
        assert one.claim in held - holding(
            misplaced(routine, one.ball, beyond, one.direction_deg)
        ), one


@each_file
@pytest.mark.slow
def test_every_judge_says_what_the_whole_answer_says(file):
    routine = load_routine(file)
    judges, told = judges_of(routine), set()
    assert [judge.claim for judge in judges] == list(range(len(routine.claims)))
    random = np.random.default_rng(3)
    for _ in range(ANYWHERE):
        ball = routine.balls[random.integers(len(routine.balls))]
        there = misplaced(
            routine, ball.id, random.choice([6.0, 15.0, 40.0]), random.uniform(0.0, 360.0)
        )
        held = holding(there)
        places = np.array([ball.centre_mm for ball in there.balls])
        for judge in judges:
            holds = bool(judge.holds(places[None])[0])
            if judge.surely is not None and not holds:
                holds = judge.surely(places)
            assert holds == (judge.claim in held), (judge.claim, ball.id)
            told.add(holds)
    assert told == {True, False}


# Set-ups of our own ----------------------------------------------------------------------------

CUE, BLACK = Ball("cue", "cue", 1100.0, 2900.0), Ball("black", "black", 889.0, 3245.0)
SHOT = Shot("s", "black", "top-left", lanes=(LaneAsk("A", 0.5, 4), LaneAsk("B", 0.2, 4, side=0.2)))


def on_the_way(label, share, aside_mm=0.0):
    """A place on the longest straight stretch of a lane's way, or so far to the right of it."""
    lanes = answer_shot(Routine(balls=(CUE, BLACK), shots=(SHOT,)), "s").lanes
    path = next(lane for lane in lanes if lane.label == label).path_mm
    longest = int(np.argmax(np.linalg.norm(np.diff(path, axis=0), axis=1)))
    a, b = path[longest : longest + 2]
    dx, dy = (b - a) / np.linalg.norm(b - a)
    x, y = a + share * (b - a) + aside_mm * np.array([dy, -dx])
    return float(x), float(y)


def the_one(routine, ball_id):
    return next(one for one in set_up_tolerance(routine) if one.ball == ball_id)


@pytest.mark.slow
def test_a_lane_with_side_is_judged_as_it_is_played():
    red = Ball("red", "red", *on_the_way("B", 0.5, 60.0))
    claim = Claim("lane-clears", "s", "B", "red")
    routine = Routine(balls=(CUE, BLACK, red), shots=(SHOT,), claims=(claim,))
    assert holding(routine) == {0}
    one = the_one(routine, "red")
    # the lane runs straight past: the room itself, in the worst of sixteen directions
    assert one.tolerance_mm == pytest.approx(60.0 - 52.5, abs=0.5)
    assert holding(misplaced(routine, "red", one.tolerance_mm, one.direction_deg)) == {0}
    outside = misplaced(routine, "red", just_outside(one.tolerance_mm), one.direction_deg)
    assert holding(outside) == set()


def test_another_ball_met_first_spoils_a_contact():
    red = Ball("red", "red", *on_the_way("A", 0.6))
    guard = Ball("guard", "yellow", *on_the_way("A", 0.3, 65.0))
    claim = Claim("lane-contacts", "s", "A", "red")
    routine = Routine(balls=(CUE, BLACK, red, guard), shots=(SHOT,), claims=(claim,))
    assert holding(routine) == {0}
    one = the_one(routine, "guard")
    assert one.claim == 0 and one.tolerance_mm == pytest.approx(65.0 - 52.5, abs=1.0)
    outside = misplaced(routine, "guard", just_outside(one.tolerance_mm), one.direction_deg)
    (found,) = judge_claims(outside, (answer_shot(outside, "s"),), ())
    assert not found.holds and found.found == (Fact("meets-first", ball="guard"),)


def test_only_claims_that_hold_are_watched():
    fails = Claim("lane-contacts", "s", "A", "red")
    red = Ball("red", "red", 300.0, 500.0)
    assert set_up_tolerance(Routine(balls=(CUE, BLACK, red), shots=(SHOT,), claims=(fails,))) == ()
    assert set_up_tolerance(Routine(balls=(CUE, BLACK, red), shots=(SHOT,))) == ()


def test_it_can_be_stopped_and_leaves_the_other_balls_out():
    gap = Gap("g", "ball-ball", ("r1", "r2"))
    reds = (Ball("r1", "red", 1200.0, 2500.0), Ball("r2", "red", 900.0, 2500.0))
    claim = Claim("pot-on", "s")
    routine = Routine(balls=(CUE, BLACK, *reds), shots=(SHOT,), gaps=(gap,), claims=(claim,))
    shares = []

    def progress(share):
        shares.append(share)
        return len(shares) < 3

    found = set_up_tolerance(routine, progress)
    assert [one.ball for one in found] == ["cue", "black"]
    assert shares == pytest.approx([0.0, 0.25, 0.5])
