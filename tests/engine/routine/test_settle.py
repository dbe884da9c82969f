"""Where a dragged ball settles: free places as wanted, never an overlap, sliding along limits."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.balls import Ball
from engine.routine.settle import is_free, settle
from engine.routine.values import Routine
from engine.tables import load_table

TABLE = load_table("snooker-12ft")
R = 26.25


def routine(*places, **own):
    balls = [Ball(f"b{i}", "red", x, y) for i, (x, y) in enumerate(places)]
    return Routine(balls=tuple(balls), **own)


def apart(a, b):
    return math.dist(a, b)


def test_a_free_place_is_taken_as_it_is_even_behind_a_ball():
    base = routine((400, 400), (600, 400))
    assert settle(base, TABLE, R, "b0", (800.123, 400)) == (800.123, 400)


def test_touching_exactly_is_allowed():
    base = routine((400, 400), (600, 400))
    assert settle(base, TABLE, R, "b0", (600 - 2 * R, 400)) == (600 - 2 * R, 400)


def test_stops_against_the_ball_it_meets_and_slides_round_it():
    base = routine((400, 400), (600, 400))
    x, y = settle(base, TABLE, R, "b0", (590, 400))
    assert (x, y) == pytest.approx((600 - 2 * R, 400), abs=1e-5)
    # As the pointer goes round, so does the ball: always on the line from centre to pointer.
    for degrees in range(0, 360, 15):
        turn = math.radians(degrees)
        pointer = (600 + 20 * math.cos(turn), 400 + 20 * math.sin(turn))
        x, y = settle(base, TABLE, R, "b0", pointer)
        assert apart((x, y), (600, 400)) == pytest.approx(2 * R, abs=1e-5)
        assert math.atan2(y - 400, x - 600) == pytest.approx(
            math.atan2(pointer[1] - 400, pointer[0] - 600), abs=1e-9
        )


def test_dead_on_the_other_balls_centre_it_stays_on_the_side_it_came_from():
    base = routine((400, 400), (600, 400))
    assert settle(base, TABLE, R, "b0", (600, 400)) == pytest.approx((600 - 2 * R, 400), abs=1e-5)


def test_between_two_balls_too_close_it_rests_against_both():
    base = routine((600, 300), (600 - 40, 400), (600 + 40, 400))
    x, y = settle(base, TABLE, R, "b0", (600, 390))
    assert x == pytest.approx(600, abs=1e-4)
    assert y == pytest.approx(400 - math.sqrt(4 * R * R - 1600), abs=1e-4)


@pytest.mark.parametrize(
    ("wanted", "place"),
    [
        ((-50, 800), (R, 800)),
        ((5000, 800), (1778 - R, 800)),
        ((889, -1), (889, R)),
        ((889, 9999), (889, 3569 - R)),
    ],
)
def test_stops_at_a_cushion_exactly(wanted, place):
    assert settle(routine((400, 400)), TABLE, R, "b0", wanted) == place


def test_may_lie_in_the_mouth_of_a_middle_pocket_to_the_face_line_and_no_farther():
    assert settle(routine((400, 400)), TABLE, R, "b0", (5, 3569 / 2)) == (5, 3569 / 2)
    assert settle(routine((400, 400)), TABLE, R, "b0", (-40, 3569 / 2)) == (0, 3569 / 2)


def test_dragged_into_a_corner_it_hangs_over_the_pocket_but_does_not_drop():
    x, y = settle(routine((400, 400)), TABLE, R, "b0", (0, 0))
    pocket = TABLE.pocket("bottom-left")
    assert x == pytest.approx(y)
    assert pocket.fall_radius_mm < apart((x, y), pocket.fall_mm) < pocket.fall_radius_mm + 0.02


def test_a_locked_ball_stays():
    base = Routine(balls=(Ball("b0", "red", 400, 400, locked=True),))
    assert settle(base, TABLE, R, "b0", (700, 700)) == (400, 400)


def test_a_new_ball_settles_beside_one_already_there():
    x, y = settle(routine((400, 400)), TABLE, R, "new", (400, 400))
    assert apart((x, y), (400, 400)) == pytest.approx(2 * R, abs=1e-5)


def test_a_place_that_is_no_number_leaves_the_ball():
    assert settle(routine((400, 400)), TABLE, R, "b0", (float("nan"), 3)) == (400, 400)


def brute_force_best(base, wanted):
    """The least way to a free place by a fine polar search: a second opinion."""
    best = math.inf
    for ring in np.arange(0.0, 400.0, 2.0):
        for turn in np.linspace(0, 2 * math.pi, 180, endpoint=False):
            place = (wanted[0] + ring * math.cos(turn), wanted[1] + ring * math.sin(turn))
            if is_free(base, TABLE, R, "b0", place):
                return ring
    return best


@pytest.mark.parametrize("wanted", [(612, 401), (40, 60), (3, 1690), (-30, 1750), (1800, 3600)])
@pytest.mark.slow
def test_takes_the_nearest_free_place(wanted):
    base = routine((400, 800), (600, 400), (652.5, 400), (630, 446), (90, 60))
    place = settle(base, TABLE, R, "b0", wanted)
    assert is_free(base, TABLE, R, "b0", place)
    assert apart(place, wanted) == pytest.approx(brute_force_best(base, wanted), abs=2.5)


coordinate_x = st.floats(-100, 1900)
coordinate_y = st.floats(-100, 3700)
near = st.tuples(st.floats(20, 260), st.floats(20, 260))
anywhere = st.tuples(coordinate_x, coordinate_y)


@settings(max_examples=150, deadline=None)
@given(
    others=st.lists(st.one_of(near, anywhere), max_size=21),
    wanted=st.one_of(near, anywhere),
)
@pytest.mark.slow
def test_never_overlaps_and_never_leaves_the_bed(others, wanted):
    # Others are settled one by one, as a coach would place them.
    base = routine((889, 1200))
    for number, place in enumerate(others):
        settled = settle(base, TABLE, R, "new", place)
        ball = Ball(f"o{number}", "red", *settled)
        base = Routine(balls=(*base.balls, ball))
    x, y = settle(base, TABLE, R, "b0", wanted)
    for ball in base.balls[1:]:
        assert apart((x, y), ball.centre_mm) >= 2 * R - 1e-9
    assert 0 <= x <= TABLE.width_mm
    assert 0 <= y <= TABLE.length_mm
    for pocket in TABLE.pockets:
        assert apart((x, y), pocket.fall_mm) > pocket.fall_radius_mm
        for jaw in pocket.jaws_mm:
            assert apart((x, y), jaw) >= pocket.jaw_radius_mm + R - 1e-9
    for face in TABLE.faces:
        axis = 0 if face.cushion in ("left", "right") else 1
        along, across = (y, x) if axis == 0 else (x, y)
        if face.start_mm[1 - axis] <= along <= face.end_mm[1 - axis]:
            assert abs(across - face.start_mm[axis]) >= R - 1e-9
    if is_free(base, TABLE, R, "b0", wanted):
        assert (x, y) == wanted
