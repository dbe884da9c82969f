"""A bit harder: the chance asked for is hit within its sampling interval, proved by other errors.

Two of the twenty routines in the usual run, all with BAIZEWRIGHT_FULL=1.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from engine.errors import OutOfRangeError, UnknownNameError
from engine.players import CLUB, LEARNER
from engine.problems import problems_of
from engine.progressions import a_bit_harder, a_chain, rate
from engine.progressions.changes import changed
from engine.reach import verdict
from engine.routine.edits import lock_ball, move_ball
from engine.storage import dump_routine, load_routine, parse_routine
from tests.shares import FULL

DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"
#: File, gap, player, drop of the chance (below 0: easier).
CASES = (
    ("01-three-ways-off-the-blue", "left-stretch", CLUB, 0.15),
    ("06-what-is-left-of-the-screw", "for-blue", CLUB, -0.10),
    ("07-past-the-red", "beyond", CLUB, 0.10),
    ("09-off-the-red-onto-the-pink", "cannon", CLUB, 0.15),
    ("01-three-ways-off-the-blue", "left-stretch", CLUB, -0.10),
    ("01-three-ways-off-the-blue", "left-stretch", LEARNER, 0.10),
    ("02-home-to-baulk", "baulk", CLUB, 0.15),
    ("02-home-to-baulk", "baulk", LEARNER, 0.20),
    ("03-round-the-black", "behind", CLUB, 0.15),
    ("03-round-the-black", "position", CLUB, 0.10),
    ("04-left-right-or-between", "reds", CLUB, 0.15),
    ("04-left-right-or-between", "reds", LEARNER, 0.10),
    ("05-down-the-side", "side", CLUB, 0.20),
    ("05-down-the-side", "side", LEARNER, 0.15),
    ("06-what-is-left-of-the-screw", "for-blue", CLUB, 0.15),
    ("06-what-is-left-of-the-screw", "stun-mark", CLUB, 0.10),
    ("07-past-the-red", "beyond", LEARNER, 0.15),
    ("08-between-two-strokes", "reds", CLUB, 0.15),
    ("09-off-the-red-onto-the-pink", "cannon", CLUB, -0.10),
    ("11-two-gaps-one-stroke", "first", CLUB, 0.15),
)
IN_USUAL = 1
#: Errors that neither the search nor the proof has seen.
THIRD_SEED = 40_123_457
#: As far as the third look may lie off: some two of its standard errors.
NEAR = 0.012


def routine_named(name):
    return load_routine(DEMO / f"{name}.json")


def routine_of(case):
    """The case's routine; where a file comes again its cue ball lies elsewhere each time."""
    earlier = [one[0] for one in CASES[: CASES.index(case)]].count(case[0])
    routine = routine_named(case[0])
    cue = routine.cue_ball
    return move_ball(routine, cue.id, cue.x_mm - 8.0 * earlier, cue.y_mm + 6.0 * earlier)


def hits(case):
    """The step made, and the chance found by errors of a third kind."""
    _, gap, player, drop = case
    routine = routine_of(case)
    shot = routine.shots[0].id
    step = a_bit_harder(routine, shot, gap, player, drop)
    assert step is not None, case
    assert step.wanted == pytest.approx(step.before.chance - drop)
    again = rate(step.routine, shot, gap, player, seed=THIRD_SEED)
    return routine, step, again


def test_no_two_cases_are_the_same_routine():
    routines = [routine_of(case) for case in CASES]
    assert len({dump_routine(one) for one in routines}) == len(CASES) == 20


@pytest.mark.slow
def test_the_chance_asked_for_is_hit_on_routines_of_the_examples():
    cases = CASES if FULL else CASES[:IN_USUAL]
    inside = 0
    for case in cases:
        routine, step, again = hits(case)
        proof, third = (f"{one.low:.4f} to {one.high:.4f}" for one in (step.rate, again))
        print(*case[:2], case[2].name, f"{step.wanted:.4f}", step.way, proof, third)
        assert step.exact, case
        assert step.rate.low <= step.wanted <= step.rate.high
        assert abs(again.chance - step.wanted) <= NEAR, case
        inside += again.low <= step.wanted <= again.high
        see_to_the_set_up(routine, step, case[1])
    # an interval of 95 % misses one in twenty by itself, and the step was chosen by another's
    print(f"{inside} of {len(cases)} inside the interval of a third look")
    assert inside >= 0.75 * len(cases) - 1


