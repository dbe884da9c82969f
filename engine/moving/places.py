"""Where a place on one table lies on another: by cushions, by spots, or in proportion.

By cushions: a ball keeps the room between its edge and the nearer long and the nearer short
cushion, as a tape reads it; a place on a middle line stays on it. By spots: a ball keeps its
offset from the nearest spot that both tables have, by name or by what it stands for. In
proportion: a ball keeps its share of the room between the cushions.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import UnknownNameError
from engine.tables.model import CUSHIONS, Spot, Table

Point = tuple[float, float]

PLACE_WAYS: tuple[str, ...] = ("cushions", "spots", "proportion")
#: A place this near a middle line, in mm, lies on it.
MIDDLE_MM = 0.5


@dataclass(frozen=True, slots=True)
class Side:
    """One of the two tables: its measures and its balls' sizes."""

    table: Table
    conditions: Conditions

    @property
    def size_mm(self) -> Point:
        """Width and length."""
        return (self.table.width_mm, self.table.length_mm)


@dataclass(frozen=True, slots=True)
class Places:
    """The way from one table to another; `by` is one of `PLACE_WAYS`."""

    by: str
    old: Side
    new: Side
    pairs: tuple[tuple[Spot, Spot], ...]

    def ball(self, ball: Ball) -> Point:
        """Where the ball's centre goes, mm."""
        old_r, new_r = self.old.conditions.radius_of(ball), self.new.conditions.radius_of(ball)
        return self._moved(ball.centre_mm, old_r, new_r)

    def point(self, place_mm: Point) -> Point:
        """Where a mark on the cloth goes, mm."""
        return self._moved(place_mm, 0.0, 0.0)

    def along(self, cushion: str, at_mm: float) -> float:
        """Where a place along a cushion goes, mm along the same cushion."""
        if cushion not in CUSHIONS:
            return at_mm
        width, length = self.old.size_mm
        on = {
            "left": (0.0, at_mm),
            "right": (width, at_mm),
            "bottom": (at_mm, 0.0),
            "top": (at_mm, length),
        }[cushion]
        return self.point(on)[1 if cushion in ("left", "right") else 0]

    def direction_deg(self, aim_deg: float) -> float:
        """Where an aim points: turned with the table's shape in proportion, else kept."""
        if self.by != "proportion":
            return aim_deg
        (w0, l0), (w1, l1) = self.old.size_mm, self.new.size_mm
        aim = math.radians(aim_deg)
        return math.degrees(math.atan2(math.sin(aim) * l1 / l0, math.cos(aim) * w1 / w0))

    def _moved(self, place: Point, old_r: float, new_r: float) -> Point:
        if self.by == "spots" and self.pairs:
            old, new = min(
                self.pairs,
                key=lambda pair: math.hypot(place[0] - pair[0].x_mm, place[1] - pair[0].y_mm),
            )
            return (place[0] + new.x_mm - old.x_mm, place[1] + new.y_mm - old.y_mm)
        x, y = (
            self._along_axis(at, old_size, new_size, old_r, new_r)
            for at, old_size, new_size in zip(
                place, self.old.size_mm, self.new.size_mm, strict=True
            )
        )
        return (x, y)

    def _along_axis(
        self, at: float, old_size: float, new_size: float, old_r: float, new_r: float
    ) -> float:
        if self.by == "proportion":
            share = (at - old_r) / (old_size - 2.0 * old_r)
            return new_r + share * (new_size - 2.0 * new_r)
        if abs(at - old_size / 2.0) <= MIDDLE_MM:
            return new_size / 2.0
        if at < old_size / 2.0:
            return at - old_r + new_r
        return new_size - (old_size - at - old_r + new_r)


def places(by: str, old: Side, new: Side) -> Places:
    """The way from one table to another; `UnknownNameError` for a way there is none of."""
    if by not in PLACE_WAYS:
        raise UnknownNameError("way of moving", by, PLACE_WAYS)
    return Places(by, old, new, spot_pairs(old.table, new.table))


def spot_pairs(old: Table, new: Table) -> tuple[tuple[Spot, Spot], ...]:
    """Spots of both tables that belong together: of one name, or standing for the same place."""
    found = []
    for spot in old.spots:
        twin = next((one for one in new.spots if one.id == spot.id), None)
        if twin is None or (spot.role and twin.role != spot.role):
            twin = next((one for one in new.spots if one.role and one.role == spot.role), None)
        if twin is not None:
            found.append((spot, twin))
    return tuple(found)
