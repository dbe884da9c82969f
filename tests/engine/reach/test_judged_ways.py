"""The judge on ways laid by hand: every margin is worked out from plain geometry beside it.

The cue ball is 52.5 mm across; ways are straight steps of one second each.
"""

import math

import numpy as np
import pytest

from engine.judging import rules as j
from engine.judging.scan import J_GAP, J_MARGIN, J_OTHER, J_REASON, JUDGEMENT, judge, rooms_all
from engine.playing import edges, plane
from engine.playing.ways import (
    MOST_POINTS,
    W_CUSHION,
    W_CUSHION_AT,
    W_HIT,
    W_IN_OFF,
    W_POINTS,
    WAY_FACTS,
    lay_out,
    start_row,
)
from engine.shot.layout import (
    HIT_BALL,
    HIT_CUSHION,
    HIT_JAW,
    POTTED,
    R_AX,
    R_AY,
    R_CAUSE,
    R_OTHER,
    R_PHASE,
    R_T,
    R_VX,
    R_VY,
    R_X,
    R_Y,
    RECORD_COLUMNS,
    ROLLS,
    SLIDING,
    STILL,
    STRUCK,
)
from engine.shot.polyline import FLATTEN_MM

R, TWO = 26.25, 52.5
#: Faces: left x = 0, right x = 1778, bottom y = 0.
FACES = np.array([
    [0.0, 0.0, 1.0, 0.0, 3569.0],
    [0.0, 1778.0, -1.0, 0.0, 3569.0],
    [1.0, 0.0, 1.0, 0.0, 1778.0],
])  # fmt: skip
#: Straight up the middle of nowhere, 1000 mm.
UP = ((900.0, 1000.0), (900.0, 2000.0))


def way_of(points, met=(), end=STILL, rows=8):
    """Rows of a way through some points; `met`: (row, cause, other); the last row has `end`."""
    way = np.full((rows, RECORD_COLUMNS), np.nan)
    last = len(points) - 1
    for k, (x, y) in enumerate(points):
        way[k] = 0.0
        way[k, [R_T, R_X, R_Y, R_PHASE, R_CAUSE, R_OTHER]] = k, x, y, SLIDING, ROLLS, -1
        if k < last:
            way[k, R_VX], way[k, R_VY] = points[k + 1][0] - x, points[k + 1][1] - y
    way[0, R_CAUSE], way[last, R_PHASE] = STRUCK, end
    for row, cause, other in met:
        way[row, R_CAUSE], way[row, R_OTHER] = cause, other
    return way


def gap_of(kind, a=-1, b=-1, axis=0, at=0.0, from_mm=0.0, to_mm=0.0, side=0.0, count=0):
    return [kind, a, b, axis, at, from_mm, to_mm, side, 0.0, count]


def judged(way, gaps, balls, *, target=-1, solid=(), corners=((0.0, 0.0),)):
    """(reason, other ball, margin in mm, gap) of a way among balls standing at `balls`."""
    stands = np.zeros(len(balls))
    stands[list(solid)] = 1.0
    out = np.full(JUDGEMENT, np.nan)
    judge(
        way, target, np.array(balls, dtype=float), stands, np.array(gaps, dtype=float),
        np.array(corners, dtype=float), FACES, R, TWO, np.empty((MOST_POINTS, 2)),
        np.empty(WAY_FACTS), np.empty(4), out,
    )  # fmt: skip
    return int(out[J_REASON]), int(out[J_OTHER]), float(out[J_MARGIN]), int(out[J_GAP])


PAIR = gap_of(edges.BALL_BALL, 0, 1)


def test_between_two_balls_the_margin_is_the_room_to_the_nearer():
    found = judged(way_of(UP), [PAIR], [(800.0, 1500.0), (1050.0, 1500.0)])
    assert found == (j.THREADS, -1, pytest.approx(100.0 - TWO), 0)


def test_an_edge_in_the_way_is_told_by_how_far_it_would_have_to_go():
    found = judged(way_of(UP), [PAIR], [(860.0, 1500.0), (1050.0, 1500.0)])
    assert found == (j.EDGE, -1, pytest.approx(40.0 - TWO), 0)