def see_to_the_set_up(routine, step, gap):
    """It can be set up by tape, can be played, is kept whole in a file, and differs."""
    assert {one.kind for one in problems_of(step.routine)} <= {
        one.kind for one in problems_of(routine)
    }
    assert step.routine.balls != routine.balls or step.routine.gaps != routine.gaps
    moved = {ball for ball, _, _ in step.moves}
    for ball in step.routine.balls:
        if ball.id in moved:
            assert (2 * ball.x_mm).is_integer() and (2 * ball.y_mm).is_integer()
        else:
            assert ball == routine.ball(ball.id)
    assert verdict(step.routine, step.routine.shots[0].id, gap).reachable
    assert parse_routine(dump_routine(step.routine)) == step.routine
    assert step.routine.extra["progression"]["from"] == routine.title
    assert step.routine.id != routine.id, "a routine of its own"


@pytest.mark.slow
def test_a_chain_gets_harder_step_by_step():
    routine = routine_named("01-three-ways-off-the-blue")
    told = []

    def progress(share):
        told.append(share)
        return True

    steps = a_chain(
        routine, routine.shots[0].id, "left-stretch", CLUB, 2, 0.1, ways=("gap",),
        titled=lambda number: f"Step {number}", progress=progress,
    )  # fmt: skip
    chances = [steps[0].before.chance, *(step.rate.chance for step in steps)]
    assert chances == sorted(chances, reverse=True)
    assert chances[0] - chances[2] == pytest.approx(0.2, abs=0.02)
    assert [step.routine.title for step in steps] == ["Step 2", "Step 3"]
    made_from = [step.routine.extra["progression"]["from"] for step in steps]
    assert made_from == [routine.title, "Step 2"]
    assert told == sorted(told) and told[-1] == pytest.approx(1.0)
    assert len({routine.id, *(step.routine.id for step in steps)}) == 3


@pytest.mark.slow
def test_it_can_be_called_off():
    routine = routine_named("07-past-the-red")
    calls = []

    def progress(share):
        calls.append(share)
        return len(calls) < 3

    assert a_bit_harder(routine, routine.shots[0].id, "beyond", CLUB, progress=progress) is None
    assert len(calls) == 3


def test_locked_balls_stay():
    routine = lock_ball(routine_named("07-past-the-red"), "cue")
    assert changed(routine, routine.shots[0].id, "beyond", "distance", 50.0) is None
    assert changed(routine, routine.shots[0].id, "beyond", "pot", 50.0) is None


def test_what_cannot_be_set_up_is_no_change():
    routine = routine_named("07-past-the-red")
    shot = routine.shots[0].id
    assert changed(routine, shot, "beyond", "distance", 5000.0) is None
    assert changed(routine, shot, "beyond", "distance", -5000.0) is None


@pytest.mark.slow
def test_wishes_that_cannot_be_are_refused():
    routine = routine_named("01-three-ways-off-the-blue")
    shot = routine.shots[0].id
    with pytest.raises(OutOfRangeError, match="wanted 2 to 98 %"):
        a_bit_harder(routine, shot, "left-stretch", CLUB, 0.9)
    with pytest.raises(UnknownNameError, match="no gap"):
        a_bit_harder(routine, shot, "nowhere", CLUB)
    with pytest.raises(UnknownNameError, match="way to make it harder"):
        a_bit_harder(routine, shot, "left-stretch", CLUB, ways=("luck",))
    far = replace(routine_named("10-can-it-be-done"))
    with pytest.raises(OutOfRangeError, match="Ask for advice"):
        a_bit_harder(far, far.shots[0].id, far.gaps[0].id, CLUB)
