"""Hands on the table: balls dragged and nudged, chosen by a band, gaps drawn, the table moved."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent

from designer.open_routine import OpenRoutine
from designer.open_routine.snapping import Snap, snapped
from designer.table_view.frame import STEP, Frame
from designer.table_view.gap_pen import GapPen
from designer.table_view.holding import Holding
from designer.table_view.mark_hand import MarkHand
from designer.words.names import ball_name

Point = tuple[float, float]

#: The pointer must move this far before a press becomes a drag.
START_PX = 3.0
#: How near the pointer must be to take a ball that is small on screen.
REACH_PX = 9.0
#: A ball in hand is drawn to a place this near on screen, but never farther than this in mm.
SNAP_PX, MOST_SNAP_MM = 7.0, 30.0
NUDGE_MM, LONG_NUDGE_MM = 1.0, 10.0
#: Held down while dragging, this key keeps the ball from being drawn to anything.
FREE_KEY = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier

#: Backspace is the key so named on keyboards that have no other.
DELETE_KEYS = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)
KEYPAD = Qt.KeyboardModifier.KeypadModifier

_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class PointerInput:
    """Turns the pointer's and the keys' moves into edits; `dragged` is the ball in hand.

    Moves of the pointer that come faster than they can be shown are taken together. `snap` is
    what the ball in hand is drawn to, `holding` the distances typed for it, `band` the stretch
    of the canvas in which balls are being chosen.
    """

    def __init__(self, session: OpenRoutine, frame: Frame) -> None:
        self._session, self._frame = session, frame
        self.dragged = ""
        self.snap: Snap | None = None
        self.holding = Holding()
        self.band: QRectF | None = None
        self.pen = GapPen(session)
        self.marks = MarkHand(session, frame)
        self._group: dict[str, Point] = {}
        self._pressed_ball = ""
        self._pressed_at = QPointF()
        self._pan_from: QPointF | None = None
        self._band_from: QPointF | None = None
        self._grip: Point = (0.0, 0.0)
        self._from: Point = (0.0, 0.0)
        self._wanted: Point | None = None
        self._last: Point | None = None
        self._free = False
        self._drags = 0
        self._soon = QTimer(session)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self.catch_up)

    @property
    def panning(self) -> bool:
        """Whether the table is being moved."""
        return self._pan_from is not None

    @property
    def moving(self) -> bool:
        """Whether a ball or a mark is in hand."""
        return bool(self.dragged) or self.marks.dragged

    def ball_at(self, at_px: QPointF) -> str:
        """The ball under a point of the canvas, "" if none."""
        x, y = self._frame.to_table(at_px)
        reach = max(self._session.radius_mm, REACH_PX / self._frame.px_per_mm)
        near = [
            (math.hypot(ball.x_mm - x, ball.y_mm - y), ball.id)
            for ball in self._session.routine.balls
        ]
        distance, ball_id = min(near, default=(math.inf, ""))
        return ball_id if distance <= reach else ""

    def pocket_at(self, at_px: QPointF) -> str:
        """The pocket under a point of the canvas, "" if none."""
        place = self._frame.to_table(at_px)
        for pocket in self._session.table.pockets:
            reach = max(pocket.fall_radius_mm * 1.3, 14.0 / self._frame.px_per_mm)
            if min(math.dist(place, pocket.fall_mm), math.dist(place, pocket.throat_mm)) <= reach:
                return pocket.id
        return ""

    # The pointer -----------------------------------------------------------------------------

    def press(self, event: QMouseEvent) -> None:
        """Take what lies under the pointer: a ball, or else a band or the table."""
        at = event.position()
        if event.button() == Qt.MouseButton.MiddleButton:
            self._pan_from = at
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        ball_id = self.ball_at(at)
        shift = bool(event.modifiers() & SHIFT)
        if self.pen.on:
            self.pen.press(ball_id, self._frame.to_table(at), self._frame.px_per_mm)
        elif not ball_id and self.marks.press(at):
            return
        elif not ball_id:
            self._press_cloth(at, shift)
        elif shift:
            self._session.toggle_ball(ball_id)
        else:
            self._press_ball(ball_id, at)

    def _press_cloth(self, at: QPointF, shift: bool) -> None:
        if shift or self._frame.zoom == 1.0:
            self._band_from = at
        else:
            self._pan_from = at
        if not shift:
            self._session.point_at_ball("")

    def _press_ball(self, ball_id: str, at: QPointF) -> None:
        # A press on one of several chosen balls keeps them all in hand.
        if ball_id not in self._session.chosen:
            self._session.point_at_ball(ball_id)
        ball = self._session.routine.ball(ball_id)
        x, y = self._frame.to_table(at)
        self._pressed_ball, self._pressed_at = ball_id, at
        self._grip = (ball.x_mm - x, ball.y_mm - y)
        self._from = ball.centre_mm

    def move(self, event: QMouseEvent) -> bool:
        """Follow the pointer; True when what is shown must be painted anew."""
        at = event.position()
        if self._pan_from is not None:
            self._frame.pan(at - self._pan_from)
            self._pan_from = at
            return True
        if self._band_from is not None:
            self.band = QRectF(self._band_from, at).normalized()
            return True
        if self.pen.start is not None:
            self.pen.at_mm = self._frame.to_table(at)
            return True
        if self.marks.holding:
            self.marks.move(at)
            return True
        if not self._pressed_ball:
            return False
        away = at - self._pressed_at
        if not self.dragged and math.hypot(away.x(), away.y()) < START_PX:
            return False
        if not self.dragged and not self._start_drag():
            return False
        x, y = self._frame.to_table(at)
        self._free = bool(event.modifiers() & FREE_KEY)
        self._wanted = (x + self._grip[0], y + self._grip[1])
        if not self._soon.isActive():
            self._soon.start()
        return False

    def release(self, at_px: QPointF | None = None) -> None:
        """Let go: a drag becomes one step, a band chooses its balls, a gap gets its other edge."""
        self.catch_up()
        self.marks.release()
        if self.dragged:
            self._session.balls.drop()
        elif self._pressed_ball and at_px is not None:
            # A click on one of several chosen balls chooses it alone.
            self._session.point_at_ball(self._pressed_ball)
        if self.band is not None:
            self._choose_in(self.band)
        if self.pen.start is not None and at_px is not None:
            place = self._frame.to_table(at_px)
            self.pen.release(self.ball_at(at_px), place, self._frame.px_per_mm)
        self.pen.start = None
        self._put_down()

    def give_up(self) -> bool:
        """Put the balls in hand back where they were, or end a band or drawing; True if any."""
        if self.marks.give_up():
            return True
        if self.pen.on or self.band is not None:
            self.pen.on, self.pen.start = False, None
            self._put_down()
            return True
        if not self.dragged:
            return False
        self.holding = Holding()
        self._free = True
        self._wanted = self._from
        self.release()
        return True

    def catch_up(self) -> None:
        """Move the ball in hand to where the pointer was last."""
        self._soon.stop()
        wanted, self._wanted = self._wanted, None
        if wanted is None or not self.dragged:
            return
        if not any(ball.id == self.dragged for ball in self._session.routine.balls):
            self._put_down()
            return
        self._last = wanted
        self._carry(wanted)

    def _carry(self, wanted: Point) -> None:
        session = self._session
        wanted = self._drawn_to(wanted)
        if len(self._group) > 1:
            by = (wanted[0] - self._from[0], wanted[1] - self._from[1])
            session.group.drag(self._group, by, str(self._drags))
        else:
            session.balls.drag(self.dragged, wanted)

    def _drawn_to(self, wanted: Point) -> Point:
        """The wanted place held to what was typed, or drawn to what is near."""
        session, self.snap = self._session, None
        if not self.holding.is_empty:
            return self.holding.place(wanted, session.table)
        if self._free or len(self._group) > 1:
            return wanted
        routine = session.routine
        names = {ball.id: ball_name(routine, ball.id) for ball in routine.balls}
        reach = min(SNAP_PX / self._frame.px_per_mm, MOST_SNAP_MM)
        radius = session.radius_of(routine.ball(self.dragged).kind)
        self.snap = snapped(routine, session.table, radius, self.dragged, wanted, reach, names)
        return self.snap.place_mm if self.snap is not None else wanted

    # Keys ------------------------------------------------------------------------------------

    def key(self, event: QKeyEvent) -> bool:
        """Type a distance, nudge or remove what is chosen; True when the key meant something."""
        if event.key() == Qt.Key.Key_Escape:
            return self.give_up()
        if self.dragged and self._type(event):
            return True
        if event.key() in DELETE_KEYS and not event.modifiers() & ~KEYPAD:
            # What is in hand is not thrown away.
            return not self.moving and self._session.group.remove()
        pointed = self._session.ball is not None or self._session.mark is not None
        if event.key() in _ARROWS and pointed:
            shift = bool(event.modifiers() & SHIFT)
            length = LONG_NUDGE_MM if shift else NUDGE_MM
            dx, dy = self._frame.step_mm(*_ARROWS[Qt.Key(event.key())])
            if self._session.mark is not None:
                self._session.marks.nudge(self._session.selected_mark, dx * length, dy * length)
            elif len(self._session.chosen) > 1:
                self._session.group.nudge(dx * length, dy * length)
            else:
                self._session.balls.nudge(self._session.selected_ball, dx * length, dy * length)
            return True
        return False

    def _type(self, event: QKeyEvent) -> bool:
        """A figure, point or Backspace for the ball in hand; Return goes on to the other axis."""
        ball, table = self._session.routine.ball(self.dragged), self._session.table
        wanted = self._wanted or self._last or ball.centre_mm
        text = event.text()
        if text and text in "0123456789.,":
            self.holding.unit = self._session.view.unit
            self.holding.type(text, self._from, wanted, table)
        elif event.key() == Qt.Key.Key_Backspace:
            self.holding.take_back()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not self.holding.is_empty:
            self.holding.next_axis(wanted, table)
        else:
            return False
        self._carry(wanted)
        return True

    def next_ball(self, step: int) -> bool:
        """Select the next ball, or mark, or the one before; False past the last one."""
        session, routine = self._session, self._session.routine
        balls = [ball.id for ball in routine.balls]
        marks = [mark.id for mark in routine.cloth_marks]
        here: int | None = None
        if session.ball is not None:
            here = balls.index(session.selected_ball)
        elif session.mark is not None:
            here = len(balls) + marks.index(session.selected_mark)
        last = len(balls) + len(marks) - 1
        index = (0 if step > 0 else last) if here is None else here + step
        if not 0 <= index <= last:
            return False
        if index < len(balls):
            session.point_at_ball(balls[index])
        else:
            session.point_at_mark(marks[index - len(balls)])
        return True

    # Within ----------------------------------------------------------------------------------

    def _start_drag(self) -> bool:
        ball = self._session.routine.ball(self._pressed_ball)
        if ball.locked:
            self._session.balls.say_locked(ball)
            self._pressed_ball = ""
            return False
        self._session.balls.drop()
        self._drags += 1
        self.dragged = self._pressed_ball
        self._session.in_hand = True
        self.holding = Holding()
        several = len(self._session.chosen) > 1
        self._group = self._session.group.places() if several else {}
        return True

    def _choose_in(self, band: QRectF) -> None:
        matrix = self._frame.transform()
        inside = [
            ball.id
            for ball in self._session.routine.balls
            if band.contains(matrix.map(QPointF(*ball.centre_mm)))
        ]
        kept = [one for one in self._session.chosen if one not in inside]
        if inside or kept:
            self._session.choose_balls([*inside, *kept])

    def _put_down(self) -> None:
        self.dragged = self._pressed_ball = ""
        self._session.in_hand = False
        self.snap, self.band = None, None
        self.holding = Holding()
        self._group = {}
        self._pan_from = self._band_from = None
        self._last = None


def zoom_factor(steps: float) -> float:
    """How much a number of wheel steps zooms."""
    return STEP**steps
