"""Small pictures: a ball with its letter, and a mark on the cloth."""

from __future__ import annotations

from functools import lru_cache

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QIcon, QPainter, QPen, QPixmap

from designer.drawing.look import BALL_INKS, CLOTH, INK

#: What a ball that is dragged from the tray carries: its kind, as UTF-8.
BALL_MIME = "application/x-baizewright-ball"
#: Drawn larger than shown, so that they stay sharp on screens of high density.
SHARP = 3


@lru_cache(maxsize=256)
def ball_icon(kind: str, letter: str) -> QIcon:
    """A ball in its colour with its letter."""
    ink = BALL_INKS.get(kind, BALL_INKS["plain"])
    side = 22 * SHARP
    pixmap = QPixmap(side, side)
    pixmap.fill(QColor(Qt.GlobalColor.transparent))
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(QColor(INK), 1.2 * SHARP))
    painter.setBrush(QColor(ink.fill))
    edge = 1.2 * SHARP
    painter.drawEllipse(QRectF(edge, edge, side - 2 * edge, side - 2 * edge))
    _letters(painter, QRectF(0, 0, side, side), letter[:3], ink.ink, 0.52)
    painter.end()
    return _untinted(pixmap)


@lru_cache(maxsize=8)
def mark_icon(kind: str) -> QIcon:
    """A mark on the cloth: a cross, a dot or a line."""
    side = 22 * SHARP
    pixmap = QPixmap(side, side)
    pixmap.fill(QColor(Qt.GlobalColor.transparent))
    painter = QPainter(pixmap)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(CLOTH))
    painter.drawRoundedRect(QRectF(0, 0, side, side), 4 * SHARP, 4 * SHARP)
    painter.setPen(QPen(QColor(INK), 2.4 * SHARP, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    low, high = side * 0.28, side * 0.72
    if kind == "cross":
        painter.drawLine(QPointF(low, low), QPointF(high, high))
        painter.drawLine(QPointF(low, high), QPointF(high, low))
    elif kind == "line":
        painter.drawLine(QPointF(side * 0.18, side / 2), QPointF(side * 0.82, side / 2))
    else:
        painter.setBrush(QColor(INK))
        painter.drawEllipse(QPointF(side / 2, side / 2), side * 0.12, side * 0.12)
    painter.end()
    return _untinted(pixmap)


BALL_ICON_SIZE = QSize(22, 22)


def _untinted(pixmap: QPixmap) -> QIcon:
    """An icon that looks the same in a selected row."""
    icon = QIcon(pixmap)
    icon.addPixmap(pixmap, QIcon.Mode.Selected)
    return icon


def _letters(painter: QPainter, box: QRectF, text: str, colour: str, share: float) -> None:
    font = QFont(painter.font())
    font.setBold(True)
    size = box.height() * share * (1.0 if len(text) < 2 else 0.82 if len(text) < 3 else 0.62)
    font.setPixelSize(max(1, round(size)))
    painter.setFont(font)
    painter.setPen(QColor(colour))
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