def test_a_way_beside_the_gap_misses_it_by_the_ball_and_the_way_to_the_edge():
    found = judged(way_of(UP), [PAIR], [(1200.0, 1500.0), (1400.0, 1500.0)])
    assert found == (j.MISSES, -1, pytest.approx(-(300.0 + TWO)), 0)


def test_a_way_that_ends_before_the_gap_stops_short_by_what_is_left():
    short = way_of(((900.0, 1000.0), (900.0, 1380.0)))
    found = judged(short, [PAIR], [(800.0, 1500.0), (1050.0, 1500.0)])
    assert found == (j.STOPS_SHORT, -1, pytest.approx(-120.0), 0)


def test_running_along_the_line_of_a_gap_is_no_crossing():
    along = way_of(((300.0, 1700.0), (700.0, 1700.0), (700.0, 1900.0)))
    found = judged(along, [PAIR], [(800.0, 1500.0), (1050.0, 1500.0)])
    # from (700, 1700) the nearer edge is sqrt(100² + 200²) away
    assert found == (j.MISSES, -1, pytest.approx(-(math.hypot(100, 200) + TWO)), 0)


def test_the_margin_looks_on_for_two_ball_widths_behind_the_gap():
    balls = [(800.0, 1500.0), (1050.0, 1500.0)]
    turned = way_of(((900.0, 1000.0), (900.0, 1540.0), (1100.0, 1540.0)))
    # 40 mm behind the gap it turns off past the right edge: 65 mm more count, to x = 965
    found = judged(turned, [PAIR], balls)
    assert found == (j.THREADS, -1, pytest.approx(math.hypot(85.0, 40.0) - TWO), 0)


@pytest.mark.parametrize(
    ("cushion", "margin"),
    [((0, 500.0), 60.0 - TWO + 40.0), ((0, 860.0), 40.0 - R), ((0, 873.75), 0.0)],
)
def test_between_ball_and_cushion_ball_or_cushion_is_nearer(cushion, margin):
    axis, at = cushion
    row = gap_of(edges.BALL_CUSHION, 0, axis=axis, at=at)
    found = judged(way_of(UP), [row], [(1000.0, 1500.0)])
    assert found == (j.THREADS, -1, pytest.approx(margin, abs=1e-9), 0)


def test_between_a_ball_and_the_bottom_cushion():
    across = way_of(((400.0, 130.0), (1400.0, 130.0)))
    row = gap_of(edges.BALL_CUSHION, 0, axis=1, at=0.0)
    found = judged(across, [row], [(900.0, 200.0)])
    assert found == (j.THREADS, -1, pytest.approx(70.0 - TWO), 0)


STRETCH = gap_of(edges.STRETCH, axis=0, at=1778.0, from_mm=1400.0, to_mm=1700.0)
TO_RIGHT = ((900.0, 1500.0), (1778.0 - R, 1500.0), (900.0, 1500.0))


def test_the_first_cushion_within_its_stretch_by_the_room_to_its_nearer_end():
    found = judged(way_of(TO_RIGHT, [(1, HIT_CUSHION, 1)]), [STRETCH], [(0.0, 0.0)])
    assert found == (j.THREADS, -1, pytest.approx(100.0), 0)


def test_the_right_cushion_beside_the_stretch_misses_by_the_way_along_it():
    low = gap_of(edges.STRETCH, axis=0, at=1778.0, from_mm=1550.0, to_mm=1700.0)
    found = judged(way_of(TO_RIGHT, [(1, HIT_CUSHION, 1)]), [low], [(0.0, 0.0)])
    assert found == (j.MISSES, -1, pytest.approx(-50.0), 0)


@pytest.mark.parametrize("met", [(1, HIT_CUSHION, 0), (1, HIT_JAW, 3)])
def test_another_cushion_or_a_jaw_first_is_the_wrong_cushion(met):
    to_left = ((900.0, 1500.0), (R, 1300.0), (900.0, 1500.0))
    found = judged(way_of(to_left, [met]), [STRETCH], [(0.0, 0.0)])
    # 100 mm below the stretch, across the whole bed
    away = math.hypot(1778.0 - R, 100.0) - R
    assert found == (j.WRONG_CUSHION, -1, pytest.approx(-away), 0)


