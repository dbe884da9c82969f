"""The hand that moves marks on the cloth: taken at an end or, a line, by its middle."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from PySide6.QtCore import QPointF

from designer.open_routine import OpenRoutine
from designer.table_view.frame import Frame

Point = tuple[float, float]

#: How near the pointer must be to take a mark, px.
REACH_PX = 9.0
START_PX = 3.0


@dataclass(frozen=True, slots=True)
class Grip:
    """Which mark is held, at which of its ends, and whether the rest of it goes along."""

    mark: str
    end: int
    whole: bool
    off_mm: Point


class MarkHand:
    """Takes, moves and puts down one mark; `dragged` once the pointer has really moved."""

    def __init__(self, session: OpenRoutine, frame: Frame) -> None:
        self._session, self._frame = session, frame
        self._grip: Grip | None = None
        self._pressed_at = QPointF()
        self._from: Point = (0.0, 0.0)
        self.dragged = False

    @property
    def holding(self) -> bool:
        """Whether a mark is held."""
        return self._grip is not None

    def mark_at(self, at_px: QPointF) -> str:
        """The mark under a point of the canvas, "" if none."""
        grip = self._grip_at(at_px)
        return grip.mark if grip is not None else ""

    def press(self, at_px: QPointF) -> bool:
        """Take the mark there; False when there is none."""
        self._grip = self._grip_at(at_px)
        if self._grip is None:
            return False
        self._pressed_at, self.dragged = at_px, False
        mark = self._session.routine.cloth_mark(self._grip.mark)
        self._from = mark.places_mm[self._grip.end]
        self._session.point_at_mark(self._grip.mark)
        return True

    def move(self, at_px: QPointF) -> None:
        """Follow the pointer."""
        away = at_px - self._pressed_at
        if self._grip is None or (not self.dragged and math.hypot(away.x(), away.y()) < START_PX):
            return
        if not self.dragged:
            self._session.marks.rest()
        self.dragged = True
        x, y = self._frame.to_table(at_px)
        self._put((x + self._grip.off_mm[0], y + self._grip.off_mm[1]))

    def release(self) -> None:
        """Put it down; the move was one step."""
        if self.dragged:
            self._session.marks.rest()
        self._grip, self.dragged = None, False

    def give_up(self) -> bool:
        """Put the mark back where it was taken; True if one was held."""
        if self._grip is None:
            return False
        if self.dragged:
            self._put(self._from)
        self.release()
        return True

    def _put(self, to_mm: Point) -> None:
        assert self._grip is not None
        if any(mark.id == self._grip.mark for mark in self._session.routine.cloth_marks):
            self._session.marks.move(self._grip.mark, to_mm, self._grip.end, whole=self._grip.whole)

    def _grip_at(self, at_px: QPointF) -> Grip | None:
        x, y = self._frame.to_table(at_px)
        reach = REACH_PX / self._frame.px_per_mm
        near = [one for one in self._grips(x, y) if one[0] <= reach]
        return min(near, key=lambda one: one[0])[1] if near else None

    def _grips(self, x: float, y: float) -> Iterator[tuple[float, Grip]]:
        """Distances to every mark's ends, and to the middle of lines."""
        for mark in self._session.routine.cloth_marks:
            places = mark.places_mm
            for end, place in enumerate(places):
                off = (place[0] - x, place[1] - y)
                yield math.hypot(*off), Grip(mark.id, end, len(places) == 1, off)
            if len(places) == 2:
                off = (places[0][0] - x, places[0][1] - y)
                yield _to_line((x, y), *places), Grip(mark.id, 0, True, off)


def _to_line(point: Point, start: Point, end: Point) -> float:
    """Distance of a point from the inner half of a line between two ends."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = dx * dx + dy * dy
    share = 0.5
    if length > 0.0:
        share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / length
    share = min(max(share, 0.25), 0.75)
    return math.hypot(start[0] + share * dx - point[0], start[1] + share * dy - point[1])
