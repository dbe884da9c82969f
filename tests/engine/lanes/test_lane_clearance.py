"""Clearances, touches and corridors of plain polylines, calculated by hand."""

import math

import numpy as np
import pytest

from engine.balls import Ball
from engine.judging.clearance import clearances, corridor
from engine.judging.touching import first_touch, nearest
from engine.playing.legs import joined

R = 26.25


def red(x, y, name="r"):
    return Ball(name, "red", x, y)


UP = (np.array([[0.0, 0.0], [0.0, 1000.0]]),)
#: Up to a cushion, then off to the right.
BENT = (np.array([[0.0, 0.0], [0.0, 1000.0]]), np.array([[0.0, 1000.0], [800.0, 1000.0]]))


def test_ball_clear_on_the_right():
    (room,) = clearances(UP, [red(100.0, 500.0)], R)
    assert room.clearance_mm == pytest.approx(100 - 52.5)
    assert (room.side, room.fullness, room.after_cushions) == ("right", 0.0, 0)
    assert room.at_mm == pytest.approx((0.0, 500.0))


def test_overlap_on_the_left_with_its_fullness():
    """Offset 21 mm: fullness 1 − 21/52.5 = 0.6."""
    (room,) = clearances(UP, [red(-21.0, 500.0)], R)
    assert room.clearance_mm == pytest.approx(21 - 52.5)
    assert room.side == "left" and room.fullness == pytest.approx(0.6)


def test_ball_dead_ahead_is_full():
    (room,) = clearances(UP, [red(0.0, 500.0)], R)
    assert room.side == "ahead" and room.fullness == pytest.approx(1.0)


def test_ball_beyond_the_end_is_measured_from_where_the_cue_ball_stops():
    (room,) = clearances(UP, [red(0.0, 1100.0)], R)
    assert room.clearance_mm == pytest.approx(47.5) and room.at_mm == pytest.approx((0, 1000))


def test_leg_after_a_cushion_is_counted():
    (room,) = clearances(BENT, [red(400.0, 930.0)], R)
    assert room.after_cushions == 1 and room.side == "right"
    assert room.clearance_mm == pytest.approx(17.5)


def test_empty_way_has_no_clearances_and_no_corridor():
    assert clearances((), [red(0, 0)], R) == ()
    assert corridor(joined(()), R).is_empty


def test_first_touch_is_where_the_edges_meet():
    """Offset 30 mm: the centres are 52.5 apart at sqrt(52.5² − 30²) before the nearest place."""
    touch = first_touch(UP, (30.0, 500.0), 2 * R)
    assert touch is not None
    assert touch.along_mm == pytest.approx(500 - math.sqrt(52.5**2 - 30**2))
    assert touch.offset_mm == pytest.approx(-30.0)
    assert first_touch(UP, (52.6, 500.0), 2 * R) is None


def test_leaving_a_touching_ball_is_no_touch():
    assert first_touch(UP, (0.0, -52.4), 2 * R) is None
    assert first_touch(UP, (0.0, 52.4), 2 * R) is not None


def test_touch_along_runs_on_over_a_cushion():
    touch = first_touch(BENT, (500.0, 1000.0), 2 * R)
    assert touch is not None
    assert touch.along_mm == pytest.approx(1000 + 500 - 52.5) and touch.after_cushions == 1


def test_corridor_is_as_wide_as_the_ball_and_holds_its_ends():
    area = corridor(UP[0], R)
    low_x, low_y, high_x, high_y = area.bounds
    assert (low_x, high_x) == pytest.approx((-R, R))
    assert (low_y, high_y) == pytest.approx((-R, 1000 + R))
    # the ends are flattened half circles, a little inside the true ones
    assert area.area == pytest.approx(1000 * 2 * R + math.pi * R * R, rel=1e-3)


def test_nearest_of_a_ball_that_stays_put():
    still = (np.array([[5.0, 5.0]]),)
    place = nearest(still, (5.0, 105.0))
    assert place is not None and place.distance_mm == pytest.approx(100.0)
