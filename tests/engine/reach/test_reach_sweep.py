"""The coarse sweep of tip heights and paces: maps, windows, verdicts."""

import numpy as np
import pytest

from engine.balls import Ball
from engine.errors import UnknownNameError
from engine.reach import reach, verdict, verdicts
from engine.reach.sweep import ReachMap, regions
from engine.routine.values import Gap, LaneAsk, Routine, Shot

CUE = Ball("cue", "cue", 1100.0, 2900.0)
BLACK = Ball("black", "black", 889.0, 3245.0)
REDS = (Ball("r1", "red", 1200.0, 2500.0), Ball("r2", "red", 900.0, 2500.0))
SHOT = Shot("s", "black", "top-left", lanes=(LaneAsk("A", 0.05, 4),))
NEAR = Gap("near", "ball-ball", ("r1", "r2"))
FAR = Gap("far", "cushion-stretch", cushion="bottom", from_mm=200.0, to_mm=260.0)


def routine(*gaps, balls=(CUE, BLACK, *REDS), **more):
    return Routine(balls=balls, shots=(SHOT,), gaps=gaps, **more)


def test_reachable_gap_has_windows_that_hold_their_best():
    found = verdict(routine(NEAR), "s", "near")
    assert found.reachable and found.nearest_miss_mm is None
    assert found.width_mm == pytest.approx(300 - 52.5)
    best = found.windows[0]
    assert best.tip_min <= best.best_tip <= best.tip_max
    assert best.pace_min <= best.best_pace <= best.pace_max
    assert best.best_margin_mm == max(window.best_margin_mm for window in found.windows) > 0.0
    assert "Reachable with" in found.sentence and f"{best.best_tip:+.2f}" in found.sentence


def test_best_choice_threads_as_a_lane_with_the_same_margin():
    from engine.answers import answer_shot

    plan = routine(NEAR)
    best = verdict(plan, "s", "near").windows[0]
    asked = Shot("s", "black", "top-left", lanes=(LaneAsk("A", best.best_tip, best.best_pace),))
    (one,) = answer_shot(Routine(balls=plan.balls, shots=(asked,), gaps=plan.gaps), "s").passes
    assert one.threads and one.margin_mm == pytest.approx(best.best_margin_mm, abs=0.05)


def test_unreachable_gap_tells_the_nearest_miss():
    found = verdict(routine(FAR), "s", "far")
    assert not found.reachable and found.windows == ()
    assert found.nearest_miss_mm is not None and found.nearest_miss_mm > 0.0
    assert f"nearest miss is {found.nearest_miss_mm:.0f} mm" in found.sentence


def test_pot_that_is_not_on_reaches_nothing():
    blocked = (CUE, BLACK, *REDS, Ball("r3", "red", 450.0, 3400.0))
    found = verdict(routine(NEAR, balls=blocked), "s", "near")
    assert not found.reachable and "the pot is not on" in found.sentence


def test_paces_that_do_not_pot_the_ball_do_not_count():
    found = reach(routine(NEAR), "s", "near", (1.0,))
    cells = [reason for row in found.reasons for reason in row]
    assert "the pot falls short" in cells and not found.threads.all()


def test_verdicts_of_several_gaps_are_those_of_each():
    both = verdicts(routine(NEAR, FAR), "s")
    assert both == (verdict(routine(NEAR), "s", "near"), verdict(routine(FAR), "s", "far"))


def test_unfinished_gap_gets_no_verdict_but_its_neighbours_do():
    bad = Gap("bad", "cushion-stretch", cushion="top")
    first, second = verdicts(routine(bad, NEAR), "s")
    assert not first.reachable and "No verdict" in first.sentence and second.reachable


def test_names_that_are_not_there():
    with pytest.raises(UnknownNameError, match="no gap called 'x'"):
        reach(routine(NEAR), "s", "x")
    with pytest.raises(UnknownNameError, match="no shot called 't'"):
        verdict(routine(NEAR), "t", "near")


def test_regions_join_edges_not_corners():
    cells = np.array([[1, 0, 1], [1, 0, 0], [0, 1, 1]], dtype=bool)
    found = regions(cells)
    assert sorted(int(one.sum()) for one in found) == [1, 2, 2]
    assert (np.sum(found, axis=0) == cells).all()


def test_nearest_miss_passes_over_cells_without_a_way():
    margin = np.array([[np.nan, -40.0], [-12.0, np.nan]])
    found = ReachMap(
        "s", "g", np.array([-0.5, 0.5]), np.array([1.0, 2.0]), margin,
        np.zeros((2, 2), dtype=bool), (("", "a"), ("b", "")),
    )  # fmt: skip
    assert found.nearest_miss() == (-12.0, 0.5, 1.0, "b")
    assert found.windows() == ()
