"""What the canvas shows over the drawing: the selected ball, locks, live cushion readings."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QFont, QFontMetricsF, QPainter, QPen, QTransform

from designer.drawing.look import INK, PAPER, POINTER
from designer.texts import tr
from designer.widgets.tones import on_screen
from engine.balls import Ball
from engine.placement import MarkPlacement
from engine.results import BallPlacement, CushionReading
from engine.units import LengthUnit, length_text


def paint_selected(painter: QPainter, ball: Ball, radius_mm: float, matrix: QTransform) -> None:
    """A ring round the selected ball, with a light one inside so that it shows on any colour."""
    at, radius = _on_screen(ball, radius_mm, matrix)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(on_screen(PAPER), 5.0))
    painter.drawEllipse(at, radius + 4.0, radius + 4.0)
    painter.setPen(QPen(on_screen(POINTER), 2.6))
    painter.drawEllipse(at, radius + 4.0, radius + 4.0)


def paint_lock(painter: QPainter, ball: Ball, radius_mm: float, matrix: QTransform) -> None:
    """A small padlock at the ball's lower right."""
    at, radius = _on_screen(ball, radius_mm, matrix)
    place = at + QPointF(radius * 0.75 + 7.0, radius * 0.75 + 7.0)
    body = QRectF(place.x() - 4.5, place.y() - 2.0, 9.0, 7.5)
    painter.setPen(QPen(on_screen(PAPER), 3.0))
    painter.setBrush(on_screen(INK))
    painter.drawRect(body)
    for colour, width in ((PAPER, 4.0), (INK, 1.8)):
        painter.setPen(QPen(on_screen(colour), width))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawArc(QRectF(place.x() - 3.0, place.y() - 7.0, 6.0, 9.0), 0, 180 * 16)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(on_screen(INK))
    painter.drawRect(body)


def paint_readings(
    painter: QPainter,
    ball: Ball,
    placement: BallPlacement | MarkPlacement,
    radius_mm: float,
    matrix: QTransform,
    unit: LengthUnit,
    font: QFont,
    area: QRectF,
    standing: Sequence[QRectF] = (),
) -> None:
    """Dimension lines from a ball or mark to the two nearest cushions, with their readings.

    The readings are to the ball's centre, with the one to its near edge below; one that would
    run out of `area` is moved in. Where there is room they keep off the boxes `standing` about.
    """
    table_ends = {
        "left": (ball.x_mm - placement.across.centre_mm, ball.y_mm),
        "right": (ball.x_mm + placement.across.centre_mm, ball.y_mm),
        "bottom": (ball.x_mm, ball.y_mm - placement.along.centre_mm),
        "top": (ball.x_mm, ball.y_mm + placement.along.centre_mm),
    }
    at, radius = _on_screen(ball, radius_mm, matrix)
    for reading in (placement.across, placement.along):
        end = matrix.map(QPointF(*table_ends[reading.cushion]))
        _line(painter, at, end, radius)
    taken: list[QRectF] = []
    for reading in (placement.across, placement.along):
        end = matrix.map(QPointF(*table_ends[reading.cushion]))
        box = _reading(painter, at, end, radius, reading, unit, font, area, taken, standing)
        taken.append(box)


def paint_band(painter: QPainter, band: QRectF) -> None:
    """The stretch of the canvas in which balls are being chosen."""
    fill = on_screen(POINTER)
    fill.setAlphaF(0.10)
    pen = QPen(on_screen(POINTER), 1.4)
    pen.setDashPattern([4.0, 3.0])
    painter.setPen(pen)
    painter.setBrush(fill)
    painter.drawRect(band)


def paint_words(
    painter: QPainter,
    words: str,
    ball: Ball,
    radius_mm: float,
    matrix: QTransform,
    font: QFont,
    area: QRectF,
) -> None:
    """A line of words near a ball: what it is drawn to, or what is held for it."""
    at, radius = _on_screen(ball, radius_mm, matrix)
    bold = QFont(font)
    bold.setBold(True)
    size = QFontMetricsF(bold).boundingRect(words)
    box = QRectF(0.0, 0.0, size.width() + 16.0, size.height() + 8.0)
    off = radius + 14.0 + box.height() / 2
    places = []
    for side in (QPointF(box.width() / 2 + 10.0, off), QPointF(-box.width() / 2 - 10.0, off)):
        for sign in (1.0, -1.0):
            moved = QRectF(box)
            moved.moveCenter(at + side * sign)
            places.append(moved)
    box = next((place for place in places if area.contains(place)), _inside(places[0], area))
    painter.setPen(QPen(on_screen(INK), 1.2))
    painter.setBrush(on_screen(INK))
    painter.drawRoundedRect(box, 4.0, 4.0)
    painter.setPen(on_screen(PAPER))
    painter.setFont(bold)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)