def test_a_way_without_a_cushion_stops_short_of_the_stretch():
    found = judged(way_of(((900.0, 1500.0), (1500.0, 1740.0))), [STRETCH], [(0.0, 0.0)])
    away = math.hypot(278.0, 40.0) - R
    assert found == (j.STOPS_SHORT, -1, pytest.approx(-away), 0)


SQUARE = ((800.0, 1900.0), (1000.0, 1900.0), (1000.0, 2300.0), (800.0, 2300.0))
AREA = gap_of(edges.AREA, count=4)


@pytest.mark.parametrize(
    ("end", "reason", "margin"),
    [((900.0, 2000.0), j.THREADS, 100.0), ((960.0, 2000.0), j.THREADS, 40.0),
     ((900.0, 1800.0), j.MISSES, -100.0)],
)  # fmt: skip
def test_an_area_by_the_way_to_its_edge(end, reason, margin):
    found = judged(way_of(((900.0, 1000.0), end)), [AREA], [(0.0, 0.0)], corners=SQUARE)
    assert found == (reason, -1, pytest.approx(margin), 0)


def test_a_cue_ball_that_falls_has_come_to_no_area():
    fallen = way_of(UP, end=POTTED)
    found = judged(fallen, [AREA], [(0.0, 0.0)], corners=SQUARE)
    assert found == (j.IN_OFF, -1, pytest.approx(-R), 0)


def test_a_cue_ball_stopped_by_a_ball_within_the_area_has_not_come_to_rest_there():
    met = way_of(UP, [(1, HIT_BALL, 0)])
    found = judged(met, [AREA], [(900.0, 2052.5)], corners=SQUARE)
    assert found == (j.BLOCKED, 0, pytest.approx(-0.0), 0)


@pytest.mark.parametrize(
    ("side", "reason", "margin"),
    [(0.0, j.THREADS, TWO - 20.0), (1.0, j.THREADS, 20.0), (-1.0, j.MISSES, -20.0)],
)
def test_a_cannon_by_how_full_and_on_which_side(side, reason, margin):
    # aimed 20 mm to the left of the ball's middle
    row = gap_of(edges.CANNON, 0, side=side)
    found = judged(way_of(UP), [row], [(920.0, 1800.0)])
    assert found == (reason, -1, pytest.approx(margin), 0)


def test_a_ball_out_of_the_way_is_no_cannon():
    found = judged(way_of(UP), [gap_of(edges.CANNON, 0)], [(1000.0, 1800.0)])
    assert found == (j.MISSES, -1, pytest.approx(-(100.0 - TWO)), 0)


BALLS = [(800.0, 1500.0), (1050.0, 1500.0), (890.0, 1300.0), (920.0, 1200.0)]


def test_the_first_standing_ball_in_the_way_blocks_by_its_overlap():
    bent = way_of(((900.0, 1000.0), (900.0, 1600.0), (1700.0, 1600.0), (1700.0, 1000.0)))
    found = judged(bent, [PAIR], BALLS, solid=(2, 3))
    assert found == (j.BLOCKED, 3, pytest.approx(-(TWO - 20.0)), 0)


def test_a_standing_ball_behind_the_gap_and_the_edges_themselves_do_not_block():
    behind = [BALLS[0], BALLS[1], (900.0, 1900.0)]
    found = judged(way_of(UP), [PAIR], behind, solid=(0, 1, 2))
    assert found == (j.THREADS, -1, pytest.approx(100.0 - TWO), 0)


@pytest.mark.parametrize(
    ("met", "target", "reason"), [(2, -1, j.BLOCKED), (0, -1, j.EDGE), (3, 3, j.KISS)]
)
def test_a_way_ended_by_a_ball_before_its_gap_tells_which(met, target, reason):
    points = ((900.0, 1000.0), (900.0, 1000.0), (900.0, 1200.0))
    # the object ball is met at the first row of the second step, where the way begins
    way = way_of(points, [(1, HIT_BALL, 3), (2, HIT_BALL, met)])
    way[1, R_T] = 0.5
    if target < 0:
        way = way_of((points[0], points[2]), [(1, HIT_BALL, met)])
    found = judged(way, [PAIR], BALLS, target=target)
    assert found[:2] == (reason, met) and found[2] <= 0.0


