"""The way the cue ball has taken in a replay, drawn behind it as it rolls."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPen, QPolygonF, QTransform

from designer.drawing.look import INK, PAPER, LanePattern
from designer.widgets.tones import on_screen

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
    painter: QPainter,
    trail: Trail,
    matrix: QTransform,
    area: QRectF,
    font: QFont,
    keep_off: Sequence[QPointF],
) -> QPointF:
    """The trail's name in a disc by its end, off balls and other discs if it can; its middle."""
    radius = font.pixelSize() * 0.72
    at = _name_place(_line(trail, matrix), area, radius, keep_off)
    painter.save()
    painter.setPen(QPen(_colour(trail), font.pixelSize() * 0.11))
    painter.setBrush(on_screen(PAPER))
    painter.drawEllipse(at, radius, radius)
    painter.setPen(on_screen(INK))
    painter.setFont(font)
    box = QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, trail.name)
    painter.restore()
    return at


def _line(trail: Trail, matrix: QTransform) -> QPolygonF:
    return QPolygonF([matrix.map(QPointF(x, y)) for x, y in trail.way_mm])


def _colour(trail: Trail) -> QColor:
    return on_screen(trail.pattern.colour)


def _name_place(
    line: QPolygonF, area: QRectF, radius: float, keep_off: Sequence[QPointF]
) -> QPointF:
    """A place round the end of a line or, where it leaves the picture, round the last one in it."""
    inner = area.adjusted(radius, radius, -radius, -radius)
    shown = [line.at(i) for i in range(line.size()) if area.contains(line.at(i))]
    end = shown[-1] if shown else area.center()
    places = [
        end + QPointF(math.cos(turn), math.sin(turn)) * (radius * far)
        for far in (1.8, 2.6)
        for turn in np.radians(np.arange(0.0, 360.0, 45.0))
    ]
    free = (
        place
        for place in places
        if inner.contains(place)
        and all(math.dist(place.toTuple(), one.toTuple()) > radius * 1.7 for one in keep_off)
    )
    return next(free, end)
