"""Windows against brute force: every shot of a dense grid, on random routines.

A few routines each time; all thirty with BAIZEWRIGHT_FULL=1 (a minute or two). The
brute force plays through the compiled judge; a sample of its shots, half of them on the edges of
the windows, is played again as lanes and judged by the shapely corridors of `engine.lanes`.
"""

from dataclasses import replace

import numpy as np
import pytest
from scipy import ndimage

from engine.answers import answer_shot
from engine.judging import outcomes
from engine.playing import laid_out_of
from engine.reach import reach_map
from engine.routine.values import LaneAsk
from tests.engine.reach.brute_force import apart, dense, unmatched
from tests.engine.reach.scenes import random_routine
from tests.shares import FULL, share

SEEDS = range(30) if FULL else (7, 25)
SAMPLE = 16


@pytest.fixture(scope="module", params=SEEDS)
def case(request):
    routine = random_routine(request.param)
    scene = laid_out_of(routine, "s", ("g",))
    return request.param, routine, scene, dense(scene)


BORDERLINE: list[tuple[int, str]] = []


@pytest.mark.slow
def test_windows_agree_at_every_boundary_within_one_step(case):
    seed, _, scene, truth = case
    found = reach_map(scene)
    assert found.threads.shape == truth.threads.shape
    np.testing.assert_allclose(found.tip_heights, truth.tips, atol=1e-12)
    np.testing.assert_allclose(found.paces, truth.paces, atol=1e-12)
    missed = [(truth.tips[i], truth.paces[j]) for i, j in apart(truth.threads, found.threads)]
    assert missed == [], "shots the map takes for another kind"
    claimed = [(truth.tips[i], truth.paces[j]) for i, j in apart(found.threads, truth.threads)]
    assert claimed == [], "parts of the map that brute force does not know"
    regions, windows = unmatched(truth, found)
    BORDERLINE.extend((seed, f"{box.thickness:.2f} steps") for box in regions if box.is_borderline)
    assert [box for box in regions if not box.is_borderline] == []
    assert len(windows) <= sum(box.is_borderline for box in regions)


def test_few_windows_are_nearly_slivers():
    # runs after the cases above, which list theirs
    assert len(BORDERLINE) <= len(SEEDS) // 10, BORDERLINE


@pytest.mark.slow
def test_shots_on_the_edges_agree_with_lanes_and_their_corridors(case):
    seed, routine, scene, truth = case
    random = np.random.default_rng(seed)
    inner = ndimage.binary_erosion(truth.threads, border_value=1)
    edges = np.argwhere(truth.threads & ~inner)
    picked = edges[random.integers(0, len(edges), SAMPLE)] if len(edges) else edges
    anywhere = np.column_stack([random.integers(0, n, SAMPLE) for n in truth.threads.shape])
    i, j = np.concatenate([picked, anywhere]).T
    tips, paces = truth.tips[i], truth.paces[j]
    lanes = tuple(
        LaneAsk(str(k), float(tip), float(pace))
        for k, (tip, pace) in enumerate(zip(tips, paces, strict=True))
    )
    shot = replace(routine.shots[0], lanes=lanes)
    answer = answer_shot(replace(routine, shots=(shot,)), "s")
    passes = {one.lane: one for one in answer.passes}
    found = outcomes(scene, tips, scene.conditions.speed_mm_s(paces, tips))
    assert (found.threads == truth.threads[i, j]).all()
    for k, lane in enumerate(answer.lanes):
        one = passes[lane.label]
        threads = one.threads and lane.object_potted and not lane.in_off
        assert found.threads[k] == threads, (tips[k], paces[k], one, lane.in_off)
        if threads:
            assert found.margin_mm[k] == pytest.approx(one.margin_mm, abs=0.1)


@pytest.mark.parametrize("seed", share((4, 7, 19), 2))  # windows without spikes thinner than a step
@pytest.mark.slow
def test_window_edges_are_closed_in_on(seed):
    """To 0.1 % of the radius and 0.01 m/s: threads just inside an edge, and not just outside."""
    scene = laid_out_of(random_routine(seed), "s", ("g",))
    speeds = scene.conditions.speed_mm_s
    checked = 0
    for window in reach_map(scene).windows:
        tips = np.linspace(window.tip_min, window.tip_max, 20001)
        paces = np.linspace(window.pace_min, window.pace_max, 20001)
        for edge, out in ((window.tip_min, -1.0), (window.tip_max, 1.0)):
            if scene.lowest_tip + 1e-9 < edge < scene.conditions.tip_limit - 1e-9:
                tip, beyond = edge - 5e-4 * out, edge + 1e-3 * out
                inside = outcomes(scene, tip, speeds(paces, tip), margins=False).threads
                near = np.median(paces[inside]) + np.linspace(-0.05, 0.05, 401)
                near = speeds(np.clip(near, 1.0, 10.0), beyond)
                outside = outcomes(scene, beyond, near, margins=False)
                assert inside.any() and not outside.threads.any()
                checked += 1
        for edge, out in ((window.pace_min, -1.0), (window.pace_max, 1.0)):
            if 1.0 + 1e-9 < edge < 10.0 - 1e-9:
                within = speeds(edge - 1e-2 * out, tips)
                inside = outcomes(scene, tips, within, margins=False).threads
                near = np.median(tips[inside]) + np.linspace(-0.005, 0.005, 401)
                near = np.clip(near, scene.lowest_tip, 0.5)
                outside = outcomes(scene, near, speeds(edge, near) + 10.0 * out, margins=False)
                assert inside.any() and not outside.threads.any()
                checked += 1
    assert checked >= 2
