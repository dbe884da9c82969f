"""Which limit stops a gap, from maps of one try: the words fit what came of the nearest miss."""

import math
from dataclasses import replace
from importlib import import_module

import numpy as np
import pytest

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.judging import rules as j
from engine.playing import laid_out_of
from engine.potting import pot
from engine.reach import preview
from engine.reach.choosing import best_choice
from engine.reach.limits import limit_of
from engine.reach.mapping import ReachMap
from engine.reach.quick import quick_looks
from engine.results import Fact, ReachWindow
from engine.routine.values import Gap, Routine, Shot
from engine.tables import load_table
from tests.engine.reach.scenes import BLACK, CUE, FAR, NEAR, REDS, SHOT, routine

TIPS, PACES = np.linspace(-0.5, 0.5, 3), np.linspace(1.0, 10.0, 4)
AREA = Gap("area", "cloth-area", points_mm=((200, 200), (400, 200), (400, 400), (200, 400)))
FREE = Shot("s", aim_deg=80.0)


#: The module; the package's `verdicts` is the function in it.
verdicts = import_module("engine.reach.verdicts")


def one_try(reason, at=(1, 1), miss=30.0, other=-1):
    """A map of failing tries with the nearest miss at one place of it."""
    shape = (len(TIPS), len(PACES))
    margin, told = np.full(shape, -900.0), np.full(shape, j.MISSES, dtype=np.int8)
    others = np.full(shape, -1, dtype=np.int16)
    margin[at], told[at], others[at] = -miss, reason, other
    tried = np.ones(shape, dtype=bool)
    return ReachMap("s", ("g",), TIPS, PACES, ~tried, margin, told, others, tried, (), 0, 12)


def told(reason, gap=AREA, shot=FREE, balls=(CUE, BLACK, *REDS), **more):
    plan = routine(gap, balls=balls, shot=shot)
    return limit_of(laid_out_of(plan, "s", (gap.id,)), one_try(reason, **more))


@pytest.mark.parametrize(
    ("reason", "more", "limit"),
    [
        (j.NOT_POTTED, {}, Fact("pot-fails")),
        (j.IN_OFF, {}, Fact("always-in-off")),
        (j.BLOCKED, {"other": 2}, Fact("in-the-way", ball="r1")),
        (j.WRONG_BALL, {"other": 1}, Fact("in-the-way", ball="black")),
        (j.KISS, {}, Fact("kisses-first")),
        (j.STOPS_SHORT, {"at": (1, 3)}, Fact("highest-pace-short")),
        (j.STOPS_SHORT, {}, Fact("needs-side")),
        (j.MISSES, {"at": (0, 1)}, Fact("beyond-screw")),
        (j.MISSES, {"at": (2, 1)}, Fact("beyond-top")),
    ],
)
def test_the_nearest_miss_tells_the_limit(reason, more, limit):
    # through the gap, but not doing what the shot is for: that is no distance
    miss = None if reason in (j.NOT_POTTED, j.IN_OFF) else 30.0
    assert told(reason, **more) == (limit, miss)


def nothing_tried(reason):
    found = one_try(reason)
    return replace(
        found, margin_mm=np.full_like(found.margin_mm, np.nan),
        reason=np.full_like(found.reason, reason),
    )  # fmt: skip


def test_without_any_miss_the_pace_or_the_way_is_lacking():
    scene = laid_out_of(routine(AREA, shot=FREE), "s", ("area",))
    assert limit_of(scene, nothing_tried(j.SHORT_OF_BALL)) == (Fact("short-of-pot"), None)
    assert limit_of(scene, nothing_tried(j.WRONG_BALL)) == (Fact("never-near"), None)
    empty = nothing_tried(j.WRONG_BALL)
    assert limit_of(scene, replace(empty, tried=~empty.tried))[0] == Fact("never-near")


def test_a_final_line_through_the_gap_means_that_the_bend_comes_too_late():
    # the line 5/7 of the velocity and 2/7 of the spin make, drawn from the contact by hand
    table, conditions = load_table("snooker-12ft"), Conditions()
    cue, black = Ball("cue", "cue", 600.0, 2950.0), Ball("black", "black", 450.0, 3300.0)
    answer = pot(table, conditions, (cue, black), Shot("s", "black", "top-left"))
    (x, y), shot = answer.contact_mm, Shot("s", "black", "top-left")
    way = math.atan2(y - cue.y_mm, x - cue.x_mm)
    line = math.atan2(black.y_mm - y, black.x_mm - x)
    kept = np.array([math.cos(way), math.sin(way)]) - 0.5 * (
        1.0 + conditions.ball_restitution
    ) * math.cos(way - line) * np.array([math.cos(line), math.sin(line)])
    for tip, ratio, there in ((2, 1.25, True), (2, -3.0, False)):
        final = 5.0 * kept + 2.0 * ratio * np.array([math.cos(way), math.sin(way)])
        ux, uy = final / np.linalg.norm(final)
        spot = np.array([x, y]) + 200.0 * np.array([ux, uy])
        reds = tuple(
            Ball(name, "red", *map(float, spot + side * 110.0 * np.array([-uy, ux])))
            for name, side in (("r1", 1.0), ("r2", -1.0))
        )
        plan = routine(NEAR, balls=(cue, black, *reds), shot=shot)
        scene = laid_out_of(plan, "s", ("near",))
        limit, _ = limit_of(scene, one_try(j.MISSES, at=(tip, 2)))
        # top struck at half the radius arrives with about 1.25 of rolling
        assert (limit.kind == "late-bend") is there, (ratio, limit)


