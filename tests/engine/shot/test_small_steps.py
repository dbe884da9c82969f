"""Single steps of the shot kernel: roots, rooms for records, the event limit, pressed balls.

Quick both compiled and as plain Python, so that the compiled functions can be watched.
"""

import math
from dataclasses import replace
from importlib import import_module

import numpy as np
import pytest

from engine.balls import Ball
from engine.compiled import prepare
from engine.conditions import Conditions
from engine.errors import UnknownNameError
from engine.motion.cushion import cushion_impact, level_impact
from engine.motion.straight import straight_state
from engine.reach.windows import regions
from engine.shot import Strike, play
from engine.shot.batch import play_many
from engine.shot.kernel import CUT_SHORT, ENDED
from engine.shot.kernel import run as run_on
from engine.shot.layout import (
    AX,
    AY,
    FALLS,
    HIT_BALL,
    PHASE,
    POTTED,
    R_BALL,
    R_CAUSE,
    R_T,
    RECORD_COLUMNS,
    VX,
    VY,
    WX,
    WY,
    T,
    X,
    Y,
    ball_rows,
    condition_values,
    workspace,
)
from engine.shot.meetings import lean
from engine.shot.play import table_values
from engine.shot.roots import NEVER, disc_time, first_fall, quadratic_turns
from engine.shot.segments import advance, begin
from engine.tables import load_table
from tests.engine.shot.random_shots import pocketless

TABLE, CONDITIONS = load_table("snooker-12ft"), Conditions()
R = CONDITIONS.ball_radius_mm


def true_fall(c, span):
    """The first falling root in (0, span], found by numpy's companion matrix."""
    slope = np.polyder(np.array(c[::-1]))
    real = [one.real for one in np.roots(c[::-1]) if abs(one.imag) < 1e-9]
    falls = sorted(one for one in real if 1e-12 < one <= span and np.polyval(slope, one) < 0.0)
    return falls[0] if falls else NEVER


def test_the_first_fall_of_a_quartic_is_numpys():
    rng = np.random.default_rng(5)
    found = {False: 0, True: 0}
    for _ in range(150):
        # from four roots, real or not, so that the quartic turns up to three times
        a, b = rng.uniform(0.05, 2.0, 2)
        third = rng.uniform(0.05, 2.0) if rng.random() < 0.5 else complex(rng.normal(), 0.7)
        fourth = rng.uniform(0.05, 2.0) if isinstance(third, float) else np.conj(third)
        c = np.real(np.poly([a, b, third, fourth]))[::-1]
        c = c if c[0] >= 0.0 else -c
        span = rng.uniform(0.1, 2.5)
        t, wanted = first_fall(*c, span), true_fall(c, span)
        assert t == pytest.approx(wanted, rel=1e-6), (c, span)
        found[math.isfinite(wanted)] += 1
    assert min(found.values()) > 10


def test_turning_points_come_in_order_or_at_the_end_of_the_span():
    # 1 − 4·t: one turn at a quarter; constant: none; 3·(t − 1)(t − 2): two
    assert quadratic_turns(1.0, -2.0, 0.0, 5.0) == (0.25, 5.0)
    assert quadratic_turns(1.0, -2.0, 0.0, 0.1) == (0.1, 0.1)
    assert quadratic_turns(1.0, 0.0, 0.0, 5.0) == (5.0, 5.0)
    assert quadratic_turns(6.0, -4.5, 1.0, 5.0) == pytest.approx((1.0, 2.0))
    assert quadratic_turns(6.0, -4.5, 1.0, 1.5) == pytest.approx((1.0, 1.5))
    assert quadratic_turns(-6.0, 1.5, 1.0, 5.0) == pytest.approx((1.0, 5.0)), "the other is before"
    assert quadratic_turns(0.0, 0.0, 1.0, 5.0) == (5.0, 5.0)


