"""A ball from above that has turned: the marks on its upper half, foreshortened.

Shared by the table's replay and the large cue ball beside its controls.
"""

from __future__ import annotations

import math

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QTransform

from designer.drawing.look import BALL_INKS, INK
from engine.balls import Ball

#: Six marks on a ball, one on each end of three axes, and their reach over the radius.
MARKS = np.array([(0, 0, 1), (0, 0, -1), (1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, -1, 0)], dtype=float)
MARK_REACH = 0.30
#: Marks of the cue ball; other balls have theirs in the ink of their letters.
CUE_MARK = "#c2188f"


def paint_face(
    painter: QPainter,
    ball: Ball,
    at: QPointF,
    radius_px: float,
    turned: np.ndarray,
    matrix: QTransform,
    edge: str = INK,
) -> None:
    """A ball from above with the marks of its upper half, each foreshortened where it stands."""
    inks = BALL_INKS.get(ball.kind, BALL_INKS["plain"])
    painter.setPen(QPen(QColor(edge), max(radius_px * 0.1, 1.0)))
    painter.setBrush(QColor(inks.fill))
    painter.drawEllipse(at, radius_px, radius_px)
    face = QPainterPath()
    face.addEllipse(at, radius_px, radius_px)
    painter.save()
    painter.setClipPath(face)
    painter.setPen(Qt.PenStyle.NoPen)
    colour = QColor(CUE_MARK) if ball.is_cue else QColor(inks.ink)
    # Directions on the table as directions on the screen.
    zero = matrix.map(QPointF(0.0, 0.0))
    right = matrix.map(QPointF(1.0, 0.0)) - zero
    ahead = matrix.map(QPointF(0.0, 1.0)) - zero
    size = math.hypot(right.x(), right.y())
    for x, y, z in (turned @ MARKS.T).T:
        if z <= -0.05:
            continue
        offset = (right * float(x) + ahead * float(y)) * (radius_px / size)
        painter.save()
        painter.translate(at + offset)
        painter.rotate(math.degrees(math.atan2(offset.y(), offset.x())))
        reach = MARK_REACH * radius_px
        painter.setBrush(colour)
        painter.drawEllipse(QPointF(0.0, 0.0), reach * max(float(z), 0.12), reach)
        painter.restore()
    painter.restore()
