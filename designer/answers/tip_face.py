"""The cue ball as the player sees it over the cue: click or drag where the tip strikes.

Only the height is chosen: plain top, centre or screw, without side. A rule beside the ball reads
millimetres from the centre; the dashed line marks how far the tip may go before it miscues.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from designer.texts import tr
from designer.widgets.struck_ball import paint_ball

#: Width of a snooker tip (common practice, no source).
TIP_MM = 9.5
#: A step of the arrow keys and of Page Up and Page Down.
STEP_MM, LONG_STEP_MM = 0.5, 2.5
TIP_BLUE = "#1f6fb2"


class TipFace(QWidget):
    """A ball face; `moved` tells the tip height over the radius, `let_go` the end of a drag."""

    moved = Signal(float)
    let_go = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._radius_mm, self._limit, self._height = 26.25, 0.5, 0.0
        self._found = False
        self.setObjectName("tip-face")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Maximum)
        self.setAccessibleName(tr("Tip height on the cue ball"))

    @property
    def tip_height(self) -> float:
        """The height shown, over the radius."""
        return self._height

    def sizeHint(self) -> QSize:
        """Room for the ball and the rule beside it."""
        return QSize(136, 92)

    def minimumSizeHint(self) -> QSize:
        """The least on which a tip can be placed."""
        return QSize(124, 84)

    def show_tip(self, height: float, limit: float, radius_mm: float, *, found: bool) -> None:
        """Show a tip height; `found` marks one that the engine worked out (stun)."""
        self._height, self._limit, self._radius_mm, self._found = height, limit, radius_mm, found
        self.setAccessibleDescription(tr("{height:+.1f} mm from centre", height=height * radius_mm))
        self.update()

    def place_of(self, height: float) -> QPointF:
        """Where on the widget a tip height lies, on the upright line through the centre."""
        ball = self._ball()
        return ball.center() - QPointF(0.0, height * ball.height() / 2)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Strike there."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._move_to(event.position().y())

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer."""
        if event.buttons() & Qt.MouseButton.LeftButton:
            self._move_to(event.position().y())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """The drag is over."""
        self.let_go.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Arrow keys by half a millimetre, Page keys by five times that, Home for the centre."""
        steps = {
            Qt.Key.Key_Up: STEP_MM,
            Qt.Key.Key_Down: -STEP_MM,
            Qt.Key.Key_PageUp: LONG_STEP_MM,
            Qt.Key.Key_PageDown: -LONG_STEP_MM,
        }
        if event.key() in steps:
            self._set(self._height + steps[Qt.Key(event.key())] / self._radius_mm)
        elif event.key() == Qt.Key.Key_Home:
            self._set(0.0)
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """A run of key steps is over."""
        if not event.isAutoRepeat():
            self.let_go.emit()
        super().keyReleaseEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Ball, limit, rule, tip."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if not self.isEnabled():
            painter.setOpacity(0.35)
        ball = self._ball()
        paint_ball(painter, ball, self._limit, 2.0 if not self.hasFocus() else 3.2)
        self._paint_rule(painter, ball)
        self._paint_tip(painter, ball)
        painter.end()

    def _paint_rule(self, painter: QPainter, ball: QRectF) -> None:
        x = ball.right() + 10.0
        scale = ball.height() / 2 / self._radius_mm
        reach = int(self._limit * self._radius_mm)
        painter.setPen(QPen(self.palette().windowText().color(), 1.0))
        for mm in range(-reach, reach + 1):
            y = ball.center().y() - mm * scale
            long = mm % 5 == 0
            painter.drawLine(QPointF(x, y), QPointF(x + (8.0 if long else 4.0), y))
            if mm % 10 == 0:
                box = QRectF(x + 10.0, y - 9.0, 40.0, 18.0)
                flags = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
                painter.drawText(box, flags, str(abs(mm)))

    def _paint_tip(self, painter: QPainter, ball: QRectF) -> None:
        place = self.place_of(self._height)
        reach = TIP_MM / 2 / self._radius_mm * ball.height() / 2
        blue = QColor(TIP_BLUE)
        painter.setPen(QPen(blue, 2.0))
        fill = QColor(blue)
        fill.setAlphaF(0.25 if self._found else 0.75)
        painter.setBrush(fill)
        painter.drawEllipse(place, reach, reach)
        painter.drawLine(
            QPointF(ball.right() + 2.0, place.y()), QPointF(ball.right() + 18.0, place.y())
        )

    def _ball(self) -> QRectF:
        side = min(self.height() - 8.0, self.width() - 48.0)
        return QRectF(5.0, (self.height() - side) / 2, side, side)

    def _move_to(self, y: float) -> None:
        ball = self._ball()
        self._set((ball.center().y() - y) / (ball.height() / 2))

    def _set(self, height: float) -> None:
        height = min(max(height, -self._limit), self._limit)
        # To a tenth of a millimetre, but the very limit stays the limit.
        if abs(abs(height) - self._limit) > 1e-9:
            height = round(height * self._radius_mm, 1) / self._radius_mm
        self._height, self._found = height, False
        self.update()
        self.moved.emit(height)