def test_grazing_the_edge_at_the_end_is_its_edge_and_no_room():
    points = ((900.0, 1000.0), (852.5, 1500.0))
    found = judged(way_of(points, [(1, HIT_BALL, 0)]), [PAIR], BALLS)
    assert found[0] == j.EDGE and found[2] == pytest.approx(0.0, abs=1e-9)


def test_a_cannon_is_made_by_the_ball_the_way_ends_at():
    way = way_of(UP, [(1, HIT_BALL, 0)])
    found = judged(way, [gap_of(edges.CANNON, 0, side=-1.0)], [(900.0, 2000.0 + TWO)])
    # met dead full: neither side of it
    assert found == (j.MISSES, -1, pytest.approx(0.0), 0)


def test_gaps_in_order_give_the_least_margin_and_the_one_that_fails():
    balls = [(800.0, 1500.0), (1050.0, 1500.0), (830.0, 1700.0), (1000.0, 1700.0)]
    second = gap_of(edges.BALL_BALL, 2, 3)
    assert judged(way_of(UP), [PAIR, second], balls) == (j.THREADS, -1, pytest.approx(17.5), 1)
    backwards = judged(way_of(UP), [second, PAIR], balls)
    assert backwards[0] == j.MISSES and backwards[2] < 0.0 and backwards[3] == 1, (
        "the first gap lies behind once the second is threaded, on the same straight way too"
    )
    home = judged(way_of(UP), [PAIR, AREA], balls, corners=SQUARE)
    assert home == (j.THREADS, -1, pytest.approx(47.5), 1)


def test_without_its_object_ball_there_is_no_way():
    away = way_of(((900.0, 1000.0), (900.0, 1500.0), (900.0, 1900.0)), [(1, HIT_CUSHION, 1)])
    assert start_row(away, 2) == (-1, -1)
    reason, other, margin, _ = judged(away, [PAIR], BALLS, target=2)
    assert (reason, other) == (j.SHORT_OF_BALL, -1) and math.isnan(margin)
    wrong = way_of(UP, [(1, HIT_BALL, 3)])
    reason, other, margin, _ = judged(wrong, [PAIR], BALLS, target=2)
    assert (reason, other) == (j.WRONG_BALL, 3) and math.isnan(margin)
    full = way_of(UP, rows=2)
    assert start_row(full, 2) == (-1, -1)


def laid_out(way, start=0, room=MOST_POINTS):
    points, facts = np.full((room, 2), np.nan), np.full(WAY_FACTS, np.nan)
    lay_out(way, start, False, points, facts)
    return points[: int(facts[W_POINTS])], facts


def bend(vx, vy, ax, ay):
    way = way_of(((0.0, 0.0), (1.0, 1.0)))
    way[0, [R_VX, R_VY, R_AX, R_AY]] = vx, vy, ax, ay
    return way


@pytest.mark.parametrize(
    ("start", "pull"), [((800.0, 0.0), (-200.0, 500.0)), ((100.0, 300.0), (50.0, 900.0)),
                        ((-400.0, 100.0), (900.0, 30.0))],
)  # fmt: skip
def test_chords_stray_from_the_parabola_by_less_than_is_allowed(start, pull):
    points, _ = laid_out(bend(*start, *pull))
    assert len(points) > 5
    t = np.linspace(0.0, 1.0, 4001)[:, None]
    true = np.array(start) * t + 0.5 * np.array(pull) * t * t
    a, d = points[:-1], np.diff(points, axis=0)
    share = np.einsum("tkc,kc->tk", true[:, None] - a, d) / (d * d).sum(axis=1)
    foot = a + np.clip(share, 0.0, 1.0)[..., None] * d
    assert np.linalg.norm(true[:, None] - foot, axis=2).min(axis=1).max() < FLATTEN_MM


def test_a_straight_way_takes_one_chord_and_one_without_room_ends():
    assert len(laid_out(bend(500.0, 0.0, -100.0, 0.0))[0]) == 2
    assert len(laid_out(bend(800.0, 0.0, -200.0, 500.0), room=4)[0]) == 1


