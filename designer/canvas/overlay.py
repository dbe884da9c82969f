"""What the canvas shows over the drawing: the selected ball, locks, live cushion readings."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QTransform

from designer.drawing.look import INK, PAPER
from engine.answers.values import BallPlacement, CushionReading
from engine.balls import Ball
from engine.units import LengthUnit, length_text

#: Kept for what the coach points at; no lane has this colour.
POINTER = "#c2188f"


def paint_selected(painter: QPainter, ball: Ball, radius_mm: float, matrix: QTransform) -> None:
    """A ring round the selected ball, with a light one inside so that it shows on any colour."""
    at, radius = _on_screen(ball, radius_mm, matrix)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(PAPER), 5.0))
    painter.drawEllipse(at, radius + 4.0, radius + 4.0)
    painter.setPen(QPen(QColor(POINTER), 2.6))
    painter.drawEllipse(at, radius + 4.0, radius + 4.0)


def paint_lock(painter: QPainter, ball: Ball, radius_mm: float, matrix: QTransform) -> None:
    """A small padlock at the ball's lower right."""
    at, radius = _on_screen(ball, radius_mm, matrix)
    place = at + QPointF(radius * 0.75 + 7.0, radius * 0.75 + 7.0)
    body = QRectF(place.x() - 4.5, place.y() - 2.0, 9.0, 7.5)
    painter.setPen(QPen(QColor(PAPER), 3.0))
    painter.setBrush(QColor(INK))
    painter.drawRect(body)
    for colour, width in ((PAPER, 4.0), (INK, 1.8)):
        painter.setPen(QPen(QColor(colour), width))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawArc(QRectF(place.x() - 3.0, place.y() - 7.0, 6.0, 9.0), 0, 180 * 16)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(INK))
    painter.drawRect(body)


def paint_readings(
    painter: QPainter,
    ball: Ball,
    placement: BallPlacement,
    radius_mm: float,
    matrix: QTransform,
    unit: LengthUnit,
    font: QFont,
    area: QRectF,
) -> None:
    """Dimension lines from the ball to the two nearest cushions, each reading beside its line.

    The readings are to the ball's centre, with the one to its near edge below; one that would
    run out of `area` is moved in.
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
        taken.append(_reading(painter, at, end, radius, reading, unit, font, area, taken))


def _line(painter: QPainter, at: QPointF, end: QPointF, radius: float) -> None:
    for colour, width in ((PAPER, 4.0), (POINTER, 1.6)):
        painter.setPen(QPen(QColor(colour), width))
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
) -> QRectF:
    upper = length_text(reading.centre_mm, unit)
    lower = f"edge {length_text(reading.edge_mm, unit)}"
    bold, small = QFont(font), QFont(font)
    bold.setPointSizeF(font.pointSizeF() * 1.35)
    bold.setBold(True)
    wide = max(
        QFontMetricsF(bold).horizontalAdvance(upper), QFontMetricsF(small).horizontalAdvance(lower)
    )
    high_1, high_2 = QFontMetricsF(bold).height(), QFontMetricsF(small).height()
    box = QRectF(0.0, 0.0, wide + 14.0, high_1 + high_2 + 6.0)
    along_x = abs(end.x() - at.x()) > abs(end.y() - at.y())
    middle = (at + end) / 2
    gap = radius + 12.0
    if along_x:
        near = abs(end.x() - at.x()) < box.width() + 2 * gap
        place = at if near else middle
        box.moveCenter(place - QPointF(0.0, box.height() / 2 + (gap if near else 8.0)))
    else:
        near = abs(end.y() - at.y()) < box.height() + 2 * gap
        place = at if near else middle
        box.moveCenter(place + QPointF(box.width() / 2 + (gap if near else 8.0), 0.0))
    _keep_inside(box, area)
    for other in taken:
        if box.intersects(other):
            box.moveTop(other.bottom() + 3.0)
            _keep_inside(box, area)
            if box.intersects(other):
                box.moveBottom(other.top() - 3.0)
    painter.setPen(QPen(QColor(POINTER), 1.2))
    painter.setBrush(QColor(PAPER))
    painter.drawRoundedRect(box, 4.0, 4.0)
    painter.setPen(QColor(INK))
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


def _keep_inside(box: QRectF, area: QRectF) -> None:
    box.moveLeft(min(max(box.left(), area.left() + 2.0), area.right() - box.width() - 2.0))
    box.moveTop(min(max(box.top(), area.top() + 2.0), area.bottom() - box.height() - 2.0))


def _on_screen(ball: Ball, radius_mm: float, matrix: QTransform) -> tuple[QPointF, float]:
    scale = abs(matrix.m11()) or abs(matrix.m12())
    return matrix.map(QPointF(*ball.centre_mm)), radius_mm * scale
