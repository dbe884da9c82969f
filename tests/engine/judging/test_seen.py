"""What once contradicted itself: two answers to one question, ways that ignored what they touch."""

import math
from dataclasses import fields, is_dataclass, replace

import numpy as np
import pytest

import engine.results as results
from engine.answers import answer, answer_shot, set_up_tolerance
from engine.balls import Ball
from engine.judging import outcomes
from engine.judging.rules import GRADES, THREADS
from engine.playing import laid_out_of
from engine.reach import reach_map, verdict
from engine.routine.context import conditions_of
from engine.routine.values import Claim, Gap, LaneAsk, Routine, Shot
from tests.engine.reach.scenes import routine as pot_routine

CUE, BLUE = Ball("cue", "cue", 889.0, 900.0), Ball("blue", "blue", 905.0, 1500.0)
WIDE = Gap("wide", "cloth-area", points_mm=((30, 30), (1748, 30), (1748, 3539), (30, 3539)))


def kind_of(routine: Routine, gap: str = "wide") -> str:
    found = answer_shot(routine, routine.shots[0].id)
    return next(one.kind for one in found.passes if one.gap == gap)


def test_the_object_ball_of_a_shot_along_a_direction_is_no_obstacle():
    shot = Shot("s", "blue", aim_deg=90.0, lanes=(LaneAsk("A", 0.2, 4),))
    claims = (
        Claim("lane-threads", "s", "A", gap="wide"),
        Claim("gap-unreachable", "s", gap="wide"),
    )
    routine = Routine(balls=(CUE, BLUE), shots=(shot,), gaps=(WIDE,), claims=claims)
    found = answer(routine, chances=False)
    assert [claim.holds for claim in found.claims] == [True, False]
    assert found.verdicts[0].reachable
    scene = laid_out_of(routine, "s", ("wide",))
    assert scene.balls[scene.target].id == "blue" and scene.pocket == -1


def test_a_lane_that_misses_the_pot_threads_nothing_and_says_so():
    far = Ball("cue", "cue", 889.0, 600.0)
    blue = Ball("blue", "blue", 889.0, 1500.0)
    slow = Shot("s", "blue", "top-left", lanes=(LaneAsk("A", 0.0, 2.0),))
    claim = Claim("lane-threads", "s", "A", gap="wide")
    routine = Routine(balls=(far, blue), shots=(slow,), gaps=(WIDE,), claims=(claim,))
    assert kind_of(routine) == "not-potted"
    found = answer(routine, chances=False)
    (told,) = found.claims
    assert not told.holds and [one.kind for one in told.found] == ["object-ball-stays-out"]
    assert set_up_tolerance(routine) == (), "nothing that holds, nothing to watch"


def test_a_lane_that_goes_in_off_threads_nothing_and_says_so():
    gap = Gap("edge", "ball-cushion", ("r",), "right")
    red = Ball("r", "red", 1000.0, 2600.0)
    aim = math.degrees(math.atan2(3569.0 - 2000.0, 1778.0 - 1000.0))
    shot = Shot("s", aim_deg=aim, lanes=(LaneAsk("A", 0.2, 5.0),))
    cue = Ball("cue", "cue", 1000.0, 2000.0)
    routine = Routine(balls=(cue, red), shots=(shot,), gaps=(gap,))
    assert kind_of(routine, "edge") == "in-off"


