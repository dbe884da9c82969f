"""The cue ball as seen over the cue: the cross through its middle, the ring of the miscue limit."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen

from designer.drawing.look import CHALK, INK, SOFT_INK


def paint_ball(painter: QPainter, ball: QRectF, limit: float, edge_px: float) -> None:
    """Paint a ball that fills the box; `limit` is the ring's radius over the ball's."""
    half, middle = ball.height() / 2.0, ball.center()
    painter.setPen(QPen(QColor(INK), edge_px))
    painter.setBrush(QColor(CHALK))
    painter.drawEllipse(ball)
    painter.setPen(QPen(QColor(SOFT_INK), 1.0))
    for across in (QPointF(half, 0.0), QPointF(0.0, half)):
        painter.drawLine(middle - across, middle + across)
    dashed = QPen(QColor(SOFT_INK), 1.2)
    dashed.setDashPattern([3.0, 3.0])
    painter.setPen(dashed)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(middle, half * limit, half * limit)
