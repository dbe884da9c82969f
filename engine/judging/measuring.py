"""Facts by shapely: what one way does at gaps and balls, for the lanes on show and claimed.

The same as the compiled scan finds (`engine.judging.scan`), on the same polyline; places are
millimetres along the way.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as PlanePoint
from shapely.ops import substring

from engine.balls import Ball
from engine.judging.way import Way
from engine.results import Point

#: Rounding allowed where a way is looked at closely only when it comes near enough.
NEAR_MM = 1e-5


def crossing_facts(
    way: Way, ends: tuple[Point, Point], first_mm: float
) -> tuple[float, float, float, float, float, bool]:
    """What the way from `first_mm` does at the line across a gap, as `scan.cross` tells it."""
    path = way.line if first_mm <= 0.0 else substring(way.line, first_mm, way.line.length)
    line, a, b = LineString(ends), PlanePoint(ends[0]), PlanePoint(ends[1])
    if path.geom_type == "Point":
        path = LineString([path, path])
    met = path.intersection(line)
    spots = [one for one in getattr(met, "geoms", [met]) if one.geom_type == "Point" and one]
    if not spots:
        away, last = path.distance(line), PlanePoint(path.coords[-1])
        share = line.project(last, normalized=True)
        facing = line.distance(last) <= away + 1e-9 and 0.0 < share < 1.0
        return -1.0, math.inf, math.inf, math.inf, away, facing
    at = min(path.project(spot) for spot in spots)
    here = substring(path, 0.0, min(at + 2.0 * way.touch_mm, path.length))
    face = path.interpolate(at).distance(b) - way.radius_mm
    return max(first_mm, 0.0) + at, here.distance(a), here.distance(b), face, 0.0, False


def meeting_facts(way: Way, centre_mm: Point, first_mm: float) -> tuple[float, float, float]:
    """Where the way meets a ball (−1: never), how far left of its middle, the least distance."""
    chords, away = _chords(way, centre_mm, first_mm)
    met = np.nonzero(away < way.touch_mm + 1e-6)[0]
    if not len(met):
        return -1.0, 0.0, float(away.min(initial=math.inf))
    k = int(met[0])
    at, left = _enters(chords[k], centre_mm, way.touch_mm)
    return at, -left, float(away[: k + 1].min())


_Chord = tuple[float, np.ndarray, np.ndarray]


def _chords(way: Way, centre_mm: Point, first_mm: float) -> tuple[list[_Chord], np.ndarray]:
    """The chords of a way from about `first_mm` (how far along, start, end), and how far each
    keeps off a place."""
    points = way.path_mm
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    begin = max(int(np.searchsorted(along, first_mm, side="right")) - 1, 0)
    starts, ends = points[begin:-1], points[begin + 1 :]
    lines = shapely.linestrings(np.stack([starts, ends], axis=1))
    chords = list(zip(along[begin:].tolist(), starts, ends, strict=False))
    return chords, shapely.distance(lines, PlanePoint(centre_mm))


def _enters(chord: _Chord, centre_mm: Point, touch_mm: float) -> tuple[float, float]:
    """How far along the way a chord comes within touch of a ball, how far left of it that lies."""
    along, start, end = chord
    length = math.hypot(*(end - start))
    (ux, uy), (wx, wy) = (end - start) / length, np.asarray(centre_mm) - start
    left = float(ux * wy - uy * wx)
    ahead = float(ux * wx + uy * wy) - math.sqrt(max(touch_mm**2 - left * left, 0.0))
    return along + min(max(ahead, 0.0), length), left


def block_facts(way: Way, edges: Sequence[str], first_mm: float) -> tuple[float, str, float]:
    """The first standing ball the way from `first_mm` overlaps: where (−1: none), which, how far.

    The gap's own edges do not count.
    """
    balls = [ball for ball in way.obstacles if ball.id not in edges]
    if not balls:
        return -1.0, "", 0.0
    near = shapely.distance(way.line, shapely.points([ball.centre_mm for ball in balls]))
    found = [
        (place[0], ball.id, place[1])
        for ball, away in zip(balls, near, strict=True)
        if away < way.touch_mm + NEAR_MM
        and (place := _first_overlap(way, ball, first_mm)) is not None
    ]
    return min(found, default=(-1.0, "", 0.0))


def _first_overlap(way: Way, ball: Ball, first_mm: float) -> tuple[float, float] | None:
    """Where the way first comes into a ball, and how deep it goes before it leaves it again."""
    chords, away = _chords(way, ball.centre_mm, first_mm)
    inside = away < way.touch_mm
    if not inside.any():
        return None
    k = int(np.argmax(inside))
    left = np.nonzero(~inside[k:])[0]
    least = float(away[k : k + int(left[0])].min() if len(left) else away[k:].min())
    return _enters(chords[k], ball.centre_mm, way.touch_mm)[0], way.touch_mm - least


def room_inside(corners: Sequence[Point], at: Point) -> float:
    """Distance of a place inside an area from its edge; negative by how far it is outside."""
    polygon, here = Polygon(corners), PlanePoint(at)
    edge = float(polygon.exterior.distance(here))
    return edge if polygon.contains(here) else -edge
