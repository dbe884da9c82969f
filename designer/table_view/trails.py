"""The way the cue ball has taken in a replay, drawn behind it as it rolls."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen, QPolygonF, QTransform

from designer.drawing.dark import on_dark
from designer.drawing.look import INK, PAPER, LanePattern
from designer.widgets.tones import is_dark

if TYPE_CHECKING:
    # It loads the shot engine, which the first painted window must not wait for.
    from designer.open_routine.replay import Replay

STEP_S = 1.0 / 120.0
#: How strongly the width that the cue ball sweeps is tinted, and that of a ghost.
TINT, GHOST_TINT = 0.26, 0.10


@dataclass(frozen=True, eq=False)
class Trail:
    """Where the cue ball's centre is, `way_mm` (n, 2), at `times_s` (n,); `name` goes to its end.

    A `ghost` is drawn thin and dashed: it was seen before, or is only compared with.
    """

    name: str
    pattern: LanePattern
    way_mm: np.ndarray
    times_s: np.ndarray
    radius_mm: float
    ghost: bool = False

    def until(self, time_s: float) -> Trail:
        """The part of it that is done by a time."""
        count = int(np.searchsorted(self.times_s, time_s + 1e-9))
        return replace(self, way_mm=self.way_mm[:count], times_s=self.times_s[:count])


def trail_of(replay: Replay, name: str, pattern: LanePattern) -> Trail:
    """The cue ball's whole way in a replay, until it rests or falls."""
    cue = replay.routine.cue_ball
    assert cue is not None, "a replay has a cue ball"
    events = [one.t_s for one in replay.trace.events]
    end = next(
        (e.t_s for e in replay.trace.events if e.kind == "potted" and e.ball == cue.id),
        replay.duration_s,
    )
    times = np.unique(np.concatenate((np.arange(0.0, end, STEP_S), events, [end])))
    times = times[times <= end]
    way = replay.trace.positions(cue.id, times)
    return Trail(name, pattern, way, times, replay.conditions.cue_radius_mm)


def paint_trail(painter: QPainter, trail: Trail, matrix: QTransform, font: QFont) -> None:
    """The width swept and the centre line, the thicker the larger the letters of the table."""
    if len(trail.way_mm) < 2:
        return
    scale = math.hypot(matrix.m11(), matrix.m12())
    colour = _colour(trail)
    wide = QColor(colour)
    wide.setAlphaF(GHOST_TINT if trail.ghost else TINT)
    cap, join = Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin
    swept = QPen(wide, 2.0 * trail.radius_mm * scale, Qt.PenStyle.SolidLine, cap, join)
    pen = QPen(colour, font.pixelSize() * (0.1 if trail.ghost else 0.18))
    pen.setJoinStyle(join)
    if trail.ghost:
        pen.setDashPattern([5.0, 4.0])
    painter.save()
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for one in (swept, pen):
        painter.setPen(one)
        painter.drawPolyline(_line(trail, matrix))
    painter.restore()


def paint_name(
    painter: QPainter, trail: Trail, matrix: QTransform, area: QRectF, font: QFont
) -> None:
    """The trail's name in a disc beyond its end or, where it runs out of the picture, on it."""
    radius, dark = font.pixelSize() * 0.72, is_dark()
    scale = math.hypot(matrix.m11(), matrix.m12())
    at = _beyond_end(_line(trail, matrix), area, radius, trail.radius_mm * scale)
    painter.save()
    painter.setPen(QPen(_colour(trail), font.pixelSize() * 0.11))
    painter.setBrush(QColor(on_dark(PAPER) if dark else PAPER))
    painter.drawEllipse(at, radius, radius)
    painter.setPen(QColor(on_dark(INK) if dark else INK))
    painter.setFont(font)
    box = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, trail.name)
    painter.restore()


def _line(trail: Trail, matrix: QTransform) -> QPolygonF:
    return QPolygonF([matrix.map(QPointF(x, y)) for x, y in trail.way_mm])


def _colour(trail: Trail) -> QColor:
    return QColor(on_dark(trail.pattern.colour) if is_dark() else trail.pattern.colour)


def _beyond_end(line: QPolygonF, area: QRectF, radius: float, ball: float) -> QPointF:
    """Ahead of where the ball rests, as it came; the last place in the picture if it left that."""
    inner = area.adjusted(radius, radius, -radius, -radius)
    shown = [line.at(i) for i in range(line.size()) if inner.contains(line.at(i))]
    end = line.at(line.size() - 1)
    if not shown or shown[-1] != end:
        return shown[-1] if shown else line.at(0)
    before = next((p for p in reversed(shown) if math.dist(p.toTuple(), end.toTuple()) > 4.0), end)
    way = end - before
    far = math.hypot(way.x(), way.y()) or 1.0
    at = end + way * ((radius + ball) * 1.1 / far)
    return at if inner.contains(at) else end - way * ((radius + ball) * 1.1 / far)
