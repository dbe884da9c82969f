"""The canvas: a plain widget that paints the drawing and hands pointer and keys on."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QDragEnterEvent,
    QDropEvent,
    QFocusEvent,
    QFont,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QPaintEvent,
    QPalette,
    QResizeEvent,
    QTransform,
    QWheelEvent,
)
from PySide6.QtWidgets import QGestureEvent, QPinchGesture, QSizePolicy, QWidget

from designer.drawing.build import set_up_in_words
from designer.drawing.cloth_marks import CROSS_MM
from designer.open_routine import OpenRoutine
from designer.table_view import pointer_marks as overlay
from designer.table_view.frame import STEP, Frame
from designer.table_view.menu import menu_for
from designer.table_view.pointer_input import PointerInput, zoom_factor
from designer.table_view.replaying import LEFT_OUT, paint_replay
from designer.table_view.table_picture import TablePicture
from designer.texts import tr
from designer.widgets.badges import BALL_MIME
from designer.widgets.tones import is_dark
from designer.words.names import KIND_NAMES
from engine.balls import Ball
from engine.errors import BaizewrightError
from engine.placement import mark_placements, placements
from engine.routine.values import ClothMark

LINGER_MS = 4_000
REST_MS = 60


class TableCanvas(QWidget):
    """The table to scale. Drag a ball, nudge it by arrow keys; wheel, + and − zoom."""

    #: Drawing a gap has begun or ended.
    drawing_changed = Signal()

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.frame = Frame()
        self.hands = PointerInput(session, self.frame)
        self._scenery = TablePicture(session)
        #: Which way round the table was last fitted into the canvas.
        self._fitted: tuple[bool, bool] | None = None
        # A reading stays for a while after its ball was let go or nudged.
        self._linger = QTimer(self)
        self._linger.setSingleShot(True)
        self._linger.setInterval(LINGER_MS)
        self._linger.timeout.connect(self.update)
        # What is found beside a drag is shown with the hand's next frame, or when it rests.
        self._rest = QTimer(self)
        self._rest.setSingleShot(True)
        self._rest.setInterval(REST_MS)
        self._rest.timeout.connect(self.update)
        self.setObjectName("table")
        self.setAccessibleName(tr("Table"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAcceptDrops(True)
        self.grabGesture(Qt.GestureType.PinchGesture)
        self.setMinimumSize(260, 150)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        session.changed.connect(self._on_changed)
        session.answered.connect(self.update)
        session.reach.mapped.connect(self._on_mapped)
        session.pointed.connect(self.update)
        session.view_changed.connect(self.update)
        session.player.moved.connect(self.update)
        self._describe()

    def sizeHint(self) -> QSize:
        """As large as the window has room for."""
        return QSize(1000, 560)

    # Zoom, for the window's menu -------------------------------------------------------------

    def zoom_in(self) -> None:
        """Zoom in on the selected ball, or on the middle."""
        self.zoom(STEP)

    def zoom_out(self) -> None:
        """Zoom out."""
        self.zoom(1 / STEP)

    def zoom(self, factor: float, at_px: QPointF | None = None) -> None:
        """Zoom by a factor about a point of the canvas (about the selected ball by default)."""
        ball = self._session.ball
        if at_px is None:
            at_px = QRectF(self.rect()).center()
            if ball is not None:
                at_px = self.frame.transform().map(QPointF(*ball.centre_mm))
        self.frame.zoom_at(at_px, factor)
        self.update()

    def show_all(self) -> None:
        """Show the whole table."""
        self.frame.fit()
        self.update()

    def draw_gap(self, on: bool = True) -> None:
        """Have the next drag from edge to edge make a gap, or no longer."""
        self._session.player.close()
        self.hands.pen.on = on
        if on:
            self._session.messages.note(
                tr("Draw the gap: drag from one ball to another, or to a cushion."),
                tr("Dragging along a cushion marks a stretch of it. Escape ends."),
            )
            self.setFocus()
        self.setCursor(Qt.CursorShape.CrossCursor) if on else self.unsetCursor()
        self.drawing_changed.emit()

    def shape(self) -> float:
        """Width over height of what there is to show."""
        self._fit_frame()
        return self.frame.shape

    # Painting --------------------------------------------------------------------------------

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint table, drawing, and what is pointed at."""
        self._rest.stop()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.paint_on(painter)
        painter.end()

    def paint_on(self, painter: QPainter) -> None:
        """Paint everything on a painter whose device is as large as the canvas."""
        area = QRectF(self.rect())
        try:
            self._fit_frame()
            matrix = self.frame.transform()
            ground = self.palette().color(QPalette.ColorRole.Window)
            self._scenery.dark = is_dark()
            ratio = painter.device().devicePixelRatioF()
            replay = self._session.player.replay
            left_out = LEFT_OUT if replay is not None else frozenset()
            moving = self.hands.moving
            self._scenery.paint(painter, area, matrix, ratio, ground, left_out, moving)
        except BaizewrightError as error:
            painter.drawText(
                area, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, str(error)
            )
            return
        if replay is not None:
            time_s, font = self._session.player.time_s, QFont(self.font())
            paint_replay(painter, replay, time_s, matrix, font, is_dark())
            return
        radius_of, view = self._session.conditions.radius_of, self._session.view
        for locked in self._session.routine.balls:
            if locked.locked:
                overlay.paint_lock(painter, locked, radius_of(locked), matrix)
        for also in self._session.group.balls[1:]:
            overlay.paint_selected(painter, also, radius_of(also), matrix)
        self.hands.pen.paint(painter, matrix)
        if self.hands.band is not None:
            overlay.paint_band(painter, self.hands.band)
        ball = self._session.ball
        if self._session.mark is not None:
            self._paint_mark(painter, self._session.mark, matrix, area)
        if ball is None:
            return
        radius = radius_of(ball)
        overlay.paint_selected(painter, ball, radius, matrix)
        if self.hands.dragged or self._linger.isActive():
            placement = next(p for p in placements(self._session.routine) if p.ball == ball.id)
            font = QFont(self.font())
            others = [other for other in self._session.routine.balls if other.id != ball.id]
            standing = overlay.boxes_of(others, radius_of, matrix)
            overlay.paint_readings(
                painter, ball, placement, radius, matrix, view.unit, font, area, standing
            )
            overlay.paint_selected(painter, ball, radius, matrix)
            words = self.hands.holding.words() or (self.hands.snap.words if self.hands.snap else "")
            if self.hands.dragged and words:
                overlay.paint_words(painter, words, ball, radius, matrix, font, area)

    def _paint_mark(
        self, painter: QPainter, mark: ClothMark, matrix: QTransform, area: QRectF
    ) -> None:
        """A ring round each end of the selected mark; its readings while it is being moved."""
        reach = max(CROSS_MM, 9.0 / self.frame.px_per_mm)
        ends = [Ball(mark.id, "plain", x, y) for x, y in mark.places_mm]
        if self.hands.marks.dragged or self._linger.isActive():
            found = [one for one in mark_placements(self._session.routine) if one.mark == mark.id]
            unit, font = self._session.view.unit, QFont(self.font())
            for end, one in zip(ends, found, strict=True):
                overlay.paint_readings(painter, end, one, reach, matrix, unit, font, area)
        for end in ends:
            overlay.paint_selected(painter, end, reach, matrix)

    def _fit_frame(self) -> None:
        self.frame.resize(self.width(), self.height())
        view = self._session.view
        if self.hands.moving and self._fitted == (view.turned, view.far):
            # Readings need more and less room as a ball or mark moves; the table stays in place.
            return
        self._fitted = (view.turned, view.far)
        self.frame.show(self._scenery.bounds(), view.turned, view.far)
        if self._session.view.layers.measurements:
            # How much room readings need depends on their size, and that on the room.
            self._scenery.drawing(self.frame.px_per_mm)
            self.frame.show(self._scenery.bounds(), view.turned, view.far)

    # Pointer ---------------------------------------------------------------------------------

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take a ball or the table; taking hold of a ball ends a replay."""
        if self.hands.ball_at(event.position()):
            self._session.player.close()
        self._linger.stop()
        self.hands.press(event)
        self._show_cursor(event.position())
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag what was taken."""
        if self.hands.move(event):
            self.update()
        self._show_cursor(event.position())

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if self.hands.moving:
            self._linger.start()
        self.hands.release(event.position())
        self._describe()
        self._show_cursor(event.position())
        self.update()
        self.drawing_changed.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Choose the object ball or the pocket."""
        ball_id, pocket_id = (
            self.hands.ball_at(event.position()),
            self.hands.pocket_at(event.position()),
        )
        cue = self._session.routine.cue_ball
        if ball_id and (cue is None or ball_id != cue.id):
            self._session.shots.set_object_ball(ball_id)
        elif pocket_id and not ball_id:
            self._session.shots.set_pocket(pocket_id)
        else:
            self.hands.press(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take a ball from the tray; files are the window's."""
        if event.mimeData().hasFormat(BALL_MIME):
            event.acceptProposedAction()
        else:
            event.ignore()

    def dropEvent(self, event: QDropEvent) -> None:
        """Put the ball down where it is let go, or as near as it fits."""
        kind = bytes(event.mimeData().data(BALL_MIME).data()).decode("utf-8", "replace")
        if kind in KIND_NAMES:
            event.acceptProposedAction()
            self._session.balls.add(kind, self.frame.to_table(event.position()))
            self.setFocus()

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Offer what can be done with what lies there (or with the selected ball, by key)."""
        by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        at = QPointF(event.pos())
        ball = self._session.ball
        if by_key and ball is not None:
            at = self.frame.transform().map(QPointF(*ball.centre_mm))
        elif by_key and self._session.mark is not None:
            at = self.frame.transform().map(QPointF(*self._session.mark.places_mm[0]))
        ball_id = self.hands.ball_at(at)
        mark_id = "" if ball_id else self.hands.marks.mark_at(at)
        if mark_id:
            self._session.point_at_mark(mark_id)
        elif ball_id not in self._session.chosen or self._session.mark is not None:
            self._session.point_at_ball(ball_id)
        place = self.frame.to_table(at)
        menu = menu_for(self, self._session, ball_id, self.hands.pocket_at(at), place, mark_id)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        menu.popup(self.mapToGlobal(at.toPoint()))

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Zoom about the pointer."""
        self.zoom(zoom_factor(event.angleDelta().y() / 120.0), event.position())
        event.accept()

    def event(self, event: QEvent) -> bool:
        """Zoom by pinching, on a touch pad (a native gesture) or on a touch screen."""
        if (
            isinstance(event, QNativeGestureEvent)
            and event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom(1.0 + event.value(), event.position())
            event.accept()
            return True
        if isinstance(event, QGestureEvent):
            pinch = event.gesture(Qt.GestureType.PinchGesture)
            if isinstance(pinch, QPinchGesture):
                self.zoom(pinch.scaleFactor(), self._middle_of(pinch))
                event.accept(pinch)
                return True
        return super().event(event)

    def _middle_of(self, pinch: QPinchGesture) -> QPointF:
        """Where the two fingers' middle lies on the canvas."""
        at = pinch.hotSpot() if pinch.hasHotSpot() else pinch.centerPoint()
        return QPointF(self.mapFromGlobal(at.toPoint()))

    def focusNextPrevChild(self, onward: bool) -> bool:
        """Tab goes through the balls first, then on to the next part of the window."""
        if self.hands.next_ball(1 if onward else -1):
            return True
        return super().focusNextPrevChild(onward)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Nudge, zoom, or play."""
        player = self._session.player
        if event.key() == Qt.Key.Key_Escape and player.is_open:
            player.close()
        elif event.key() == Qt.Key.Key_Space:
            player.toggle()
        elif event.key() in (Qt.Key.Key_Comma, Qt.Key.Key_Period) and player.is_open:
            player.step(1 if event.key() == Qt.Key.Key_Period else -1)
        elif self.hands.key(event):
            self._linger.start()
            self.update()
            self.drawing_changed.emit()
        elif event.key() == Qt.Key.Key_G and not event.modifiers():
            self.draw_gap(not self.hands.pen.on)
        elif event.key() in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom_in()
        elif event.key() == Qt.Key.Key_Minus:
            self.zoom_out()
        elif event.key() == Qt.Key.Key_0:
            self.show_all()
        else:
            super().keyPressEvent(event)

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """End a run of nudges."""
        if not event.isAutoRepeat() and not self.hands.dragged:
            self._session.balls.drop()
            self._session.marks.rest()
        super().keyReleaseEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """A ball in hand is let go when the window loses the keys."""
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.hands.release()
            self._describe()
        super().focusOutEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Keep the same part of the table in the middle."""
        self.frame.resize(self.width(), self.height())
        super().resizeEvent(event)

    def _show_cursor(self, at: QPointF) -> None:
        if self.hands.pen.on:
            self.setCursor(Qt.CursorShape.CrossCursor)
        elif self.hands.moving:
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
        elif self.hands.ball_at(at) or self.hands.marks.mark_at(at):
            self.setCursor(Qt.CursorShape.OpenHandCursor)
        elif self.hands.panning and self.frame.zoom > 1.0:
            self.setCursor(Qt.CursorShape.SizeAllCursor)
        else:
            self.unsetCursor()

    def _on_changed(self, change: object) -> None:
        if not self._session.in_hand:
            self._describe()
        self.update()

    def _on_mapped(self) -> None:
        if self._session.in_hand:
            self._rest.start()
        else:
            self.update()

    def _describe(self) -> None:
        self.setAccessibleDescription(
            set_up_in_words(self._session.routine, self._session.view.unit)
        )
