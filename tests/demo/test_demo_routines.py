"""The demo routines: each is whole, proves its own claims, and together they cover the table."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from engine.advice import Wish, advise
from engine.answers import answer, answer_shot
from engine.answers.claims import judge_claims
from engine.answers.distinct import pointing_place
from engine.judging import outcomes
from engine.placement import placements
from engine.playing import laid_out_of
from engine.reach import verdict as verdict_on
from engine.results import Lane, RoutineAnswer
from engine.routine.edits import move_ball
from engine.routine.values import Routine
from engine.storage import load_routine

FOLDER = Path(__file__).resolve().parents[2] / "layouts_demo"
FILES = sorted(FOLDER.glob("*.json"))
#: Lanes of one shot must be this far apart where they first meet a cushion or, before that, stop.
APART_MM = 120.0
#: Set-up errors of this size must not change a claim about a lane.
MISPLACED_MM = 3.0

#: Paces up to 5 m/s in the middle of the ball.
EVEN_PACES = np.linspace(1.0, 8.0, 29)

each_file = pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)


@cache
def routine_of(file: Path) -> Routine:
    return load_routine(file)


@cache
def answer_of(file: Path) -> RoutineAnswer:
    return answer(routine_of(file))


def lane_of(file_start: str, label: str) -> Lane:
    file = next(file for file in FILES if file.name.startswith(file_start))
    lanes = [lane for shot in answer_of(file).shots for lane in shot.lanes]
    return next(lane for lane in lanes if lane.label == label)


def gap_claims(kind: str) -> list[tuple[str, str]]:
    """Kind of gap and file of every claim of one kind."""
    return [
        (routine_of(file).gap(claim.gap).kind, file.stem)
        for file in FILES
        for claim in routine_of(file).claims
        if claim.kind == kind
    ]


@each_file
def test_it_is_signed_and_told_in_words(file: Path) -> None:
    routine = routine_of(file)
    assert routine.title and routine.coach and routine.club and routine.notes
    assert routine.shots and routine.claims
    for shot in routine.shots:
        assert shot.title and shot.question and shot.answer and shot.note
        assert len(shot.lanes) >= 2


@each_file
@pytest.mark.slow
def test_every_claim_holds(file: Path) -> None:
    found = answer_of(file)
    assert found.problems == ()
    assert [claim for claim in found.claims if not claim.holds] == []


@each_file
@pytest.mark.slow
def test_every_shot_is_a_pot_that_goes_in_on_every_lane(file: Path) -> None:
    for shot in answer_of(file).shots:
        assert shot.refusals == ()
        assert shot.pot is not None and shot.pot.on
        for lane in shot.lanes:
            assert lane.object_potted, f"lane {lane.label}"
            assert not lane.in_off, f"lane {lane.label}"


@each_file
def test_every_shot_claims_its_pot_and_something_about_its_lanes_or_gaps(file: Path) -> None:
    routine = routine_of(file)
    assert {claim.shot for claim in routine.claims} == {shot.id for shot in routine.shots}
    assert any(claim.kind == "pot-on" for claim in routine.claims)
    for shot in routine.shots:
        kinds = {claim.kind for claim in routine.claims if claim.shot == shot.id}
        assert kinds - {"pot-on"}


@each_file
def test_lanes_end_far_enough_apart_to_point_at(file: Path) -> None:
    for shot in answer_of(file).shots:
        ends = [pointing_place(lane) for lane in shot.lanes]
        for i, one in enumerate(ends):
            for other in ends[i + 1 :]:
                assert one is not None and other is not None
                away = ((one[0] - other[0]) ** 2 + (one[1] - other[1]) ** 2) ** 0.5
                assert away >= APART_MM


@each_file
def test_balls_stand_on_whole_millimetres_or_on_a_spot(file: Path) -> None:
    routine = routine_of(file)
    on_spot = {place.ball for place in placements(routine) if place.spot}
    for ball in routine.balls:
        whole = float(ball.x_mm).is_integer() and float(ball.y_mm).is_integer()
        assert whole or ball.id in on_spot


@each_file
@pytest.mark.parametrize("turn", range(4))
def test_a_ball_misplaced_by_three_millimetres_changes_no_claim_about_a_lane(
    file: Path, turn: int
) -> None:
    routine = routine_of(file)
    ways = ((1, 0), (0, 1), (-1, 0), (0, -1))
    # the cue ball goes one way and the others the three other ways in turn, which shifts cuts most
    balls = []
    for index, ball in enumerate(routine.balls):
        dx, dy = ways[(turn + (0 if ball.is_cue else 2 + index % 3)) % 4]
        moved_x, moved_y = ball.x_mm + MISPLACED_MM * dx, ball.y_mm + MISPLACED_MM * dy
        balls.append(replace(ball, x_mm=moved_x, y_mm=moved_y))
    claims = tuple(claim for claim in routine.claims if not claim.kind.startswith("gap-"))
    moved = replace(routine, balls=tuple(balls), claims=claims)
    shots = [answer_shot(moved, shot.id) for shot in moved.shots]
    judged = judge_claims(moved, shots, ())
    assert [claim.found for claim in judged if not claim.holds] == []


def test_there_are_at_least_eight_and_levels_rise() -> None:
    assert len(FILES) >= 8
    levels = [routine_of(file).level for file in FILES]
    assert levels == sorted(levels)
    assert levels[0] == 1 and levels[-1] == 5


def test_they_cover_all_kinds_of_gap_and_claim() -> None:
    reached = {kind for kind, _ in gap_claims("gap-reachable")}
    assert reached == {"ball-ball", "ball-cushion", "cushion-stretch", "cloth-area", "cannon"}
    kinds = {claim.kind for file in FILES for claim in routine_of(file).claims}
    assert kinds >= {"pot-on", "lane-clears", "lane-contacts", "lane-threads", "gap-unreachable"}


def test_they_cover_the_table() -> None:
    pockets = {shot.pocket for file in FILES for shot in routine_of(file).shots}
    assert pockets == {
        "bottom-left", "bottom-right", "middle-left", "middle-right", "top-left", "top-right",
    }  # fmt: skip


@pytest.mark.slow
def test_one_gap_cannot_be_reached_at_any_pace_and_a_small_move_opens_it() -> None:
    file = next(file for file in FILES if file.name.startswith("10-"))
    routine = routine_of(file)
    claim = next(claim for claim in routine.claims if claim.kind == "gap-unreachable")
    assert claim.pace_min is None and claim.pace_max is None
    verdict = next(one for one in answer_of(file).verdicts if one.gap == claim.gap)
    assert not verdict.reachable
    # from pace 8 on (5 m/s) ways up and down the whole table come near, none that can be played
    scene = laid_out_of(routine, claim.shot, (claim.gap,))
    tips, paces = (one.ravel() for one in np.meshgrid(np.linspace(-0.5, 0.5, 41), EVEN_PACES))
    found = outcomes(scene, tips, scene.conditions.speed_mm_s(paces, tips))
    assert np.nanmax(found.margin_mm) < -50.0

    red = routine.ball(routine.shots[0].object_ball)
    opened = move_ball(routine, red.id, red.x_mm, red.y_mm - 50.0)
    after = verdict_on(opened, claim.shot, claim.gap)
    assert after.reachable
    assert any(one.pace_min < 4.5 and one.pace_max > 4.5 for one in after.windows)


@pytest.mark.slow
def test_advice_opens_the_gap_that_cannot_be_reached() -> None:
    routine = routine_of(next(file for file in FILES if file.name.startswith("10-")))
    claim = next(claim for claim in routine.claims if claim.kind == "gap-unreachable")
    found = advise(
        routine, Wish(claim.shot, claim.gap, 3.0, 6.0, margin_mm=15.0, apart_mm=APART_MM)
    )
    assert found
    for one in found:
        opened = routine
        for move in one.moves:
            opened = move_ball(opened, move.ball, *move.to_mm)
        after = verdict_on(opened, claim.shot, claim.gap)
        assert after.reachable and max(w.best_margin_mm for w in after.windows) >= 15.0


def test_screw_over_a_distance_arrives_as_stun_at_one_pace_and_rolling_at_a_softer_one() -> None:
    firm, soft, medium = (lane_of("06-", label) for label in "ABC")
    assert firm.tip_height == soft.tip_height == medium.tip_height < -0.4
    assert firm.spin_ratio_on_arrival < -0.5
    assert abs(medium.spin_ratio_on_arrival) < 0.1
    assert soft.spin_ratio_on_arrival > 0.9


def test_the_firm_top_shot_meets_the_ball_that_the_gentle_one_clears() -> None:
    firm, gentle = lane_of("07-", "A"), lane_of("07-", "C")
    assert firm.tip_height == gentle.tip_height and firm.pace > gentle.pace
    assert firm.first_touched == "red" and gentle.clear


def test_the_stun_run_through_arrives_with_some_forward_spin_on_an_angle() -> None:
    lane = lane_of("08-", "B")
    assert 0.15 < lane.spin_ratio_on_arrival < 0.6
    assert lane.strike_name == "run-through"
