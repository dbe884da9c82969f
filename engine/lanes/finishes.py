"""Gaps that are reached rather than passed: a stretch of cushion, an area of cloth, a cannon."""

from __future__ import annotations

import math

import numpy as np
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as PlanePoint

from engine.errors import OutOfRangeError, UnknownNameError
from engine.lanes.edges import stretch_mm
from engine.lanes.legs import Touch, first_touch, nearest
from engine.lanes.way import Way, met_before
from engine.results import Fact, GapPass
from engine.routine.values import Gap
from engine.tables.model import CUSHIONS, Table


def stretch_pass(table: Table, gap: Gap, way: Way, path: LineString) -> GapPass:
    """Whether the first cushion the cue ball meets is the stretch; margin to its nearer end."""
    low, high = stretch_mm(gap)
    lines = {
        "left": ((0.0, low), (0.0, high)),
        "right": ((table.width_mm, low), (table.width_mm, high)),
        "bottom": ((low, 0.0), (high, 0.0)),
        "top": ((low, table.length_mm), (high, table.length_mm)),
    }
    if gap.cushion not in lines:
        raise UnknownNameError("cushion", gap.cushion, CUSHIONS)
    stretch = LineString(lines[gap.cushion])
    if way.first_cushion_mm is None:
        away = max(path.distance(stretch) - way.radius_mm, 0.0)
        reason = Fact("stops-short-of-cushion", mm=away)
        return GapPass(way.label, gap.id, False, -away, reason)
    axis = 1 if gap.cushion in ("left", "right") else 0
    spot = way.first_cushion_mm
    inside = min(spot[axis] - low, high - spot[axis])
    if way.first_cushion != gap.cushion:
        away = max(PlanePoint(spot).distance(stretch) - way.radius_mm, 0.0)
        reason = Fact("other-cushion-first", cushion=way.first_cushion)
        return GapPass(way.label, gap.id, False, -away, reason)
    along = float(LineString(way.legs[0]).length) if len(way.legs[0]) > 1 else 0.0
    before = met_before(way, along)
    if before is not None:
        reason = Fact("meets-before-cushion", ball=before[0])
        return GapPass(way.label, gap.id, False, min(inside, -before[1]), reason)
    if inside < 0.0:
        reason = Fact("outside-stretch", mm=-inside)
        return GapPass(way.label, gap.id, False, inside, reason)
    reason = Fact("inside-stretch", mm=inside)
    return GapPass(way.label, gap.id, True, inside, reason, along)


def area_pass(gap: Gap, way: Way, path_mm: np.ndarray) -> GapPass:
    """Whether the cue ball's centre comes to rest in the area; margin to its edge."""
    if len(gap.points_mm) < 3:
        raise OutOfRangeError(f"points of gap {gap.id}", len(gap.points_mm), "three or more")
    area = Polygon(gap.points_mm)
    end = PlanePoint(way.stops_mm if way.stops_mm is not None else tuple(path_mm[-1]))
    edge = float(area.exterior.distance(end))
    inside = edge if area.contains(end) else -edge
    if way.stops_mm is None:
        reason = Fact("goes-in-off")
        return GapPass(way.label, gap.id, False, min(inside, -way.radius_mm), reason)
    before = met_before(way, math.inf)
    if before is not None:
        reason = Fact("meets-on-the-way", ball=before[0])
        return GapPass(way.label, gap.id, False, min(inside, -before[1]), reason)
    if inside < 0.0:
        return GapPass(way.label, gap.id, False, inside, Fact("stops-outside-area", mm=edge))
    return GapPass(way.label, gap.id, True, inside, Fact("stops-in-area", mm=edge), math.inf)


def cannon_pass(gap: Gap, way: Way) -> GapPass:
    """Whether the first ball met after the object ball is the one asked, on the side asked.

    The margin is how far the way may move before the cannon is lost.
    """
    if len(gap.balls) != 1:
        raise OutOfRangeError(f"balls of gap {gap.id}", list(gap.balls), "one ball")
    wanted = gap.balls[0]
    target = next((ball for ball in way.obstacles if ball.id == wanted), None)
    if target is None:
        reason = Fact("cannon-ball-gone", ball=wanted)
        return GapPass(way.label, gap.id, False, math.nan, reason)
    reach = way.touch_mm
    touch = first_touch(way.legs, target.centre_mm, reach)
    if touch is None:
        place = nearest(way.legs, target.centre_mm)
        miss = place.distance_mm - reach if place is not None else math.nan
        reason = Fact("misses-ball", ball=wanted, mm=miss)
        return GapPass(way.label, gap.id, False, -miss, reason)
    before = met_before(way, touch.along_mm, (wanted,))
    if before is not None:
        reason = Fact("meets-first", ball=before[0])
        return GapPass(way.label, gap.id, False, -before[1], reason)
    return _touched(gap, way, touch, reach)


def _touched(gap: Gap, way: Way, touch: Touch, reach_mm: float) -> GapPass:
    # a ball on the right of the cue ball's line is met on its left side
    left_mm = -touch.offset_mm
    if gap.side == "either":
        margin = reach_mm - abs(left_mm)
        reason = Fact("meets", ball=gap.balls[0])
        return GapPass(way.label, gap.id, True, margin, reason, touch.along_mm)
    wanted_mm = left_mm if gap.side == "left" else -left_mm
    margin = min(wanted_mm, reach_mm - wanted_mm)
    reason = Fact("meets-on-left" if left_mm > 0.0 else "meets-on-right", ball=gap.balls[0])
    return GapPass(way.label, gap.id, margin > 0.0, margin, reason, touch.along_mm)
