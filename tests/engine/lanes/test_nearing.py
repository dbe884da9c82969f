"""Where ways come nearest to points, held to shapely; and polylines, held to the shot itself."""

import numpy as np
import pytest
import shapely

from engine.balls import Ball
from engine.conditions import Conditions
from engine.judging.touching import nearest, nearest_of_each
from engine.shot import Strike, play
from engine.tables import load_table

TABLE = load_table("snooker-12ft")


@pytest.mark.parametrize("seed", range(12))
def test_nearest_places_are_shapelys(seed):
    rng = np.random.default_rng(seed)
    legs = tuple(rng.uniform(0, 1700, (rng.integers(1, 9), 2)) for _ in range(rng.integers(1, 5)))
    centres = [tuple(row) for row in rng.uniform(0, 1700, (7, 2))]
    shapes = [shapely.LineString(leg) if len(leg) > 1 else shapely.Point(leg[0]) for leg in legs]
    for centre, found in zip(centres, nearest_of_each(legs, centres), strict=True):
        away = [shape.distance(shapely.Point(centre)) for shape in shapes]
        assert found.distance_mm == pytest.approx(min(away), abs=1e-9)
        assert found.after_cushions == int(np.argmin(away))
        assert np.hypot(*np.subtract(centre, found.at_mm)) == pytest.approx(min(away), abs=1e-9)
        assert abs(found.offset_mm) <= found.distance_mm + 1e-9


def test_left_of_the_way_is_above_nothing_and_ends_count_no_side():
    up = (np.array([[0.0, 0.0], [0.0, 1000.0]]),)
    assert nearest(up, (-30.0, 500.0)).offset_mm == pytest.approx(30.0)
    assert nearest(up, (30.0, 500.0)).offset_mm == pytest.approx(-30.0)
    assert nearest(up, (0.0, 1200.0)).offset_mm == pytest.approx(0.0)


def test_a_leg_that_goes_nowhere_counts_as_its_place():
    """Three times the same point, then a leg of one point: no step is long enough for a side."""
    still = (np.array([[100.0, 100.0]] * 3), np.array([[400.0, 100.0]]))
    one, other = nearest_of_each(still, [(100.0, 150.0), (390.0, 100.0)])
    assert (one.distance_mm, one.at_mm, one.after_cushions) == (50.0, (100.0, 100.0), 0)
    assert (other.distance_mm, other.at_mm, other.after_cushions) == (10.0, (400.0, 100.0), 1)
    assert nearest_of_each((), [(0.0, 0.0)]) == () == nearest_of_each(still, [])
    assert nearest((np.empty((0, 2)),), (0.0, 0.0)) is None


def test_what_is_kept_is_of_the_very_same_way():
    """Many ways asked about the same place, each answered for itself, asked twice."""
    ways = [(np.array([[float(x), 0.0], [float(x), 900.0]]),) for x in range(80)]
    for _ in range(2):
        assert [nearest(way, (0.0, 450.0)).distance_mm for way in ways] == list(range(80))


@pytest.mark.parametrize("seed", range(6))
def test_polylines_stay_within_their_tolerance_of_the_shot(seed):
    """Every ball of a random shot, at a thousand times between two of its own."""
    rng = np.random.default_rng(seed)
    balls = [Ball("cue", "cue", 500.0, 900.0)]
    balls += [Ball(f"r{i}", "red", 300.0 + 200.0 * i, 1800.0 + 150.0 * i) for i in range(5)]
    strike = Strike(rng.uniform(1500, 6000), rng.uniform(-0.4, 0.4), rng.uniform(-0.3, 0.3))
    trace = play(TABLE, Conditions(), balls, strike, rng.uniform(0.5, 2.4))
    for ball in trace.ids:
        low, high = sorted(rng.uniform(0.0, trace.duration_s, 2))
        for start, end in ((0.0, None), (low, high), (low, None)):
            path = trace.path_mm(ball, start, end, 0.02)
            times = np.linspace(start, trace.duration_s if end is None else end, 1000)
            places = trace.positions(ball, times)
            line = shapely.LineString(path) if len(path) > 1 else shapely.Point(path[0])
            assert max(line.distance(shapely.points(places))) < 0.02 + 1e-6
            assert path[0] == pytest.approx(places[0], abs=1e-9)
            assert path[-1] == pytest.approx(places[-1], abs=1e-6)
            assert (np.abs(np.diff(path, axis=0)).max(axis=1) > 0.0).all()
