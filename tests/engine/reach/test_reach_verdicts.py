"""Verdicts: windows, the choice that forgives most, and the limit that stops a gap."""

import math
from dataclasses import replace

import numpy as np
import pytest

from engine.answers import answer_shot
from engine.balls import Ball
from engine.errors import UnknownNameError
from engine.judging import outcomes
from engine.judging.rules import BLOCKED, NOT_POTTED
from engine.playing import laid_out_of
from engine.reach import reach, verdict, verdicts, widest_room
from engine.routine.values import Gap, LaneAsk, Routine, Shot
from tests.engine.reach.scenes import BLACK, CUE, FAR, NEAR, REDS, SHOT, routine


@pytest.mark.slow
def test_reachable_gap_has_windows_that_hold_their_best():
    found = verdict(routine(NEAR), "s", "near")
    assert found.reachable and found.nearest_miss_mm is None and found.limit is None
    assert found.width_mm == pytest.approx(300 - 52.5)
    for window in found.windows:
        assert window.tip_min <= window.best_tip <= window.tip_max
        assert window.pace_min <= window.best_pace <= window.pace_max
        assert window.best_margin_mm > 0.0
    assert found.best is not None and all(found.windows[0].strikes)


@pytest.mark.slow
def test_choice_threads_as_a_lane_with_the_same_margin():
    plan = routine(NEAR)
    choice = verdict(plan, "s", "near").choice
    asked = Shot("s", "black", "top-left", lanes=(LaneAsk("A", choice.tip_height, choice.pace),))
    (one,) = answer_shot(Routine(balls=plan.balls, shots=(asked,), gaps=plan.gaps), "s").passes
    assert one.threads and one.margin_mm == pytest.approx(choice.margin_mm, abs=0.05)
    names = [name for name, *_ in choice.chances]
    shares = [share for _, share, *_ in choice.chances]
    assert names == ["learner", "club player", "county player"]
    assert shares == sorted(shares) and shares[-1] > shares[0]


def test_margins_agree_with_the_corridor_of_the_lane():
    # the compiled judge against the shapely route, for every kind of gap
    gaps = (
        NEAR,
        Gap("rail", "ball-cushion", ("r1",), "right"),
        Gap("stretch", "cushion-stretch", cushion="right", from_mm=1500.0, to_mm=3000.0),
        Gap("area", "cloth-area", points_mm=((200, 800), (1700, 800), (1700, 2300), (200, 2300))),
        Gap("cannon", "cannon", ("r2",)),
        Gap("cannon-left", "cannon", ("r2",), side="left"),
    )
    tips, paces = np.linspace(-0.5, 0.5, 9), (2.0, 3.5, 5.0, 7.0)
    compared = 0
    for pace in paces:
        lanes = tuple(LaneAsk(str(k), tip, pace) for k, tip in enumerate(map(float, tips)))
        plan = routine(*gaps, shot=replace(SHOT, lanes=lanes))
        passes = answer_shot(plan, "s").passes
        for gap in gaps:
            scene = laid_out_of(plan, "s", (gap.id,))
            found = outcomes(scene, tips, scene.conditions.speed_mm_s(pace, tips))
            theirs = [one for one in passes if one.gap == gap.id]
            for k, one in enumerate(theirs):
                if found.reason[k] == NOT_POTTED or not one.margin_mm > -150.0:
                    continue
                assert found.threads[k] == one.threads, (gap.id, pace, k, one)
                assert found.margin_mm[k] == pytest.approx(one.margin_mm, abs=0.1), (gap.id, k)
                compared += 1
    assert compared > 30


def test_unreachable_gap_tells_its_limit_and_the_nearest_miss():
    found = verdict(routine(FAR), "s", "far")
    assert not found.reachable and found.windows == () and found.choice is None
    assert found.limit
    if found.nearest_miss_mm is not None:
        assert found.nearest.margin_mm == pytest.approx(-found.nearest_miss_mm)


def test_gap_narrower_than_the_cue_ball():
    tight = (CUE, BLACK, Ball("r1", "red", 1200, 2500), Ball("r2", "red", 1110, 2500))
    found = verdict(routine(NEAR, balls=tight), "s", "near")
    assert not found.reachable and found.limit.kind == "narrow"
    assert found.nearest_miss_mm == pytest.approx(52.5 - 37.5)


@pytest.mark.slow
def test_obstacle_in_the_mouth_of_the_gap_stops_the_choice():
    plan = routine(NEAR)
    choice = verdict(plan, "s", "near").choice
    blockers = tuple(Ball(f"b{k}", "red", 960.0 + 60.0 * k, 2570.0) for k in range(4))
    scene = laid_out_of(routine(NEAR, balls=(CUE, BLACK, *REDS, *blockers)), "s", ("near",))
    found = outcomes(
        scene, choice.tip_height, scene.conditions.speed_mm_s(choice.pace, choice.tip_height)
    )
    assert found.reason[0] == BLOCKED and found.margin_mm[0] < 0.0
    assert scene.balls[found.other[0]].id.startswith("b")


