"""Hands on the table: balls dragged and nudged, the table zoomed and moved."""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, Qt, QTimer
from PySide6.QtGui import QKeyEvent, QMouseEvent

from designer.canvas.frame import STEP, Frame
from designer.session import Session

Point = tuple[float, float]

#: The pointer must move this far before a press becomes a drag.
START_PX = 3.0
#: How near the pointer must be to take a ball that is small on screen.
REACH_PX = 9.0
NUDGE_MM, LONG_NUDGE_MM = 1.0, 10.0

_ARROWS = {
    Qt.Key.Key_Left: (-1.0, 0.0),
    Qt.Key.Key_Right: (1.0, 0.0),
    Qt.Key.Key_Up: (0.0, 1.0),
    Qt.Key.Key_Down: (0.0, -1.0),
}


class Hands:
    """Turns the pointer's and the keys' moves into edits; `dragged` is the ball in hand.

    Moves of the pointer that come faster than they can be shown are taken together.
    """

    def __init__(self, session: Session, frame: Frame) -> None:
        self._session, self._frame = session, frame
        self.dragged = ""
        self._pressed_ball = ""
        self._pressed_at = QPointF()
        self._pan_from: QPointF | None = None
        self._grip: Point = (0.0, 0.0)
        self._from: Point = (0.0, 0.0)
        self._wanted: Point | None = None
        self._soon = QTimer(session)
        self._soon.setSingleShot(True)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self.catch_up)

    @property
    def panning(self) -> bool:
        """Whether the table is being moved."""
        return self._pan_from is not None

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

    def press(self, event: QMouseEvent) -> None:
        """Take what lies under the pointer: a ball, or else the table."""
        at = event.position()
        if event.button() == Qt.MouseButton.MiddleButton:
            self._pan_from = at
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        ball_id = self.ball_at(at)
        self._session.point_at_ball(ball_id)
        if not ball_id:
            self._pan_from = at
            return
        ball = self._session.routine.ball(ball_id)
        x, y = self._frame.to_table(at)
        self._pressed_ball, self._pressed_at = ball_id, at
        self._grip = (ball.x_mm - x, ball.y_mm - y)
        self._from = ball.centre_mm

    def move(self, event: QMouseEvent) -> bool:
        """Follow the pointer; True when what is shown of the table moved."""
        at = event.position()
        if self._pan_from is not None:
            self._frame.pan(at - self._pan_from)
            self._pan_from = at
            return True
        if not self._pressed_ball:
            return False
        away = at - self._pressed_at
        if not self.dragged and math.hypot(away.x(), away.y()) < START_PX:
            return False
        if not self.dragged and not self._start_drag():
            return False
        x, y = self._frame.to_table(at)
        self._wanted = (x + self._grip[0], y + self._grip[1])
        if not self._soon.isActive():
            self._soon.start()
        return False

    def release(self) -> None:
        """Let go: the drag becomes one step."""
        self.catch_up()
        if self.dragged:
            self._session.balls.drop()
        self.dragged = self._pressed_ball = ""
        self._pan_from = None

    def give_up(self) -> bool:
        """Put the ball in hand back where it was; True if there was one."""
        if not self.dragged:
            return False
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
            self.dragged = self._pressed_ball = ""
            return
        self._session.balls.drag(self.dragged, wanted)

    def key(self, event: QKeyEvent) -> bool:
        """Nudge the selected ball, or zoom; True when the key meant something here."""
        if event.key() == Qt.Key.Key_Escape:
            return self.give_up()
        if event.key() in _ARROWS and self._session.ball is not None:
            shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            length = LONG_NUDGE_MM if shift else NUDGE_MM
            dx, dy = self._frame.step_mm(*_ARROWS[Qt.Key(event.key())])
            self._session.balls.nudge(self._session.selected_ball, dx * length, dy * length)
            return True
        return False

    def next_ball(self, step: int) -> bool:
        """Select the next ball (or the one before); False past the last one."""
        ids = [ball.id for ball in self._session.routine.balls]
        here = ids.index(self._session.selected_ball) if self._session.ball is not None else None
        index = (0 if step > 0 else len(ids) - 1) if here is None else here + step
        if not 0 <= index < len(ids):
            return False
        self._session.point_at_ball(ids[index])
        return True

    def _start_drag(self) -> bool:
        ball = self._session.routine.ball(self._pressed_ball)
        if ball.locked:
            self._session.balls.say_locked(ball)
            self._pressed_ball = ""
            return False
        self._session.balls.drop()
        self.dragged = self._pressed_ball
        return True


def zoom_factor(steps: float) -> float:
    """How much a number of wheel steps zooms."""
    return STEP**steps
