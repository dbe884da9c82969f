"""How marks and balls look over a photograph, and the glass that shows what is under the hand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPen, QPolygonF

from designer.drawing.look import INK, PAPER

#: Colours told apart in greyscale too: what is chosen is also thicker, what is bad is dashed.
_USUAL, _CHOSEN, _BAD = "#f4cf2d", "#ffffff", "#ff8f4d"
_GLASS_PX, _GLASS_ZOOM = 150, 6


@dataclass(frozen=True, slots=True, eq=False)
class Shown:
    """One mark or ball: its key, its place, its words, its outline when it is a ball."""

    key: str
    at_px: tuple[float, float]
    words: str
    chosen: bool = False
    bad: bool = False
    outline: np.ndarray | None = None


def paint_shown(
    painter: QPainter,
    one: Shown,
    to_screen: Callable[[float, float], QPointF],
    taken: list[QRectF],
) -> None:
    """A cross that leaves its middle free, the outline of a ball, and its words.

    Words that would cover others or another mark are left out, unless theirs is chosen or bad;
    `taken` are the places that have something, and grows.
    """
    at = to_screen(*one.at_px)
    colour = _BAD if one.bad else _CHOSEN if one.chosen else _USUAL
    wide = 2.4 if one.chosen else 1.5
    arm = 13.0 if one.chosen else 10.0
    for ink, more in ((INK, 2.2), (colour, 0.0)):
        pen = QPen(QColor(ink), wide + more)
        painter.setPen(pen)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            painter.drawLine(at + QPointF(dx * 3.0, dy * 3.0), at + QPointF(dx * arm, dy * arm))
        if one.bad:
            pen.setStyle(Qt.PenStyle.DashLine)
            painter.setPen(pen)
        if one.outline is not None:
            rim = [to_screen(float(x), float(y)) for x, y in one.outline]
            painter.drawPolygon(QPolygonF(rim))
        elif one.bad:
            painter.drawEllipse(at, arm + 3.0, arm + 3.0)
    _words(painter, one, at, arm, taken)


def _words(painter: QPainter, one: Shown, at: QPointF, arm: float, taken: list[QRectF]) -> None:
    if not one.words:
        return
    font = QFont(painter.font())
    font.setBold(one.chosen)
    painter.setFont(font)
    box = QFontMetricsF(font).boundingRect(one.words).adjusted(-3.0, -1.0, 3.0, 1.0)
    box.moveTopLeft(at + QPointF(arm * 0.6, arm * 0.5))
    if box.right() > painter.viewport().right():
        box.moveRight(at.x() - arm * 0.6)
    if any(box.intersects(other) for other in taken) and not (one.chosen or one.bad):
        return
    taken.append(box)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(27, 35, 39, 190))
    painter.drawRoundedRect(box, 3.0, 3.0)
    painter.setPen(QColor(PAPER))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, one.words)


def paint_glass(painter: QPainter, image: QImage, at_px: tuple[float, float], area: QRect) -> None:
    """A corner that shows the place under the hand much larger, with a hair cross."""
    half = _GLASS_PX / _GLASS_ZOOM / 2.0
    x, y = at_px[0] + 0.5, at_px[1] + 0.5
    source = QRectF(x - half, y - half, 2 * half, 2 * half)
    target = QRectF(area.right() - _GLASS_PX - 8, area.top() + 8, _GLASS_PX, _GLASS_PX)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, False)
    painter.fillRect(target, QColor(INK))
    painter.drawImage(target, image, source)
    middle = target.center()
    for ink, wide in ((INK, 2.4), (PAPER, 1.0)):
        painter.setPen(QPen(QColor(ink), wide))
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            way = QPointF(dx, dy)
            painter.drawLine(middle + way * 5.0, middle + way * _GLASS_PX * 0.45)
        painter.drawRect(target)
    painter.restore()
