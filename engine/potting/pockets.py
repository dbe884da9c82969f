"""Where to aim in a pocket: the middle of the directions that go in clean.

A ball of radius R touches a jaw (an arc of radius r) when its centre comes within r + R of the
jaw's centre, and falls when its centre comes over the fall. A direction is clean when the ball
falls before it touches a jaw. Whether it is can change only at the tangents to those circles and
where they cross, so the limits are exact. A straight jaw is touched along its line moved in by R;
its ends and where that line crosses the fall are limits too. Cushion faces are tangent to the
jaws and set no further limit to a ball that lies on the bed; only behind the small tips of straight
jaws there would be a way through the rubber, so their faces are looked at as well.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from engine.potting.vectors import (
    Point,
    along,
    direction_rad,
    distance_mm,
    wrapped_rad,
)
from engine.tables.model import Pocket


@dataclass(frozen=True, slots=True)
class PocketWindow:
    """The clean way into a pocket from one place.

    `direction_rad` is the middle of the clean directions, `half_width_rad` how far either side
    of it still goes in clean. Negative: no direction is clean; `direction_rad` then leads to
    the middle of the throat. `aim_mm` is where the line crosses the throat.
    """

    direction_rad: float
    half_width_rad: float
    aim_mm: Point

    @property
    def is_clean(self) -> bool:
        """Whether any direction goes in clean."""
        return self.half_width_rad > 0.0


def pocket_window(pocket: Pocket, ball_mm: Point, radius_mm: float) -> PocketWindow:
    """The clean window of a pocket for a ball of `radius_mm` whose centre is at `ball_mm`."""
    base = direction_rad(ball_mm, pocket.fall_mm)
    reach_mm = pocket.jaw_radius_mm + radius_mm
    low, high = _widest_clean(pocket, ball_mm, base, reach_mm)
    if high > low:
        middle = base + (low + high) / 2.0
        aim = _aim_point(pocket, ball_mm, middle)
        return PocketWindow(wrapped_rad(middle), (high - low) / 2.0, aim)
    throat = pocket.throat_mm
    lacking = min(_between_jaws_rad(pocket, ball_mm, base, reach_mm), 0.0)
    return PocketWindow(direction_rad(ball_mm, throat), lacking, throat)


def _widest_clean(
    pocket: Pocket, ball_mm: Point, base: float, reach_mm: float
) -> tuple[float, float]:
    """The widest span of clean directions, as angles from `base`; an empty one if there is none."""
    turns = [
        side * _tangent_rad(ball_mm, pocket.fall_mm, pocket.fall_radius_mm) for side in (-1, 1)
    ]
    for jaw in pocket.jaws_mm:
        towards = wrapped_rad(direction_rad(ball_mm, jaw) - base)
        grazing = _tangent_rad(ball_mm, jaw, reach_mm)
        turns += [towards - grazing, towards + grazing]
        turns += [
            wrapped_rad(direction_rad(ball_mm, spot) - base)
            for spot in _crossings(pocket.fall_mm, pocket.fall_radius_mm, jaw, reach_mm)
        ]
    turns += [
        wrapped_rad(direction_rad(ball_mm, spot) - base)
        for spot in _facing_limits(pocket, reach_mm - pocket.jaw_radius_mm)
    ]
    spans: list[tuple[float, float]] = []
    for low, high in pairwise(sorted(turns)):
        if high - low < 1e-12 or not _is_clean(
            pocket, ball_mm, base + (low + high) / 2.0, reach_mm
        ):
            continue
        if spans and low - spans[-1][1] < 1e-12:
            spans[-1] = (spans[-1][0], high)
        else:
            spans.append((low, high))
    return max(spans, key=lambda span: span[1] - span[0], default=(0.0, 0.0))


def _is_clean(pocket: Pocket, ball_mm: Point, direction: float, reach_mm: float) -> bool:
    falls = _entry_mm(ball_mm, direction, pocket.fall_mm, pocket.fall_radius_mm)
    return (
        falls < math.inf
        and all(_entry_mm(ball_mm, direction, jaw, reach_mm) > falls for jaw in pocket.jaws_mm)
        and all(
            _crossing_mm(ball_mm, direction, line, into) > falls
            for line, into in _touched_lines(pocket, reach_mm - pocket.jaw_radius_mm)
        )
    )


def _entry_mm(start_mm: Point, direction: float, centre_mm: Point, radius_mm: float) -> float:
    """How far along a line a circle begins: 0 from within it, infinity when it is not met."""
    wx, wy = centre_mm[0] - start_mm[0], centre_mm[1] - start_mm[1]
    ahead = wx * math.cos(direction) + wy * math.sin(direction)
    beside = wx * math.sin(direction) - wy * math.cos(direction)
    if abs(beside) >= radius_mm:
        return math.inf
    half = math.sqrt(radius_mm * radius_mm - beside * beside)
    return max(ahead - half, 0.0) if ahead + half > 0.0 else math.inf


def _crossings(a_mm: Point, a_radius: float, b_mm: Point, b_radius: float) -> list[Point]:
    """Where two circles cross: two points or none."""
    apart = distance_mm(a_mm, b_mm)
    if not abs(a_radius - b_radius) < apart < a_radius + b_radius:
        return []
    ahead = (apart * apart + a_radius * a_radius - b_radius * b_radius) / (2.0 * apart)
    beside = math.sqrt(max(a_radius * a_radius - ahead * ahead, 0.0))
    middle = along(a_mm, direction_rad(a_mm, b_mm), ahead)
    across = direction_rad(a_mm, b_mm) + math.pi / 2
    return [along(middle, across, beside), along(middle, across, -beside)]


#: Faces are looked at this far from the pocket: farther than any table is long.
_FACE_MM = 10_000.0

Line = tuple[Point, Point]


def _touched_lines(pocket: Pocket, radius_mm: float) -> list[tuple[Line, Point]]:
    """Where a ball's centre lies as it touches a straight jaw or its face, and the way off it.

    Each is the rubber's own line moved in by the radius.
    """
    found: list[tuple[Line, Point]] = []
    for jaw, facing in zip(pocket.jaws_mm, pocket.facings, strict=False):
        (nx, ny), (ox, oy) = facing.into_mm, facing.face_into_mm
        (ax, ay), (bx, by) = facing.start_mm, facing.end_mm
        straight = (
            (ax + radius_mm * nx, ay + radius_mm * ny),
            (bx + radius_mm * nx, by + radius_mm * ny),
        )
        # along the face, away from the pocket: against the part of the jaw's way off it
        across = nx * -oy + ny * ox
        back = (math.copysign(1.0, across) * oy, -math.copysign(1.0, across) * ox)
        reach = pocket.jaw_radius_mm + radius_mm
        tip = (jaw[0] + reach * ox, jaw[1] + reach * oy)
        face = (tip, (tip[0] + _FACE_MM * back[0], tip[1] + _FACE_MM * back[1]))
        found += [(straight, facing.into_mm), (face, facing.face_into_mm)]
    return found


def _facing_limits(pocket: Pocket, radius_mm: float) -> list[Point]:
    """Ends of the lines on which straight jaws are touched, and where these cross the fall."""
    found: list[Point] = []
    for (start, end), _ in _touched_lines(pocket, radius_mm):
        way, long = direction_rad(start, end), distance_mm(start, end)
        found += [start, end]
        into = _entry_mm(start, way, pocket.fall_mm, pocket.fall_radius_mm)
        if 0.0 < into < long:
            found.append(along(start, way, into))
    return found


def _crossing_mm(start_mm: Point, direction: float, line: Line, into: Point) -> float:
    """How far along a way a line is crossed from its front; infinity when it is not."""
    (ax, ay), (bx, by) = line
    dx, dy = math.cos(direction), math.sin(direction)
    closing = -(dx * into[0] + dy * into[1])
    if closing <= 0.0:
        return math.inf
    ahead = ((start_mm[0] - ax) * into[0] + (start_mm[1] - ay) * into[1]) / closing
    x, y = start_mm[0] + ahead * dx - ax, start_mm[1] + ahead * dy - ay
    share = (x * (bx - ax) + y * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
    return ahead if ahead >= 0.0 and 0.0 <= share <= 1.0 else math.inf


def _between_jaws_rad(pocket: Pocket, ball_mm: Point, base: float, reach_mm: float) -> float:
    """Half the room between the jaws' tangents; negative by as much as it is too thin."""
    limits = sorted(
        (wrapped_rad(direction_rad(ball_mm, jaw) - base), _tangent_rad(ball_mm, jaw, reach_mm))
        for jaw in pocket.jaws_mm
    )
    (right, right_fills), (left, left_fills) = limits
    return ((left - left_fills) - (right + right_fills)) / 2.0


def _tangent_rad(from_mm: Point, centre_mm: Point, radius_mm: float) -> float:
    """Half the angle a circle fills as seen from a point; a right angle from on or within it."""
    away = distance_mm(from_mm, centre_mm)
    return math.asin(radius_mm / away) if away > radius_mm else math.pi / 2


def _aim_point(pocket: Pocket, ball_mm: Point, direction: float) -> Point:
    """Where a line crosses the line between the jaw centres, or the fall when that lies behind."""
    (ax, ay), (bx, by) = pocket.jaws_mm
    across = (bx - ax, by - ay)
    step = (math.cos(direction), math.sin(direction))
    turn = step[0] * across[1] - step[1] * across[0]
    if abs(turn) > 1e-9:
        ahead = ((ax - ball_mm[0]) * across[1] - (ay - ball_mm[1]) * across[0]) / turn
        if ahead > 0.0:
            return along(ball_mm, direction, ahead)
    return pocket.fall_mm