def _full_screw_lane(cue):
    """The lane of full screw at pace 3.5 off the black, with nothing in its way."""
    asked = replace(SHOT, lanes=(LaneAsk("A", -0.5, 3.5),))
    (one,) = answer_shot(routine(shot=asked, balls=(cue, BLACK)), "s").lanes
    assert one.object_potted and one.stops_mm is not None
    return one


def test_ring_of_reds_round_the_place_to_finish_is_the_limit():
    cue = Ball("cue", "cue", 1050.0, 3050.0)
    x, y = _full_screw_lane(cue).stops_mm
    area = ((x - 60, y - 60), (x + 60, y - 60), (x + 60, y + 60), (x - 60, y + 60))
    ring = [(x + 300 * math.cos(k * math.pi / 18), y + 300 * math.sin(k * math.pi / 18))
            for k in range(36)]  # fmt: skip
    reds = [Ball(f"w{k}", "red", *at) for k, at in enumerate(ring)]
    free = [red for red in reds if 27 < red.x_mm < 1750 and 27 < red.y_mm < 3540]
    gap = Gap("home", "cloth-area", points_mm=area)
    assert verdict(routine(gap, balls=(cue, BLACK)), "s", "home").reachable
    walled = verdict(routine(gap, balls=(cue, BLACK, *free)), "s", "home")
    assert not walled.reachable
    assert walled.limit.kind == "in-the-way"


def test_backspin_gone_before_contact():
    # the same pot on a table whose paces are all slow: the backspin wears off on the way
    cue = Ball("cue", "cue", 1050.0, 3050.0)
    lane = _full_screw_lane(cue)
    axis = 1 if lane.first_cushion in ("left", "right") else 0
    at = lane.first_cushion_mm[axis]
    gap = Gap("c", "cushion-stretch", cushion=lane.first_cushion, from_mm=at - 90, to_mm=at + 90)
    slow = {"pace_speeds_m_s": [0.80 + 0.03 * k for k in range(10)]}
    assert verdict(routine(gap, balls=(cue, BLACK)), "s", "c").reachable
    found = verdict(routine(gap, balls=(cue, BLACK), conditions=slow), "s", "c")
    assert not found.reachable
    assert found.limit.kind == "no-backspin"


def test_pot_that_is_not_on_reaches_nothing():
    blocked = (CUE, BLACK, *REDS, Ball("r3", "red", 450.0, 3400.0))
    found = verdict(routine(NEAR, balls=blocked), "s", "near")
    assert not found.reachable and found.limit.kind == "pot-off" and found.limit.then


@pytest.mark.slow
def test_widest_room_within_paces_agrees_with_the_windows():
    plan = routine(NEAR)
    windows = verdict(plan, "s", "near").windows
    low = min(window.pace_min for window in windows)
    high = max(window.pace_max for window in windows)
    assert widest_room(plan, "s", "near", low, high) == pytest.approx(
        max(window.best_margin_mm for window in windows), rel=0.1
    )
    if low > 1.2:
        assert widest_room(plan, "s", "near", 1.0, low - 0.1) is None


@pytest.mark.slow
def test_verdicts_of_several_gaps_are_those_of_each():
    both = verdicts(routine(NEAR, FAR), "s")
    assert both == (verdict(routine(NEAR), "s", "near"), verdict(routine(FAR), "s", "far"))


def test_unfinished_gap_gets_no_verdict_but_its_neighbours_do():
    bad = Gap("bad", "cushion-stretch", cushion="top")
    first, second = verdicts(routine(bad, NEAR), "s", forgiving=False)
    assert not first.reachable and first.error is not None and second.reachable


@pytest.mark.slow
def test_several_gaps_in_order_ask_for_more_than_each_alone():
    area = Gap("rest", "cloth-area", points_mm=((200, 800), (1700, 800), (1700, 2400), (200, 2400)))
    order = Gap("both", "in-order", gaps=("near", "rest"))
    plan = routine(NEAR, area, order)
    near, rest, both = (reach(plan, "s", name).threads.mean() for name in ("near", "rest", "both"))
    assert 0.0 < both <= min(near, rest) + 1e-3


def test_names_that_are_not_there():
    with pytest.raises(UnknownNameError, match="no gap called 'x'"):
        reach(routine(NEAR), "s", "x")
    with pytest.raises(UnknownNameError, match="no shot called 't'"):
        verdict(routine(NEAR), "t", "near")