def test_a_point_that_turns_back_before_the_disc_never_meets_it():
    # 200 mm off at 100 mm/s, braked by 60 mm/s²: it comes 83 mm near and goes back
    assert disc_time(200.0, 0.0, -100.0, 0.0, 60.0, 0.0, 52.5, 9.0, 1e-5) == NEVER
    slower = disc_time(200.0, 0.0, -100.0, 0.0, 30.0, 0.0, 52.5, 9.0, 1e-5)
    assert 200.0 - 100.0 * slower + 15.0 * slower**2 == pytest.approx(52.5)
    # already within, moving in: at once
    assert disc_time(52.0, 0.0, -100.0, 0.0, 0.0, 0.0, 52.5, 9.0, 1e-5) == 0.0
    # moving out and pulled back: 52.5 + 10·t − 5·t² is 52.5 again after two seconds
    again = disc_time(52.5, 0.0, 10.0, 0.0, -10.0, 0.0, 52.5, 9.0, 1e-5)
    assert again == pytest.approx(2.0)


def test_a_ball_leaving_a_cushion_is_left_alone():
    assert cushion_impact(50.0, -300.0, 1.0, 2.0, 3.0, 0.0, 1.0, R, 0.9, 0.1, 1.27, 0.2) == (
        50.0, -300.0, 1.0, 2.0, 3.0,
    )  # fmt: skip
    assert level_impact(50.0, -300.0, 1.0, 2.0, 0.0, 1.0, R, 0.9, 1.4) == (50.0, -300.0, 1.0, 2.0)


def test_a_dead_cushion_gives_nothing_back():
    _, vy, *_ = cushion_impact(0.0, 800.0, 0.0, 0.0, 0.0, 0.0, 1.0, R, 0.0, 0.1, 1.27, 0.2)
    assert vy == pytest.approx(0.0, abs=1e-9)
    _, smooth, wx, *_ = cushion_impact(0.0, 800.0, 0.0, 0.0, 0.0, 0.0, 1.0, R, 0.8, 0.0, 1.0, 0.0)
    assert smooth == pytest.approx(-640.0, rel=1e-6) and wx == 0.0, "no friction: no spin"


def test_a_ball_that_slides_to_rest_before_the_distance_has_no_speed():
    # full backspin at a crawl: it would come back before so long a way
    speed, ratio = straight_state(4000.0, 300.0, -0.5, 0.2, 0.01, 9810.0)
    assert (speed, ratio) == (0.0, 1.0)


def run(rows, values, faces, jaws, falls, records, most_events):
    """Play balls as they are on the table's own arrays, with room for the work."""
    _, *work = (one.array for one in workspace(len(rows)))
    arrays = (one.array for one in (faces, jaws, falls))
    return run_on(rows, values, *arrays, *work, records, 0, most_events)


def ready(speed=2000.0):
    """A rolling cue ball and what the kernel takes with it."""
    rows = ball_rows([Ball("cue", "cue", 600.0, 600.0)], CONDITIONS)
    rows[0, VX], rows[0, WY] = speed, speed / R
    values = condition_values(CONDITIONS)
    begin(rows, 0, values)
    return rows, values, table_values(TABLE)


def test_records_beyond_the_room_for_them_are_dropped_and_the_limit_is_told():
    rows, values, arrays = ready()
    room = np.full((100, RECORD_COLUMNS), np.nan)
    used, events, end = run(rows, values, *arrays, room, 5000)
    assert end == ENDED and used >= events > 3
    small = np.full((2, RECORD_COLUMNS), np.nan)
    again, values, arrays = ready()
    assert run(again, values, *arrays, small, 5000) == (2, events, ENDED)
    np.testing.assert_array_equal(small, room[:2])
    np.testing.assert_array_equal(again, rows), "the shot itself is the same"
    third, values, arrays = ready()
    assert run(third, values, *arrays, room, 2) == (2, 2, CUT_SHORT)
    assert room[1, R_T] >= room[0, R_T]


def test_room_for_more_balls_changes_nothing():
    """Two balls played in room for five, in which all met at once before, with numbers beyond."""
    balls = [Ball("cue", "cue", 600.0, 600.0), Ball("red", "red", 600.0 + 0.3 * R, 900.0)]
    values, arrays = condition_values(CONDITIONS), [one.array for one in table_values(TABLE)]
    told = []
    for count in (2, 5):
        rows = ball_rows(balls, CONDITIONS)
        rows[0, VY] = 2000.0
        begin(rows, 0, values)
        _, *room = (np.zeros_like(one.array) for one in workspace(count))
        records = np.full((200, RECORD_COLUMNS), np.nan)
        used, _, end = run_on(rows, values, *arrays, *room, records, 0, 5000)
        assert end == ENDED and (records[:used, R_CAUSE] == HIT_BALL).any()
        told.append(records)
    np.testing.assert_array_equal(*told)


