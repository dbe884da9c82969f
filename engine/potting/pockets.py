"""Where to aim in a pocket: the middle of the directions that go in clean.

A ball of radius R goes clean between two jaws (arcs of radius r) while its centre stays outside
circles of radius r + R about the jaw centres; the limits are the tangents from the ball's centre
to those circles. The centre must also come over the fall. The cushion faces are tangent to the
jaws, so they set no further limit to a ball that lies on the bed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

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
    sides = sorted(wrapped_rad(direction_rad(ball_mm, jaw) - base) for jaw in pocket.jaws_mm)
    jaws = sorted(pocket.jaws_mm, key=lambda jaw: wrapped_rad(direction_rad(ball_mm, jaw) - base))
    reach_mm = pocket.jaw_radius_mm + radius_mm
    low = sides[0] + _tangent_rad(ball_mm, jaws[0], reach_mm)
    high = sides[1] - _tangent_rad(ball_mm, jaws[1], reach_mm)
    over_fall = _tangent_rad(ball_mm, pocket.fall_mm, pocket.fall_radius_mm)
    low, high = max(low, -over_fall), min(high, over_fall)
    half = (high - low) / 2.0
    if half > 0.0:
        middle = base + (low + high) / 2.0
        return PocketWindow(wrapped_rad(middle), half, _aim_point(pocket, ball_mm, middle))
    throat = pocket.throat_mm
    return PocketWindow(direction_rad(ball_mm, throat), half, throat)


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
