"""What must hold of reach for any set-up: mirrors, wider gaps, fewer obstacles.

"Never shrinks" is meant shot by shot: a shot that threads goes on threading, unless the ball that
was moved or taken away had a hand in it. A ball moved outward may now lie in the way of the cue
ball or of the object ball. And a ball that is no longer where it was may have been met there once
the gap was behind: without it the cue ball may run in-off, into the object ball or back into the
gap's edge, or the object ball may miss. A shot that meets the ball in neither set-up is
never lost, and keeps its room when a ball is taken away.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.balls import Ball
from engine.judging import outcomes
from engine.judging.outcomes import rooms
from engine.judging.rules import EDGE, IN_OFF, KISS, NOT_POTTED
from engine.playing import laid_out_of
from engine.reach import reach_map
from engine.routine.context import table_of
from engine.routine.values import Gap
from engine.shot import play_many
from engine.shot.polyline import FLATTEN_MM
from tests.engine.reach.scenes import random_routine
from tests.shares import FULL

SHOTS = 300
#: The same curve cut into other chords, each of which may stray by the tolerance.
CHORDS_MM = 2.0 * FLATTEN_MM
#: What may come of a shot that a ball used to end once the gap was behind, and no longer does.
WHEN_NOT_STOPPED = (IN_OFF, NOT_POTTED, KISS, EDGE)
MOST = {"max_examples": 400 if FULL else 30, "deadline": None, "derandomize": not FULL}
seeds = st.integers(0, 5000)
GAPS = {
    "ball-ball": Gap("g", "ball-ball", ("r0", "r1")),
    "ball-cushion": Gap("g", "ball-cushion", ("r2",), "left"),
    "cushion-stretch": Gap("g", "cushion-stretch", cushion="bottom", from_mm=300, to_mm=1100),
    "cloth-area": Gap("g", "cloth-area", points_mm=((150, 500), (1500, 600), (900, 2400))),
    "cannon": Gap("g", "cannon", ("r2",), side="left"),
}


def with_gap(seed, kind):
    return replace(random_routine(seed), gaps=(GAPS[kind],))


def some_shots(seed, count=SHOTS):
    random = np.random.default_rng(seed)
    return random.uniform(-0.5, 0.5, count), random.uniform(600.0, 5000.0, count)


def mirrored(routine):
    """The set-up seen in a mirror: x to width − x, left to right."""
    width = table_of(routine).width_mm
    swap = {"left": "right", "right": "left"}
    balls = tuple(replace(ball, x_mm=width - ball.x_mm) for ball in routine.balls)
    (shot,), (gap,) = routine.shots, routine.gaps
    row, _, side = shot.pocket.rpartition("-")
    along = gap.cushion in ("top", "bottom")
    gap = replace(
        gap,
        cushion=swap.get(gap.cushion, gap.cushion),
        side=swap.get(gap.side, gap.side),
        from_mm=width - gap.to_mm if along else gap.from_mm,
        to_mm=width - gap.from_mm if along else gap.to_mm,
        points_mm=tuple((width - x, y) for x, y in gap.points_mm),
    )
    shot = replace(shot, pocket=f"{row}-{swap[side]}")
    return replace(routine, balls=balls, shots=(shot,), gaps=(gap,))


@settings(**MOST)
@given(seed=seeds, kind=st.sampled_from(sorted(GAPS)))
@pytest.mark.slow
def test_mirrored_set_ups_give_mirrored_answers(seed, kind):
    routine = with_gap(seed, kind)
    tip, speed = some_shots(seed)
    random = np.random.default_rng(seed + 1)
    aim, side = random.normal(0.0, 0.003, SHOTS), random.uniform(-0.1, 0.1, SHOTS)
    ours = outcomes(laid_out_of(routine, "s", ("g",)), tip, speed, aim_error_rad=aim, side=side)
    theirs = outcomes(
        laid_out_of(mirrored(routine), "s", ("g",)), tip, speed, aim_error_rad=-aim, side=-side
    )
    np.testing.assert_allclose(np.cos(theirs.direction_rad), -np.cos(ours.direction_rad), atol=1e-9)
    # rounding may tip a shot whose margin is nothing; long ways blow rounding up a little
    firm = ~(np.abs(np.nan_to_num(ours.margin_mm)) < 0.01)
    same = (ours.reason == theirs.reason) & (ours.other == theirs.other)
    assert (same | ~firm).all()
    np.testing.assert_allclose(theirs.margin_mm[same], ours.margin_mm[same], atol=0.01)


@settings(max_examples=40 if FULL else 5, deadline=None, derandomize=not FULL)
@given(seed=seeds)
@pytest.mark.slow
def test_mirrored_set_ups_have_the_same_windows(seed):
    routine = with_gap(seed, ("ball-ball", "ball-cushion")[seed % 2])
    ours = reach_map(laid_out_of(routine, "s", ("g",)))
    theirs = reach_map(laid_out_of(mirrored(routine), "s", ("g",)))
    assert (ours.threads != theirs.threads).mean() < 1e-4
    assert len(ours.windows) == len(theirs.windows)
    for one, other in zip(ours.windows, theirs.windows, strict=True):
        assert other.tip_min == pytest.approx(one.tip_min, abs=2e-3)
        assert other.tip_max == pytest.approx(one.tip_max, abs=2e-3)
        assert other.pace_min == pytest.approx(one.pace_min, abs=2e-2)
        assert other.pace_max == pytest.approx(one.pace_max, abs=2e-2)
        assert other.best_margin_mm == pytest.approx(one.best_margin_mm, abs=0.5)


def lost(before, after):
    return np.nonzero(before.threads & ~after.threads)[0]


@settings(**MOST)
@given(seed=seeds, kind=st.sampled_from(sorted(GAPS)), which=st.sampled_from(["r0", "r1", "r3"]))
@pytest.mark.slow
def test_taking_an_obstacle_away_loses_no_shot(seed, kind, which):
    routine = with_gap(seed, kind)
    if which in routine.gaps[0].balls:
        return
    tip, speed = some_shots(seed)
    scene = laid_out_of(routine, "s", ("g",))
    fewer = replace(routine, balls=tuple(ball for ball in routine.balls if ball.id != which))
    before = outcomes(scene, tip, speed)
    after = outcomes(laid_out_of(fewer, "s", ("g",)), tip, speed)
    hits = np.nonzero(before.threads)[0]
    met = np.zeros(SHOTS, dtype=bool)
    if len(hits):
        met[hits] = moved(scene, which, tip[hits], speed[hits], before.direction_rad[hits])
    gone = lost(before, after)
    assert met[gone].all() and np.isin(after.reason[gone], WHEN_NOT_STOPPED).all()
    kept = before.threads & after.threads & ~met
    np.testing.assert_allclose(after.margin_mm[kept], before.margin_mm[kept], atol=CHORDS_MM)


def moved(scene, ball_id, tip, speed, direction):
    """Whether a ball is moved by each of some shots."""
    k = [ball.id for ball in scene.balls].index(ball_id)
    shots = play_many(scene.table, scene.conditions, scene.balls, speed, direction, tip_height=tip)
    return np.linalg.norm(shots.rests_mm[:, k] - scene.places_mm[k], axis=1) > 0.0


@settings(**MOST)
@given(seed=seeds, kind=st.sampled_from(["ball-ball", "ball-cushion"]), by=st.floats(1.0, 250.0))
@pytest.mark.slow
def test_widening_a_gap_loses_shots_only_to_the_ball_that_was_moved(seed, kind, by):
    """A shot that meets the moved ball in neither set-up goes on threading."""
    routine = with_gap(seed, kind)
    wider = widened(routine, by)
    if wider is None:
        return
    tip, speed = some_shots(seed)
    scene, narrow = laid_out_of(wider, "s", ("g",)), laid_out_of(routine, "s", ("g",))
    before, after = outcomes(narrow, tip, speed), outcomes(scene, tip, speed)
    edge = routine.gaps[0].balls[0]
    k = [ball.id for ball in wider.balls].index(edge)
    room = rooms(scene, tip, speed, np.repeat(scene.places_mm[None], len(tip), axis=0))[:, k]
    gone = lost(before, after)
    if len(gone):
        strikes = (tip[gone], speed[gone], after.direction_rad[gone])
        in_the_way = (room[gone] <= 1e-6) | (after.other[gone] == k) | moved(scene, edge, *strikes)
        # it used to stop a ball once the gap was behind, and no longer does
        missed = moved(narrow, edge, *strikes) & np.isin(after.reason[gone], WHEN_NOT_STOPPED)
        assert (in_the_way | missed).all()
    # where room is lost, it is lost to the moved ball
    less = before.threads & after.threads & (after.margin_mm < before.margin_mm - CHORDS_MM)
    assert (after.margin_mm[less] >= room[less] - CHORDS_MM).all()


def widened(routine, by):
    """The first edge ball moved outward along the gap's line; None when it does not fit."""
    gap = routine.gaps[0]
    edge = routine.ball(gap.balls[0])
    if gap.kind == "ball-cushion":
        dx, dy = 1.0, 0.0
    else:
        other = routine.ball(gap.balls[1])
        far = math.dist(edge.centre_mm, other.centre_mm)
        dx, dy = (edge.x_mm - other.x_mm) / far, (edge.y_mm - other.y_mm) / far
    x, y = edge.x_mm + by * dx, edge.y_mm + by * dy
    table = table_of(routine)
    fits = 27.0 < x < table.width_mm - 27.0 and 27.0 < y < table.length_mm - 27.0
    rest = [ball for ball in routine.balls if ball.id != edge.id]
    if not fits or min(math.dist((x, y), ball.centre_mm) for ball in rest) < 53.0:
        return None
    new = Ball(edge.id, edge.kind, x, y)
    return replace(
        routine, balls=tuple(new if ball.id == edge.id else ball for ball in routine.balls)
    )