def boxes_of(
    balls: Iterable[Ball], radius_of: Callable[[Ball], float], matrix: QTransform
) -> list[QRectF]:
    """The boxes round balls on screen."""
    boxes = []
    for ball in balls:
        at, radius = _on_screen(ball, radius_of(ball), matrix)
        boxes.append(QRectF(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius))
    return boxes


def _line(painter: QPainter, at: QPointF, end: QPointF, radius: float) -> None:
    for colour, width in ((PAPER, 4.0), (POINTER, 1.6)):
        painter.setPen(QPen(on_screen(colour), width))
        painter.drawLine(_edge_of_ball(at, end, radius), end)
        across = QPointF(0.0, 7.0) if abs(end.x() - at.x()) > abs(end.y() - at.y()) else None
        across = across or QPointF(7.0, 0.0)
        painter.drawLine(end - across, end + across)


def _reading(
    painter: QPainter,
    at: QPointF,
    end: QPointF,
    radius: float,
    reading: CushionReading,
    unit: LengthUnit,
    font: QFont,
    area: QRectF,
    taken: list[QRectF],
    standing: Sequence[QRectF],
) -> QRectF:
    upper = length_text(reading.centre_mm, unit)
    # A mark has no edge of its own.
    edge = reading.edge_mm if reading.edge_mm != reading.centre_mm else None
    lower = "" if edge is None else tr("edge {length}", length=length_text(edge, unit))
    bold, small = QFont(font), QFont(font)
    bold.setPointSizeF(font.pointSizeF() * (1.35 if area.width() > 600 else 1.0))
    small.setPointSizeF(font.pointSizeF() * (1.0 if area.width() > 600 else 0.85))
    bold.setBold(True)
    wide = max(
        QFontMetricsF(bold).horizontalAdvance(upper), QFontMetricsF(small).horizontalAdvance(lower)
    )
    high_1 = QFontMetricsF(bold).height()
    high_2 = QFontMetricsF(small).height() if lower else 0.0
    box = QRectF(0.0, 0.0, wide + 14.0, high_1 + high_2 + 6.0)
    ring = QRectF(at.x() - radius - 6, at.y() - radius - 6, 2 * radius + 12, 2 * radius + 12)
    places = [_inside(place, area) for place in _places(box, at, end, radius + 12.0)]
    clear = [p for p in places if not any(p.intersects(other) for other in (ring, *taken))]
    free = (p for p in clear if not any(p.intersects(other) for other in standing))
    box = next(free, clear[0] if clear else places[0])
    painter.setPen(QPen(on_screen(POINTER), 1.2))
    painter.setBrush(on_screen(PAPER))
    painter.drawRoundedRect(box, 4.0, 4.0)
    painter.setPen(on_screen(INK))
    painter.setFont(bold)
    first = QRectF(box.left(), box.top() + 2.0, box.width(), high_1)
    painter.drawText(first, Qt.AlignmentFlag.AlignCenter, upper)
    painter.setFont(small)
    second = QRectF(box.left(), first.bottom(), box.width(), high_2)
    painter.drawText(second, Qt.AlignmentFlag.AlignCenter, lower)
    return box


def _edge_of_ball(at: QPointF, end: QPointF, radius: float) -> QPointF:
    """Where the line from a ball's centre leaves the ring round it."""
    length = max(math.hypot(end.x() - at.x(), end.y() - at.y()), 1e-9)
    return at + (end - at) * min((radius + 5.0) / length, 1.0)


def _places(box: QRectF, at: QPointF, end: QPointF, gap: float) -> list[QRectF]:
    """Where a reading may stand, best first: beside its line's middle, farther on, the ends."""
    along_x = abs(end.x() - at.x()) > abs(end.y() - at.y())
    aside = QPointF(0.0, box.height() / 2) if along_x else QPointF(box.width() / 2, 0.0)
    places = []
    beside = [(at + (end - at) * share, 8.0) for share in (0.5, 0.35, 0.65)]
    for place, off in (*beside, (at, gap), (end, gap), (at * 2.0 - end, gap)):
        for side in (-1.0, 1.0) if along_x else (1.0, -1.0):
            way = QPointF(0.0, off) if along_x else QPointF(off, 0.0)
            moved = QRectF(box)
            moved.moveCenter(place + (aside + way) * side)
            places.append(moved)
    return places


def _inside(box: QRectF, area: QRectF) -> QRectF:
    """The box, moved as little as needed to lie in the area."""
    left = min(max(box.left(), area.left() + 2.0), area.right() - box.width() - 2.0)
    top = min(max(box.top(), area.top() + 2.0), area.bottom() - box.height() - 2.0)
    return QRectF(left, top, box.width(), box.height())


def _on_screen(ball: Ball, radius_mm: float, matrix: QTransform) -> tuple[QPointF, float]:
    scale = abs(matrix.m11()) or abs(matrix.m12())
    return matrix.map(QPointF(*ball.centre_mm)), radius_mm * scale
