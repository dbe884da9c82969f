"""A replay on the table: balls that turn as they roll, and the right angle at the contact."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QTransform

from designer.drawing import roles
from designer.drawing.dark import on_dark
from designer.drawing.look import INK, PAPER, POINTER, SOFT_INK
from designer.painters.ball_face import paint_face
from engine.balls import Ball

if TYPE_CHECKING:
    # It loads the shot engine, which the first painted window must not wait for.
    from designer.open_routine.replay import Replay

#: What of the drawing gives way to the moving balls.
LEFT_OUT = frozenset({roles.BALL, roles.BALL_LETTER, roles.MEASURE, roles.CHECK})
#: The right angle stays this long after the contact, s of the shot.
ANGLE_STAYS_S = 0.5
#: Length of the sides of the right-angle sign, px.
SIGN_PX = 16.0


def paint_replay(
    painter: QPainter,
    replay: Replay,
    t_s: float,
    matrix: QTransform,
    font: QFont | None,
    dark: bool = False,
) -> None:
    """Where the balls came from, the right angle near its instant, and the balls as they are.

    Without a font the right angle is not named.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    radius_of = replay.conditions.radius_of
    for ball in replay.routine.balls:
        _paint_start(painter, ball, radius_of(ball), matrix, dark)
    contact = replay.contact_s
    if contact is not None and contact - 1e-6 <= t_s <= contact + ANGLE_STAYS_S:
        paint_right_angle(painter, replay, matrix, font, dark)
    for ball in replay.routine.balls:
        place = replay.place(ball, t_s)
        if place is not None:
            at = matrix.map(QPointF(*place))
            scale = abs(matrix.m11()) or abs(matrix.m12())
            paint_face(
                painter, ball, at, radius_of(ball) * scale, replay.turned(ball.id, t_s), matrix,
                _toned(INK, dark),
            )  # fmt: skip
    painter.restore()


def paint_right_angle(
    painter: QPainter, replay: Replay, matrix: QTransform, font: QFont | None, dark: bool = False
) -> None:
    """At the contact: the line of centres, the 90-degree line, and the right angle between."""
    contact, pot = replay.lane.contact, replay.pot
    if contact is None:
        return
    at = QPointF(*contact.at_mm)
    centres = math.radians(contact.centres_deg)
    along = QPointF(math.cos(centres), math.sin(centres))
    if pot is not None:
        end = QPointF(*pot.ninety_line_mm[1])
        side = 1.0 if along.x() * (end - at).y() - along.y() * (end - at).x() >= 0.0 else -1.0
        far = math.hypot(end.x() - at.x(), end.y() - at.y())
    else:
        side, far = 1.0, 600.0
    across = QPointF(-along.y(), along.x()) * side
    reach = replay.conditions.cue_radius_mm * 7.0
    here = matrix.map(at)
    ninety = matrix.map(at + across * max(far, reach))
    for colour, width in ((PAPER, 5.0), (POINTER, 2.2)):
        painter.setPen(QPen(QColor(_toned(colour, dark)), width))
        painter.drawLine(here, ninety)
        painter.drawLine(matrix.map(at - along * reach * 0.5), matrix.map(at + along * reach))
    scale = abs(matrix.m11()) or abs(matrix.m12())
    leg = max(SIGN_PX / scale, replay.conditions.cue_radius_mm * 1.35)
    corner = [at + along * leg, at + along * leg + across * leg, at + across * leg]
    sign = QPainterPath(matrix.map(corner[0]))
    for point in corner[1:]:
        sign.lineTo(matrix.map(point))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    for colour, width in ((PAPER, 5.0), (INK, 2.0)):
        painter.setPen(QPen(QColor(_toned(colour, dark)), width))
        painter.drawPath(sign)
    if font is not None:
        _label(painter, "90°", matrix.map(at + (along + across) * (leg * 2.3)), font, dark)


def _paint_start(
    painter: QPainter, ball: Ball, radius_mm: float, matrix: QTransform, dark: bool
) -> None:
    """A thin dashed ring where a ball was set up."""
    scale = abs(matrix.m11()) or abs(matrix.m12())
    painter.setBrush(Qt.BrushStyle.NoBrush)
    pen = QPen(QColor(_toned(SOFT_INK, dark)), 1.1)
    pen.setDashPattern([2.5, 2.5])
    painter.setPen(pen)
    painter.drawEllipse(matrix.map(QPointF(*ball.centre_mm)), radius_mm * scale, radius_mm * scale)


def _label(painter: QPainter, text: str, at: QPointF, font: QFont, dark: bool) -> None:
    bold = QFont(font)
    bold.setBold(True)
    metrics = QFontMetricsF(bold)
    box = metrics.boundingRect(text).adjusted(-4.0, -2.0, 4.0, 2.0)
    box.moveCenter(at)
    painter.setPen(QPen(QColor(_toned(INK, dark)), 1.0))
    painter.setBrush(QColor(_toned(PAPER, dark)))
    painter.drawRoundedRect(box, 3.0, 3.0)
    painter.setFont(bold)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def _toned(colour: str, dark: bool) -> str:
    return on_dark(colour) if dark else colour