@pytest.mark.slow
def test_many_shots_are_the_single_ones():
    prepare()
    balls = (Ball("cue", "cue", 600.0, 600.0), Ball("red", "red", 640.0, 1200.0))
    shots = play_many(TABLE, CONDITIONS, balls, [1500.0, 3000.0], 1.5, tip_height=0.2)
    for k, speed in enumerate((1500.0, 3000.0)):
        trace = play(TABLE, CONDITIONS, balls, Strike(speed, 0.2), 1.5)
        for n, ball in enumerate(balls):
            at = trace.instant(ball.id, trace.duration_s).at_mm
            assert shots.rests_mm[k, n] == pytest.approx(at, abs=1e-9)


def test_a_larger_cue_ball_between_two_reds_keeps_their_symmetry():
    sizes = Conditions(cue_ball_radius_mm=R + 2.0, cue_ball_mass_kg=0.16)
    # two reds that touch each other, met at once by the cue ball from below
    reach = 2.0 * math.sqrt((R + 2.0) * R)
    up = math.sqrt(reach**2 - R**2)
    balls = (Ball("cue", "cue", 889.0, 1000.0), Ball("l", "red", 889.0 - R, 1300.0 + up),
             Ball("r", "red", 889.0 + R, 1300.0 + up))  # fmt: skip
    trace = play(pocketless(), sizes, balls, Strike(1500.0, 0.1), math.pi / 2)
    first = next(event.t_s for event in trace.events if event.kind == "ball")
    assert first > 0.0
    (lx, ly), (rx, ry) = (trace.velocities(name, first + 1e-9) for name in ("l", "r"))
    assert (lx, ly) == pytest.approx((-rx, ry), abs=1e-6) and ly > 0.0
    cx, cy = trace.velocities("cue", first + 1e-9)
    arriving = float(trace.velocities("cue", first - 1e-9)[1])
    # momentum along the line of the stroke
    total = 0.16 * float(cy) + sizes.ball_mass_kg * float(ly + ry)
    assert total == pytest.approx(0.16 * arriving, rel=1e-6)
    assert float(cx) == pytest.approx(0.0, abs=1e-6)


def test_topspin_pressing_a_ball_against_the_cushion_ends():
    # the red lies on the top cushion, the cue ball on the red, struck full with follow
    red = Ball("red", "red", 889.0, 3569.0 - R)
    balls = (Ball("cue", "cue", 889.0, 3569.0 - 3.0 * R), red)
    trace = play(pocketless(), CONDITIONS, balls, Strike(900.0, 0.4), math.pi / 2)
    assert not trace.cut_short
    for t in np.linspace(0.0, trace.duration_s, 400):
        a, b = trace.positions("cue", t), trace.positions("red", t)
        assert math.dist(a, b) > 2.0 * R - 1e-3 and b[1] <= 3569.0 - R + 1e-3


def test_connected_regions_are_those_of_another_library():
    from scipy import ndimage

    rng = np.random.default_rng(3)
    for share in (0.0, 0.3, 0.6, 1.0):
        cells = rng.random((17, 23)) < share
        labels, count = ndimage.label(cells)
        found = regions(cells)
        assert len(found) == count
        theirs = {frozenset(zip(*np.nonzero(labels == k + 1), strict=True)) for k in range(count)}
        assert {frozenset(zip(*one, strict=True)) for one in found} == theirs


def spun(balls, turning, table):
    """Rows of balls at rest, the first spinning forward up the table at so many rad/s."""
    rows, values = ball_rows(balls, CONDITIONS), condition_values(CONDITIONS)
    rows[0, WX] = -turning
    begin(rows, 0, values)
    return rows, values, table_values(table)


def test_a_cushion_takes_the_push_of_a_spinning_ball_on_the_one_between():
    table = pocketless()
    red = Ball("red", "red", 889.0, table.length_mm - R)
    cue = Ball("cue", "cue", 889.0, table.length_mm - 3.0 * R)
    rows, values, arrays = spun((cue, red), 60.0, table)
    records = np.full((2000, RECORD_COLUMNS), np.nan)
    used, _, end = run(rows, values, *arrays, records, 5000)
    assert end == ENDED and used < 2000
    # nothing gives way: the spin wears off where they are
    assert rows[:, Y] == pytest.approx([cue.y_mm, red.y_mm], abs=0.05)
    assert rows[1, Y] <= red.y_mm + 1e-4 and rows[1, Y] - rows[0, Y] >= 2.0 * R - 1e-3
    # a sliding ball loses (5/2)·(friction)·g/R of its spin a second, pressed or not
    seconds = 60.0 * R / (2.5 * CONDITIONS.sliding_friction * 9810.0)
    assert np.nanmax(records[:used, R_T]) == pytest.approx(seconds, rel=0.05)


