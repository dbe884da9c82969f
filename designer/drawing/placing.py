"""Keep texts off balls and off each other: boxes and circles that are taken, and a search."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from designer.drawing.model import Point, Text

Box = tuple[float, float, float, float]


def text_box(text: Text, pad_mm: float = 0.0) -> Box:
    """The box (x0, y0, x1, y1) a text takes, for texts along x or turned by 90 degrees."""
    start, half = text.start_shift_mm, text.size_mm * 0.5
    x, y = text.at
    if text.angle_deg == 90.0:
        low, high = y + start, y + start + text.width_mm
        return (x - half - pad_mm, low - pad_mm, x + half + pad_mm, high + pad_mm)
    low, high = x + start, x + start + text.width_mm
    return (low - pad_mm, y - half - pad_mm, high + pad_mm, y + half + pad_mm)


def boxes_meet(one: Box, other: Box) -> bool:
    """Whether two boxes overlap."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def circle_meets_box(centre: Point, radius: float, box: Box) -> bool:
    """Whether a disc and a box overlap."""
    dx = max(box[0] - centre[0], 0.0, centre[0] - box[2])
    dy = max(box[1] - centre[1], 0.0, centre[1] - box[3])
    return dx * dx + dy * dy < radius * radius


@dataclass(slots=True)
class Occupied:
    """Places that are taken, and how to find one that is not."""

    circles: list[tuple[Point, float]] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)

    def take_circle(self, centre: Point, radius: float) -> None:
        """Mark a disc as taken."""
        self.circles.append((centre, radius))

    def take_box(self, box: Box) -> None:
        """Mark a box as taken."""
        self.boxes.append(box)

    def circle_is_free(self, centre: Point, radius: float) -> bool:
        """Whether a disc would overlap nothing."""
        x, y = centre
        for (cx, cy), taken in self.circles:
            if (x - cx) ** 2 + (y - cy) ** 2 < (radius + taken) ** 2:
                return False
        return not any(circle_meets_box(centre, radius, box) for box in self.boxes)

    def box_is_free(self, box: Box) -> bool:
        """Whether a box would overlap nothing."""
        if any(boxes_meet(box, other) for other in self.boxes):
            return False
        return not any(circle_meets_box(centre, radius, box) for centre, radius in self.circles)

    def place_circle(self, candidates: Iterable[Point], radius: float) -> Point:
        """Take and return the first free candidate; the first of all when none is free."""
        chosen: Point | None = None
        for candidate in candidates:
            if chosen is None:
                chosen = candidate
            if self.circle_is_free(candidate, radius):
                chosen = candidate
                break
        assert chosen is not None, "no candidate place was given"
        self.take_circle(chosen, radius)
        return chosen

    def place_text(self, candidates: Iterable[Text], pad_mm: float = 0.0) -> Text:
        """Take and return the first text that fits; the first of all when none does."""
        chosen: Text | None = None
        for candidate in candidates:
            if chosen is None:
                chosen = candidate
            if self.box_is_free(text_box(candidate, pad_mm)):
                chosen = candidate
                break
        assert chosen is not None, "no candidate text was given"
        self.take_box(text_box(chosen, pad_mm))
        return chosen

    def place_box(self, candidates: Sequence[Box]) -> Box:
        """Take and return the first free box; the first of all when none is free."""
        chosen = next((box for box in candidates if self.box_is_free(box)), candidates[0])
        self.take_box(chosen)
        return chosen


def around(centre: Point, first_deg: float, steps: Iterable[float]) -> Iterable[Point]:
    """Points round a centre at growing distances, starting in one direction, both ways in turn."""
    for distance in steps:
        for turn in (0, 30, -30, 60, -60, 90, -90, 120, -120, 150, -150, 180):
            angle = math.radians(first_deg + turn)
            yield (
                centre[0] + distance * math.cos(angle),
                centre[1] + distance * math.sin(angle),
            )