def test_contacts_of_the_instant_of_the_first_belong_to_it():
    way = way_of(((0.0, 0.0), (0.0, 0.0), (0.0, 300.0), (0.0, 600.0)),
                 [(0, HIT_BALL, 1), (1, HIT_BALL, 2), (3, HIT_BALL, 4)])  # fmt: skip
    way[1, R_T] = 0.0
    points, facts = laid_out(way)
    assert facts[W_HIT] == 4 and facts[W_CUSHION_AT] == -1
    assert points[0].tolist() == [0.0, 0.0] and points[-1].tolist() == [0.0, 600.0]


def test_first_cushion_jaw_and_fall_are_kept():
    points = ((0.0, 0.0), (100.0, 0.0), (200.0, 100.0), (300.0, 0.0))
    met = [(1, HIT_JAW, 2), (2, HIT_CUSHION, 1)]
    laid, facts = laid_out(way_of(points, met, end=POTTED))
    assert laid.tolist() == [list(map(float, one)) for one in points]
    assert (facts[W_CUSHION_AT], facts[W_CUSHION], facts[W_IN_OFF]) == (1, -2, 1)


@pytest.mark.slow
def test_room_along_a_free_way_to_each_ball():
    ways = np.stack([
        way_of(((900.0, 900.0), (900.0, 1000.0), (900.0, 2000.0)), [(1, HIT_BALL, 0)]),
        way_of(UP),
    ])  # fmt: skip
    places = np.array([[(900.0, 1052.5), (1000.0, 1500.0), (900.0, 2100.0)]])
    out = np.empty((2, 3))
    room = np.empty((MOST_POINTS, 2)), np.empty(WAY_FACTS)
    rooms_all(ways, ways, 0, 0, places, TWO, *room, out)
    assert out[0].tolist() == pytest.approx([0.0, 47.5, 47.5])
    assert np.isnan(out[1]).all(), "the second way never leaves the object ball"
    own = np.concatenate([places, places + np.array([20.0, 0.0])])
    rooms_all(ways, ways, -1, -1, own, TWO, *room, out)
    assert out[1, 1] == pytest.approx(67.5), "each way has its own places"
    # from the strike on, the first way goes through the ball it meets, which it overlaps wholly
    assert out[0].tolist() == pytest.approx([-TWO, 47.5, 47.5])


def test_of_several_balls_in_a_bent_way_the_first_entered_blocks():
    # 100 mm steps: a ball is near several chords; the later one is listed first and last
    steps = way_of([(900.0, 1000.0 + 100.0 * k) for k in range(5)])
    balls = [(500.0, 3000.0), (600.0, 3000.0), (930.0, 1350.0), (880.0, 1200.0), (900.0, 1330.0)]
    found = judged(steps, [PAIR], balls, solid=(2, 3, 4))
    # the gap is missed by far more than the ball overlaps the way
    assert found == (j.BLOCKED, 3, pytest.approx(-(math.hypot(300.0, 1600.0) + TWO)), 0)


def test_a_cannon_nearest_on_its_first_chord_misses_by_that():
    bent = way_of(((900.0, 1000.0), (900.0, 1500.0), (1500.0, 1500.0)))
    found = judged(bent, [gap_of(edges.CANNON, 0)], [(800.0, 1300.0)])
    assert found == (j.MISSES, -1, pytest.approx(-(100.0 - TWO)), 0)


def test_plane_geometry_of_chords_without_length_and_starts_within_reach():
    assert plane.point_to_chord(3.0, 4.0, 0.0, 0.0, 0.0, 0.0) == 5.0
    assert plane.side_of(3.0, 4.0, 1.0, 1.0, 1.0, 1.0) == 0.0
    assert plane.side_of(-3.0, 4.0, 0.0, 0.0, 0.0, 10.0) == pytest.approx(3.0), "left is positive"
    assert plane.enters(0.0, 0.0, 5.0, 3.0, 0.0, 9.0, 0.0) == 0.0, "it begins within reach"
    assert plane.enters(0.0, 0.0, 5.0, 15.0, 0.0, -15.0, 0.0) == pytest.approx(1.0 / 3.0)