def test_a_ball_pressed_over_a_pocket_falls_and_frees_the_one_behind():
    pocket = TABLE.pocket("middle-right")
    x, y = pocket.fall_mm
    edge = Ball("red", "red", x - pocket.fall_radius_mm - 0.5, y)
    cue = Ball("cue", "cue", edge.x_mm - 2.0 * R, y)
    rows, values, arrays = spun((cue, edge), 0.0, TABLE)
    rows[0, WX], rows[0, WY] = 0.0, 60.0
    begin(rows, 0, values)
    records = np.full((2000, RECORD_COLUMNS), np.nan)
    used, _, end = run(rows, values, *arrays, records, 5000)
    fell = [int(row[R_BALL]) for row in records[:used] if row[R_CAUSE] == FALLS]
    assert end == ENDED and fell[0] == 1, "the red goes first"
    assert rows[1, PHASE] == POTTED and rows[1, VX] == 0.0
    at = rows[1, X : Y + 1].copy()
    advance(rows, 1, 99.0, values)
    assert (rows[1, X : Y + 1] == at).all() and rows[1, T] == 99.0, "it stays where it fell"


def test_a_straight_jaw_takes_the_pull_of_a_ball_that_lies_on_it():
    table = load_table("pool-9ft")
    facing = table.pocket("bottom-left").facings[0]
    (ax, ay), (bx, by), (nx, ny) = facing.start_mm, facing.end_mm, facing.into_mm
    size = Conditions(ball_radius_mm=28.575)
    ball = Ball("cue", "cue", 0.5 * (ax + bx) + nx * 28.575, 0.5 * (ay + by) + ny * 28.575)
    rows = ball_rows([ball], size)
    rows[0, AX], rows[0, AY] = -300.0 * nx - 50.0 * ny, -300.0 * ny + 50.0 * nx
    faces, jaws, _ = (one.array for one in table_values(table))
    lean(rows, 0, faces, jaws)
    left = rows[0, [AX, AY]]
    assert left == pytest.approx([-50.0 * ny, 50.0 * nx], abs=1e-9), "what runs along it is kept"
    rows[0, [AX, AY]] = 300.0 * nx, 300.0 * ny
    lean(rows, 0, faces, jaws)
    assert rows[0, [AX, AY]] == pytest.approx([300.0 * nx, 300.0 * ny]), "pulled off it may go"


def test_a_ball_set_down_within_a_fall_drops_at_once():
    x, y = TABLE.pocket("middle-left").fall_mm
    rows = ball_rows([Ball("cue", "cue", x, y)], CONDITIONS)
    rows[0, VX] = 100.0
    values = condition_values(CONDITIONS)
    begin(rows, 0, values)
    records = np.full((20, RECORD_COLUMNS), np.nan)
    used, _, end = run(rows, values, *table_values(TABLE), records, 50)
    assert end == ENDED and used == 1 and records[0, R_CAUSE] == FALLS and records[0, R_T] == 0.0


def test_a_ball_that_was_not_played_is_not_told_of():
    trace = play(TABLE, CONDITIONS, [Ball("cue", "cue", 600.0, 600.0)], Strike(900.0), 1.0)
    for ask in (trace.instant, trace.positions, trace.velocities, trace.spins):
        with pytest.raises(UnknownNameError, match=r"no ball called 'red'.*cue"):
            ask("red", 0.1)


def test_arrays_of_only_some_tables_are_kept():
    kept = import_module("engine.shot.play")._ARRAYS
    first = table_values(TABLE)
    assert table_values(TABLE) is first
    copies = [replace(TABLE) for _ in range(20)]
    for one in copies:
        for mine, theirs in zip(table_values(one), first, strict=True):
            np.testing.assert_array_equal(mine.array, theirs.array)
    assert len(kept) <= 17
