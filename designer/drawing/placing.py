"""Keep texts off balls, lines and each other: what is taken already, and a search."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Generic, TypeVar

import numpy as np

from designer.drawing.model import Point, Text

Box = tuple[float, float, float, float]

#: Candidates looked at together in a search for a free place, at first and then.
_AT_FIRST, _AT_ONCE = 2, 18


def text_box(text: Text, pad_mm: float = 0.0) -> Box:
    """The box (x0, y0, x1, y1) a text takes, for texts turned by none or more right angles.

    Seen from the far end a text is turned by half: it runs the other way from its anchor.
    """
    start, half = text.start_shift_mm, text.size_mm * 0.5
    end = start + text.width_mm
    if text.angle_deg >= 180.0:
        start, end = -end, -start
    x, y = text.at
    if text.angle_deg % 180.0 == 90.0:
        return (x - half - pad_mm, y + start - pad_mm, x + half + pad_mm, y + end + pad_mm)
    return (x + start - pad_mm, y - half - pad_mm, x + end + pad_mm, y + half + pad_mm)


def boxes_meet(one: Box, other: Box) -> bool:
    """Whether two boxes overlap."""
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def circle_meets_box(centre: Point, radius: float, box: Box) -> bool:
    """Whether a disc and a box overlap."""
    dx = max(box[0] - centre[0], 0.0, centre[0] - box[2])
    dy = max(box[1] - centre[1], 0.0, centre[1] - box[3])
    return dx * dx + dy * dy < radius * radius


def _line_meets_box(start: Point, end: Point, box: Box) -> bool:
    """Whether one stroke runs over a box."""
    enter, leave = 0.0, 1.0
    for axis in (0, 1):
        step = end[axis] - start[axis]
        low, high = box[axis] - start[axis], box[axis + 2] - start[axis]
        if step == 0.0:
            if low > 0.0 or high < 0.0:
                return False
            continue
        first, second = sorted((low / step, high / step))
        enter, leave = max(enter, first), min(leave, second)
        if enter > leave:
            return False
    return True


def lines_meet_box(lines: np.ndarray, box: Box | np.ndarray) -> np.ndarray:
    """For strokes (n, 4), from (x, y) to (x, y), whether each runs over a box, or over its own
    of boxes (n, 4), or one stroke (1, 4) over each of those; booleans (n,)."""
    start, step = lines[:, :2], lines[:, 2:] - lines[:, :2]
    sides = np.asarray(box)
    low, high = sides[..., :2] - start, sides[..., 2:] - start
    with np.errstate(divide="ignore", invalid="ignore"):
        first, second = low / step, high / step
    # A stroke along an axis is inside its slab all the way, or never.
    still = step == 0.0
    inside = (low <= 0.0) & (high >= 0.0)
    enter = np.where(still, np.where(inside, -np.inf, np.inf), np.minimum(first, second))
    leave = np.where(still, np.where(inside, np.inf, -np.inf), np.maximum(first, second))
    begin, end = enter.max(axis=1), leave.min(axis=1)
    return np.asarray((begin <= end) & (end >= 0.0) & (begin <= 1.0))


Place = TypeVar("Place")


@dataclass(slots=True)
class _Chosen(Generic[Place]):
    """The best of some places (None: none is free) and the first of all (None: there was none)."""

    best: Place | None = None
    first: Place | None = None


@dataclass(slots=True)
class Occupied:
    """Places that are taken, places better left free, and how to find a free one.

    `lines` holds the ends of strokes that no text may touch, (x, y, x, y) each, `spans` the box
    round each of them. `soft`, shape (n, 3), holds points along lines that a text had better not
    cover and the room to leave round each; a text covers as few as it can. `strokes` are those
    from names to what they name, (x, y, x, y) each.
    """

    circles: list[tuple[Point, float]] = field(default_factory=list)
    boxes: list[Box] = field(default_factory=list)
    lines: list[Box] = field(default_factory=list)
    spans: list[Box] = field(default_factory=list)
    soft: np.ndarray = field(default_factory=lambda: np.zeros((0, 3)))
    strokes: list[np.ndarray] = field(default_factory=list)

    def take_circle(self, centre: Point, radius: float) -> None:
        """Mark a disc as taken."""
        self.circles.append((centre, radius))

    def take_box(self, box: Box) -> None:
        """Mark a box as taken."""
        self.boxes.append(box)

    def take_line(self, points: Sequence[Point]) -> None:
        """Mark a polyline as taken."""
        rows = [(*a, *b) for a, b in itertools.pairwise(points)]
        self.spans += [(min(a, c), min(b, d), max(a, c), max(b, d)) for a, b, c, d in rows]
        self.lines += rows

    def keep_off(self, points: np.ndarray, radius: float) -> None:
        """Ask texts to stay clear of points (n, 2) where they can."""
        added = np.column_stack((points, np.full(len(points), radius)))
        self.soft = np.concatenate((self.soft, added))

    def circle_is_free(self, centre: Point, radius: float) -> bool:
        """Whether a disc would overlap nothing that is taken."""
        x, y = centre
        for (cx, cy), taken in self.circles:
            if (x - cx) ** 2 + (y - cy) ** 2 < (radius + taken) ** 2:
                return False
        around = (x - radius, y - radius, x + radius, y + radius)
        for box in self.boxes:
            if boxes_meet(around, box) and circle_meets_box(centre, radius, box):
                return False
        return not self._crossed(around)

    def box_is_free(self, box: Box) -> bool:
        """Whether a box would overlap nothing that is taken."""
        if any(boxes_meet(box, other) for other in self.boxes):
            return False
        if any(circle_meets_box(centre, radius, box) for centre, radius in self.circles):
            return False
        return not self._crossed(box)

    def _crossed(self, box: Box) -> bool:
        """Whether a stroke that is taken runs over a box; most lie far off, told by their spans."""
        x0, y0, x1, y1 = box
        near = [
            index
            for index, (low_x, low_y, high_x, high_y) in enumerate(self.spans)
            if low_x <= x1 and high_x >= x0 and low_y <= y1 and high_y >= y0
        ]
        if not near:
            return False
        return bool(lines_meet_box(np.array([self.lines[index] for index in near]), box).any())

    def _free(self, boxes: np.ndarray, radius: float | None) -> np.ndarray:
        """Which of many boxes (m, 4) overlap nothing that is taken; booleans (m,).

        With a radius it is the discs in the boxes that count, not their corners.
        """
        sides = boxes.T[:, :, None]
        free = np.ones(len(boxes), dtype=bool)
        if self.circles:
            rows = np.array([(x, y, taken) for (x, y), taken in self.circles])
            x, y, taken = rows.T
            if radius is None:
                dx = np.maximum(np.maximum(sides[0] - x, x - sides[2]), 0.0)
                dy = np.maximum(np.maximum(sides[1] - y, y - sides[3]), 0.0)
            else:
                dx, dy = sides[0] + radius - x, sides[1] + radius - y
                taken = taken + radius
            free &= ~(dx * dx + dy * dy < taken * taken).any(axis=1)
        if self.boxes:
            x0, y0, x1, y1 = np.array(self.boxes).T
            if radius is None:
                meets = (sides[0] < x1) & (x0 < sides[2]) & (sides[1] < y1) & (y0 < sides[3])
            else:
                x, y = sides[0] + radius, sides[1] + radius
                dx = np.maximum(np.maximum(x0 - x, x - x1), 0.0)
                dy = np.maximum(np.maximum(y0 - y, y - y1), 0.0)
                meets = dx * dx + dy * dy < radius * radius
            free &= ~meets.any(axis=1)
        if self.spans:
            x0, y0, x1, y1 = np.array(self.spans).T
            near = (x0 <= sides[2]) & (x1 >= sides[0]) & (y0 <= sides[3]) & (y1 >= sides[1])
            near &= free[:, None]
            which, line = near.nonzero()
            if len(which):
                lines = np.array(self.lines)[line]
                free[which[lines_meet_box(lines, boxes[which])]] = False
        return free

    def line_is_free(self, start: Point, end: Point) -> bool:
        """Whether a stroke would run over no box that is taken."""
        return not any(_line_meets_box(start, end, box) for box in self.boxes)

    def place_circle(
        self, candidates: Iterable[Point], radius: float, held: Point | None = None
    ) -> Point:
        """Take and return the best of some centres for a disc, the first of all at worst.

        A place `held` from the drawing before is taken without a search as long as it is free and
        covers no soft point.
        """
        r = radius

        def box_of(at: Point) -> Box:
            return (at[0] - r, at[1] - r, at[0] + r, at[1] + r)

        at = held
        if at is None or not self.circle_is_free(at, r) or self._covered([box_of(at)])[0]:
            chosen = self._best(candidates, box_of, lambda at, _: self.circle_is_free(at, r), r)
            at = chosen.best if chosen.best is not None else chosen.first
        if at is None:
            raise ValueError("no candidate for a disc")
        self.take_circle(at, radius)
        return at

    def place_box(
        self, candidates: np.ndarray, to: Point, held: Box | None = None
    ) -> tuple[Box, Box]:
        """Take the best of some boxes (n, 4), n > 0, the first of all at worst; return it and the
        ends of the stroke from it to the place `to`.

        That stroke runs over no other box if it can: it would seem to come from that one.
        A box `held` from the drawing before is taken without a search as long as it is free,
        whatever soft points it covers by now: names that jump about are worse.
        """
        box = held
        if box is None or not self.box_is_free(box):
            free = self._free(candidates, None).nonzero()[0]
            clear = self._told_apart(candidates[free], to)
            free = free[clear] if clear.any() else free
            best = free[np.argmin(self._covered(candidates[free]))] if len(free) else 0
            x0, y0, x1, y1 = candidates[best].tolist()
            box = (x0, y0, x1, y1)
        self.take_box(box)
        (stroke,) = _strokes_to(np.array([box]), to)
        self.strokes.append(stroke)
        x0, y0, x1, y1 = stroke.tolist()
        return box, (x0, y0, x1, y1)

    def _told_apart(self, boxes: np.ndarray, to: Point) -> np.ndarray:
        """Which of many boxes (n, 4) have a stroke to that place that runs over no box that is
        taken, and lie on no stroke to another place; booleans (n,)."""
        strokes, apart = _strokes_to(boxes, to), np.ones(len(boxes), dtype=bool)
        for box in self.boxes:
            apart &= ~lines_meet_box(strokes, box)
        for stroke in self.strokes:
            apart &= ~lines_meet_box(stroke[None], boxes)
        return apart

    def place_text(self, candidates: Sequence[Text], pad_mm: float = 0.0) -> Text:
        """Take and return the best of some texts, the first of all at worst."""
        return self.best_text(candidates, pad_mm) or self._taken_text(candidates[0], pad_mm)

    def best_text(self, candidates: Iterable[Text], pad_mm: float = 0.0) -> Text | None:
        """Take and return the best of the texts that overlap nothing; None when all do."""
        chosen = self._best(
            candidates,
            lambda text: text_box(text, pad_mm),
            lambda _, box: self.box_is_free(box),
        )
        return None if chosen.best is None else self._taken_text(chosen.best, pad_mm)

    def _taken_text(self, text: Text, pad_mm: float) -> Text:
        self.take_box(text_box(text, pad_mm))
        return text

    def free_text(self, candidates: Iterable[Text], pad_mm: float = 0.0) -> Text | None:
        """Take and return the first text that overlaps nothing; None when all do."""
        for text in candidates:
            if self.box_is_free(text_box(text, pad_mm)):
                return self._taken_text(text, pad_mm)
        return None

    def _best(
        self,
        candidates: Iterable[Place],
        box_of: Callable[[Place], Box],
        is_free: Callable[[Place, Box], bool],
        radius: float | None = None,
    ) -> _Chosen[Place]:
        """The first free candidate that covers no soft point, else the one covering fewest.

        Looks at the first few one by one, as mostly one of them will do; where there is a crowd
        many are looked at together. The candidates are discs of `radius` if it is given.
        """
        chosen: _Chosen[Place] = _Chosen()
        rest, least = iter(candidates), -1
        several = _AT_FIRST
        while some := list(itertools.islice(rest, several)):
            several = _AT_ONCE
            boxes = [box_of(place) for place in some]
            if chosen.first is None:
                chosen.first = some[0]
                free = [i for i, box in enumerate(boxes) if is_free(some[i], box)]
            else:
                free = self._free(np.array(boxes), radius).nonzero()[0].tolist()
            if not free:
                continue
            covered = self._covered([boxes[i] for i in free])
            lowest = int(np.argmin(covered))
            if least < 0 or covered[lowest] < least:
                chosen.best, least = some[free[lowest]], int(covered[lowest])
            if least == 0:
                break
        return chosen

    def _covered(self, boxes: Sequence[Box] | np.ndarray) -> np.ndarray:
        """How many soft points each box covers."""
        if not len(self.soft):
            return np.zeros(len(boxes), dtype=int)
        sides = np.array(boxes)[:, :, None]
        x, y, room = self.soft.T
        inside = (x + room > sides[:, 0]) & (x - room < sides[:, 2])
        inside &= (y + room > sides[:, 1]) & (y - room < sides[:, 3])
        return inside.sum(axis=1)


def _strokes_to(boxes: np.ndarray, to: Point) -> np.ndarray:
    """From the nearest point of each box (n, 4) to a place: strokes (n, 4)."""
    ends = np.tile(np.array(to), (len(boxes), 1))
    return np.concatenate((np.clip(ends, boxes[:, :2], boxes[:, 2:]), ends), axis=1)


def around(centre: Point, first_deg: float, steps: Iterable[float]) -> Iterable[Point]:
    """Points round a centre at growing distances, starting in one direction, both ways in turn."""
    for distance in steps:
        for turn in (0, 30, -30, 60, -60, 90, -90, 120, -120, 150, -150, 180):
            angle = math.radians(first_deg + turn)
            yield (
                centre[0] + distance * math.cos(angle),
                centre[1] + distance * math.sin(angle),
            )
