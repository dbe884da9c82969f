"""Keep texts off balls and off each other: boxes and circles that are taken, and a search."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import numpy as np

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
    """Places that are taken, places better left free, and how to find a free one.

    `soft_points`, shape (n, 2), with `soft_radius` are lines that a text had better not cover;
    it does so only when no other candidate is left.
    """

    circles: list[tuple[Point, float]] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    soft_points: np.ndarray = field(default_factory=lambda: np.zeros((0, 2)))
    soft_radius: float = 0.0

    def take_circle(self, centre: Point, radius: float) -> None:
        """Mark a disc as taken."""
        self.circles.append((centre, radius))

    def take_box(self, box: Box) -> None:
        """Mark a box as taken."""
        self.boxes.append(box)

    def circle_is_free(self, centre: Point, radius: float) -> bool:
        """Whether a disc would overlap nothing that is taken."""
        x, y = centre
        for (cx, cy), taken in self.circles:
            if (x - cx) ** 2 + (y - cy) ** 2 < (radius + taken) ** 2:
                return False
        return not any(circle_meets_box(centre, radius, box) for box in self.boxes)

    def box_is_free(self, box: Box) -> bool:
        """Whether a box would overlap nothing that is taken."""
        if any(boxes_meet(box, other) for other in self.boxes):
            return False
        return not any(circle_meets_box(centre, radius, box) for centre, radius in self.circles)

    def place_circle(self, candidates: Sequence[Point], radius: float) -> Point:
        """Take and return the best of some centres for a disc, the first of all at worst."""
        r = radius
        free = [c for c in candidates if self.circle_is_free(c, r)]
        boxes = [(x - r, y - r, x + r, y + r) for x, y in free]
        chosen = free[self._clear_of_lines(boxes)] if free else candidates[0]
        self.take_circle(chosen, radius)
        return chosen

    def place_box(self, candidates: Sequence[Box]) -> Box:
        """Take and return the best of some boxes, the first of all at worst."""
        free = [box for box in candidates if self.box_is_free(box)]
        chosen = free[self._clear_of_lines(free)] if free else candidates[0]
        self.take_box(chosen)
        return chosen

    def place_text(self, candidates: Sequence[Text], pad_mm: float = 0.0) -> Text:
        """Take and return the best of some texts, the first of all at worst."""
        free = [text for text in candidates if self.box_is_free(text_box(text, pad_mm))]
        boxes = [text_box(text, pad_mm) for text in free]
        chosen = free[self._clear_of_lines(boxes)] if free else candidates[0]
        self.take_box(text_box(chosen, pad_mm))
        return chosen

    def _clear_of_lines(self, boxes: Sequence[Box]) -> int:
        """Index of the first box that covers fewest of the soft points."""
        if not len(self.soft_points):
            return 0
        sides = np.asarray(boxes)[:, None, :]
        pad, points = self.soft_radius, self.soft_points[None]
        inside = (
            (points[..., 0] > sides[..., 0] - pad)
            & (points[..., 0] < sides[..., 2] + pad)
            & (points[..., 1] > sides[..., 1] - pad)
            & (points[..., 1] < sides[..., 3] + pad)
        )
        return int(np.argmin(inside.sum(axis=1)))


def around(centre: Point, first_deg: float, steps: Iterable[float]) -> Iterable[Point]:
    """Points round a centre at growing distances, starting in one direction, both ways in turn."""
    for distance in steps:
        for turn in (0, 30, -30, 60, -60, 90, -90, 120, -120, 150, -150, 180):
            angle = math.radians(first_deg + turn)
            yield (
                centre[0] + distance * math.cos(angle),
                centre[1] + distance * math.sin(angle),
            )