@settings(**MOST)
@given(seed=seeds, low=st.floats(0.0, 250.0), high=st.floats(0.0, 600.0))
@pytest.mark.slow
def test_a_longer_stretch_of_cushion_loses_no_shot(seed, low, high):
    routine = with_gap(seed, "cushion-stretch")
    tip, speed = some_shots(seed)
    gap = routine.gaps[0]
    longer = replace(gap, from_mm=gap.from_mm - low, to_mm=gap.to_mm + high)
    never_shrinks(routine, longer, tip, speed)


@settings(**MOST)
@given(seed=seeds, share=st.floats(1.0, 1.5))
@pytest.mark.slow
def test_a_larger_area_of_cloth_loses_no_shot(seed, share):
    routine = with_gap(seed, "cloth-area")
    tip, speed = some_shots(seed)
    gap = routine.gaps[0]
    corners = np.array(gap.points_mm)
    middle = corners.mean(axis=0)
    grown = middle + share * (corners - middle)
    larger = replace(gap, points_mm=tuple((float(x), float(y)) for x, y in grown))
    never_shrinks(routine, larger, tip, speed)


def never_shrinks(routine, gap, tip, speed):
    before = outcomes(laid_out_of(routine, "s", ("g",)), tip, speed)
    after = outcomes(laid_out_of(replace(routine, gaps=(gap,)), "s", ("g",)), tip, speed)
    assert not len(lost(before, after))
    kept = before.threads
    assert (after.margin_mm[kept] >= before.margin_mm[kept] - 1e-9).all()