@pytest.mark.parametrize("target", ["", "blue"])
def test_a_lane_that_touches_a_ball_is_told_as_it_is_played(target):
    aim = Shot("s", target, aim_deg=90.0, lanes=(LaneAsk("A", 0.3, 5.0),))
    balls = (CUE, BLUE) if target else (CUE,)
    free = answer_shot(Routine(balls=balls, shots=(aim,)), "s").lanes[0]
    x, y = free.path_mm[len(free.path_mm) // 2]
    red = Ball("r", "red", float(x) + 20.0, float(y))
    (lane,) = answer_shot(Routine(balls=(*balls, red), shots=(aim,)), "s").lanes
    assert lane.stops_mm == dict(lane.rests)["cue"] != free.stops_mm
    assert tuple(lane.path_mm[-1]) == pytest.approx(lane.stops_mm)
    played = [e.other for e in lane.events if e.ball == "cue" and e.kind in ("cushion", "jaw")]
    assert [one.cushion for one in lane.bounces] == played
    assert not lane.clear and lane.clearances[-1].clearance_mm < 0.0


def test_a_touch_tells_after_how_many_cushions_it_comes():
    aim = Shot("s", aim_deg=80.0, lanes=(LaneAsk("A", 0.3, 7.0),))
    free = answer_shot(Routine(balls=(CUE,), shots=(aim,)), "s").lanes[0]
    leg = free.legs_mm[2]
    x, y = leg[0] + 0.5 * (leg[-1] - leg[0])
    red = Ball("r", "red", float(x), float(y))
    (lane,) = answer_shot(Routine(balls=(CUE, red), shots=(aim,)), "s").lanes
    (room,) = lane.clearances
    assert room.clearance_mm < 0.0 and room.after_cushions == 2
    x, y = room.at_mm
    assert math.dist((x, y), red.centre_mm) == pytest.approx(52.5, abs=1e-6), "where it touches"


def filled(scene, box):
    """The share of a box of tip heights and paces that threads."""
    tips, paces = np.meshgrid(np.linspace(box[0], box[1], 25), np.linspace(box[2], box[3], 25))
    return outcomes(
        scene, tips.ravel(), scene.conditions.speed_mm_s(paces.ravel(), tips.ravel())
    ).threads.mean()


def stretch_of_top(low, high):
    return Gap("thin", "cushion-stretch", cushion="top", from_mm=low, to_mm=high)


THIN = stretch_of_top(1000.0, 1060.0)


@pytest.mark.slow
@pytest.mark.parametrize("gap", [WIDE, THIN])
def test_a_window_tells_how_far_it_is_filled_and_a_box_that_is(gap):
    routine = pot_routine(gap)
    scene = laid_out_of(routine, "s", (gap.id,))
    windows = reach_map(scene).windows
    assert windows and any(window.is_diagonal for window in windows) >= (gap is THIN)
    for window in windows:
        bounds = window.tip_min, window.tip_max, window.pace_min, window.pace_max
        # what another window threads within the same bounds does not count as its own
        share = filled(scene, bounds)
        assert share > window.filled_share - 0.1
        assert len(windows) > 1 or share < window.filled_share + 0.1
        assert window.is_diagonal == (window.filled_share < 0.8)
        assert filled(scene, window.box) > 0.7
        assert window.tip_min <= window.box[0] <= window.box[1] <= window.tip_max


@pytest.mark.slow
def test_the_strike_advised_is_one_that_a_hand_can_repeat():
    found = verdict(pot_routine(WIDE), "s", "wide")
    choice, radius = found.choice, conditions_of(pot_routine(WIDE)).cue_radius_mm
    assert not choice.finer_than_a_hand
    assert choice.tip_height * radius == pytest.approx(round(choice.tip_height * radius), abs=1e-9)
    assert choice.pace * 2.0 == round(choice.pace * 2.0)
    assert choice.grade in dict(GRADES) and 0.0 < found.threading_share <= 1.0
    scene = laid_out_of(pot_routine(WIDE), "s", ("wide",))
    again = outcomes(
        scene, choice.tip_height, scene.conditions.speed_mm_s(choice.pace, choice.tip_height)
    )
    assert again.reason[0] == THREADS and again.margin_mm[0] == pytest.approx(choice.margin_mm)


@pytest.mark.slow
def test_where_no_hand_repeats_it_the_true_width_is_told():
    routine = pot_routine(stretch_of_top(1108.0, 1114.0))
    choice = verdict(routine, "s", "thin").choice
    scene, radius = laid_out_of(routine, "s", ("thin",)), conditions_of(routine).cue_radius_mm
    marks = np.arange(-13.0, 14.0) / radius
    tips, paces = (part.ravel() for part in np.meshgrid(marks, np.arange(1.0, 10.5, 0.5)))
    assert not outcomes(scene, tips, scene.conditions.speed_mm_s(paces, tips)).threads.any()
    tip, pace = choice.within
    assert choice.finer_than_a_hand and 0.0 < tip * radius < 1.0 and 0.0 < pace < 0.5
    # through the strike itself it threads from end to end, and no farther by more than two steps
    for at, width, step in ((0, tip, 0.0025), (1, pace, 0.025)):
        strikes = np.tile([choice.tip_height, choice.pace], (401, 1))
        strikes[:, at] += np.linspace(-1.0, 1.0, 401) * (width + 2.0 * step)
        does = outcomes(scene, strikes[:, 0], scene.conditions.speed_mm_s(*strikes.T[::-1])).threads
        assert width <= np.ptp(strikes[does, at]) <= width + 2.0 * step


def claim_on(kind, **more):
    lanes = (LaneAsk("A", "stun", 4.0), LaneAsk("B", 0.4, 4.0), LaneAsk("C", 0.38, 4.0))
    base = pot_routine(WIDE, THIN)
    shot = replace(base.shots[0], lanes=lanes)
    routine = replace(base, shots=(shot,), claims=(Claim(kind, "s", **more),))
    return answer(routine, chances=False).claims[0]


@pytest.mark.parametrize(
    ("kind", "more", "holds"),
    [
        ("lane-near-ninety", {"lane": "A", "within_deg": 5.0}, True),
        ("lane-near-ninety", {"lane": "B", "within_deg": 5.0}, False),
        ("lane-same-line", {"lane": "B", "other": "C", "within_deg": 5.0}, True),
        ("lane-same-line", {"lane": "A", "other": "B", "within_deg": 5.0}, False),
        ("cue-ball-stops-in", {"lane": "A", "gap": "wide"}, True),
        ("object-ball-stops-in", {"lane": "A", "gap": "wide"}, False),
    ],
)
@pytest.mark.slow
def test_claims_on_lines_and_rests(kind, more, holds):
    found = claim_on(kind, **more)
    assert found.holds == holds, found


@pytest.mark.slow
def test_claims_on_sides_and_rooms_are_opposites():
    left, right = (claim_on("lane-passes", lane="A", ball="r1", side=s) for s in ("left", "right"))
    assert left.holds != right.holds, (left, right)
    one = claim_on("lane-more-room", lane="A", other="B", ball="r1")
    two = claim_on("lane-more-room", lane="B", other="A", ball="r1")
    assert one.holds != two.holds, (one, two)


def test_every_result_is_a_frozen_value_of_the_results():
    for name in results.__all__:
        kind = getattr(results, name)
        if name != "Point":
            assert is_dataclass(kind) and kind.__dataclass_params__.frozen, name
            assert kind.__module__.startswith("engine.results"), name
            assert all(field.type for field in fields(kind)), name