def test_an_area_has_no_line_to_bend_through():
    limit, _ = told(j.MISSES, shot=SHOT, at=(2, 1))
    assert limit.kind in ("beyond-top", "no-backspin")
    touching = (Ball("cue", "cue", 945.0, 3216.0), BLACK, *REDS)
    limit, _ = told(j.MISSES, shot=SHOT, at=(2, 1), balls=touching)
    assert limit.kind == "beyond-top", "so near the object ball no backspin is lost"


def test_quick_looks_tell_what_is_off_and_leave_what_is_unfinished_out():
    blocked = routine(NEAR, balls=(CUE, BLACK, *REDS, Ball("r3", "red", 450.0, 3400.0)))
    (look,) = quick_looks(blocked, "s")
    assert look.map is None and look.verdict.limit == Fact("pot-off") and not look.verdict.reachable
    bad = Gap("bad", "cushion-stretch", cushion="top")
    looks = quick_looks(routine(bad, FAR), "s")
    assert [one.verdict.gap for one in looks] == ["far"]
    assert (
        looks[0].verdict.quick
        and not looks[0].verdict.reachable
        and looks[0].verdict.nearest_miss_mm > 0.0
    )


def test_a_map_where_all_threads_has_no_miss():
    everywhere = Gap("g", "cloth-area", points_mm=((0, 0), (1778, 0), (1778, 3569), (0, 3569)))
    cue = Ball("cue", "cue", 889.0, 700.0)
    plan = Routine(balls=(cue,), shots=(Shot("s", aim_deg=90.0),), gaps=(everywhere,))
    found = preview(laid_out_of(plan, "s", ("g",)), tips=3, paces=3)
    assert found.threads.all() and found.nearest_miss() is None
    assert found.windows[0].pace_min == 1.0 and found.windows[0].pace_max == 10.0


@pytest.mark.parametrize(
    ("gap", "error", "words"),
    [
        (Gap("g", "luck"), UnknownNameError, "luck"),
        (Gap("g", "cloth-area", points_mm=((0, 0), (9, 9))), OutOfRangeError, "three or more"),
        (Gap("g", "cannon"), OutOfRangeError, "one ball"),
        (Gap("g", "cannon", ("r1",), side="under"), UnknownNameError, "under"),
        (Gap("g", "cushion-stretch", cushion="upper", from_mm=1.0, to_mm=9.0), UnknownNameError,
         "upper"),
        (Gap("g", "ball-ball", ("r1",)), OutOfRangeError, "2 of them"),
    ],
)  # fmt: skip
def test_gaps_that_are_not_complete_have_no_scene(gap, error, words):
    with pytest.raises(error, match=words):
        laid_out_of(routine(gap), "s", ("g",))


def test_a_shot_without_aim_says_what_it_needs():
    with pytest.raises(OutOfRangeError, match="an object ball and its pocket"):
        laid_out_of(routine(NEAR, shot=Shot("s", "black")), "s", ("near",))
    bare = routine(NEAR, shot=Shot("s", "black"), table="carom")
    with pytest.raises(OutOfRangeError, match="no pockets, so nothing can be potted"):
        laid_out_of(bare, "s", ("near",))


def test_slivers_and_a_gap_nothing_comes_near_are_told(monkeypatch):
    plan = routine(FAR)
    found = replace(one_try(j.BLOCKED, other=2), slivers=2)
    monkeypatch.setattr(verdicts, "reach_map", lambda scene: found)
    sliver = verdicts.verdict(plan, "s", "far")
    assert sliver.slivers == 2 and not sliver.reachable
    assert sliver.nearest_miss_mm == 30.0 and sliver.nearest.margin_mm == -30.0
    monkeypatch.setattr(verdicts, "reach_map", lambda scene: nothing_tried(j.SHORT_OF_BALL))
    never = verdicts.verdict(plan, "s", "far")
    assert never.nearest is None and never.nearest_miss_mm is None
    assert never.limit == Fact("short-of-pot")


def test_without_windows_there_is_no_choice():
    scene = laid_out_of(routine(FAR), "s", ("far",))
    assert best_choice(scene, one_try(j.MISSES)) is None
    window = ReachWindow(-0.5, -0.4, 1.0, 2.0, -0.45, 1.5, 3.0)
    # a window of which no lattice point threads has its roomiest strike alone
    choice = best_choice(scene, replace(one_try(j.MISSES), windows=(window,)))
    assert (choice.tip_height, choice.pace) == (-0.45, 1.5)


def test_a_cue_ball_that_never_arrives_has_no_neighbourhood_to_look_into():
    slow = {"pace_speeds_m_s": [0.05 + 0.01 * k for k in range(10)]}
    (look,) = quick_looks(routine(FAR, conditions=slow), "s")
    assert not look.verdict.reachable and look.verdict.nearest_miss_mm is None
    assert (look.map.reason == j.SHORT_OF_BALL).all()
