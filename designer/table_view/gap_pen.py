"""Draws a gap: press on one edge, let go on the other; along a cushion it marks a stretch."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPen, QTransform

from designer.drawing.look import PAPER, POINTER
from designer.open_routine import OpenRoutine
from designer.texts import tr
from designer.widgets.tones import on_screen

Point = tuple[float, float]

#: How near the pointer must be to a cushion face to mean it, px, and at least in mm.
REACH_PX, LEAST_REACH_MM = 14.0, 30.0
#: A stretch of a cushion shorter than this is a slip of the hand.
LEAST_STRETCH_MM = 20.0


@dataclass(frozen=True, slots=True)
class Edge:
    """An edge of a gap: a ball by id, or a cushion with the place on its face."""

    ball: str = ""
    cushion: str = ""
    at_mm: Point = (0.0, 0.0)


class GapPen:
    """While `on`, a drag from edge to edge adds a gap."""

    def __init__(self, session: OpenRoutine) -> None:
        self._session = session
        self.on = False
        self.start: Edge | None = None
        self.at_mm: Point = (0.0, 0.0)

    def press(self, ball_id: str, at_mm: Point, px_per_mm: float) -> None:
        """Begin at the edge there; told when there is none."""
        self.start, self.at_mm = self.edge_at(ball_id, at_mm, px_per_mm), at_mm
        if self.start is None:
            self._session.messages.warn(
                tr("A gap begins at a ball or a cushion."),
                tr("Press on one, drag to the other edge and let go; Escape ends drawing."),
            )

    def release(self, ball_id: str, at_mm: Point, px_per_mm: float) -> str:
        """End at the edge there; the id of the gap made, "" if none."""
        start, self.start = self.start, None
        if start is None:
            return ""
        end = self.edge_at(ball_id, at_mm, px_per_mm)
        if end is None:
            self._session.messages.warn(
                tr("The gap has one edge only."), tr("Let go on another ball or on a cushion.")
            )
            return ""
        made = self._add(start, end)
        self.on = self.on and not made
        return made

    def edge_at(self, ball_id: str, at_mm: Point, px_per_mm: float) -> Edge | None:
        """The ball there, or the cushion whose face is near."""
        session = self._session
        if ball_id:
            return Edge(ball=ball_id, at_mm=session.routine.ball(ball_id).centre_mm)
        table, (x, y) = session.table, at_mm
        reach = max(REACH_PX / px_per_mm, LEAST_REACH_MM)
        width, length = table.width_mm, table.length_mm
        x_on, y_on = min(max(x, 0.0), width), min(max(y, 0.0), length)
        off = {"left": x, "right": width - x, "bottom": y, "top": length - y}
        cushion = min(off, key=lambda name: off[name])
        if off[cushion] > reach:
            return None
        if cushion in ("left", "right"):
            place = (0.0 if cushion == "left" else width, y_on)
        else:
            place = (x_on, 0.0 if cushion == "bottom" else length)
        return Edge(cushion=cushion, at_mm=place)

    def _add(self, start: Edge, end: Edge) -> str:
        session, gaps = self._session, self._session.gaps
        cue = session.routine.cue_ball
        if cue is not None and cue.id in (start.ball, end.ball):
            session.messages.warn(
                tr("The cue ball is no edge of a gap: it has to pass it."),
                tr("Choose other balls."),
            )
            return ""
        if start.ball and end.ball:
            if start.ball == end.ball:
                session.messages.warn(
                    tr("A gap lies between two different edges."),
                    tr("Let go on another ball or on a cushion."),
                )
                return ""
            return gaps.add_between_balls(start.ball, end.ball)
        if start.ball or end.ball:
            return gaps.add_beside_cushion(start.ball or end.ball, start.cushion or end.cushion)
        axis = 1 if start.cushion in ("left", "right") else 0
        low, high = sorted((start.at_mm[axis], end.at_mm[axis]))
        if start.cushion != end.cushion or high - low < LEAST_STRETCH_MM:
            session.messages.warn(
                tr("That is no gap: it runs between two cushions or is too short."),
                tr("Drag along one cushion to mark a stretch of it, or from ball to cushion."),
            )
            return ""
        return gaps.add_stretch(start.cushion, low, high)

    def paint(self, painter: QPainter, matrix: QTransform) -> None:
        """The line from the first edge to the pointer."""
        if self.start is None:
            return
        a, b = matrix.map(QPointF(*self.start.at_mm)), matrix.map(QPointF(*self.at_mm))
        for colour, width in ((PAPER, 6.0), (POINTER, 2.6)):
            painter.setPen(QPen(on_screen(colour), width, Qt.PenStyle.SolidLine))
            painter.drawLine(a, b)
        if math.hypot(b.x() - a.x(), b.y() - a.y()) > 4.0:
            painter.setBrush(on_screen(POINTER))
            painter.drawEllipse(b, 4.0, 4.0)
