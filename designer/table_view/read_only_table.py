"""The table to be looked at and not touched: for the lesson, with layers of its own.

It shows the whole table or a part of it, rings the pocket of the shot on show, and draws the ways
that have been played. Letters are as large as the lesson asks, whatever the part.
"""

from __future__ import annotations

import math

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QFont, QPainter, QPaintEvent, QPalette, QPen, QTransform
from PySide6.QtWidgets import QSizePolicy, QWidget

from designer.drawing.build import set_up_in_words
from designer.drawing.layers import Layers
from designer.drawing.look import LANE_PATTERNS
from designer.drawing.model import Bounds
from designer.open_routine import OpenRoutine
from designer.table_view.frame import Frame
from designer.table_view.replaying import LEFT_OUT, paint_replay
from designer.table_view.table_picture import TablePicture
from designer.table_view.trails import Trail, paint_name, paint_trail
from designer.texts import tr
from designer.widgets.tones import is_dark, on_screen

#: The ring round the pocket: its colour, and its radius over that of the fall.
RING, RING_REACH = LANE_PATTERNS[1].colour, 1.6


class ReadOnlyTable(QWidget):
    """Paints the shot on show, and its replay when one is open."""

    def __init__(self, session: OpenRoutine, layers: Layers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._scenery, self._frame = TablePicture(session, layers), Frame(0.0)
        #: The part of the table to show, mm; None for all of it.
        self.part: Bounds | None = None
        #: What was played before, and what is being played, drawn up to the time on show.
        self._trails: tuple[Trail, ...] = ()
        self._running: Trail | None = None
        self.letters = QFont(self.font())
        self.setAccessibleName(tr("Table"))
        self.setAccessibleDescription(set_up_in_words(session.routine, session.view.unit))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        for signal in (session.changed, session.answered, session.pointed, session.player.moved):
            signal.connect(self.update)

    def show_layers(self, layers: Layers) -> None:
        """Show these parts of the drawing from now on."""
        self._scenery.layers = layers
        self.update()

    @property
    def layers(self) -> Layers:
        """The parts of the drawing on show."""
        return self._scenery.layers or Layers()

    def show_part(self, part: Bounds | None, letters: QFont) -> None:
        """Show a part of the table, or with None all of it, with letters of that size."""
        self.part, self.letters = part, letters
        self.update()

    def show_trails(self, trails: tuple[Trail, ...], running: Trail | None) -> None:
        """Show ways that were played, and the one being played as far as it has got."""
        self._trails, self._running = trails, running
        self.update()

    def sizeHint(self) -> QSize:
        """A whole screen, if it can be had."""
        return QSize(1200, 640)

    def transform(self) -> QTransform:
        """From table millimetres to the pixels of this widget."""
        self._frame.resize(self.width(), self.height())
        view = self._session.view
        self._frame.show(self.part or self._scenery.bounds(), view.turned, view.far)
        return self._frame.transform()

    def paintEvent(self, event: QPaintEvent) -> None:
        """The drawing, the ways played, and the balls of the replay over them."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        area, matrix = QRectF(self.rect()), self.transform()
        player = self._session.player
        replay = player.replay
        ground = self.palette().color(QPalette.ColorRole.Window)
        left_out = LEFT_OUT if replay is not None else frozenset()
        self._scenery.dark = is_dark()
        self._scenery.text_px, self._scenery.part = float(self.letters.pixelSize()), self.part
        done = (*self._trails, *self._running_now())

        def ways() -> None:
            self._paint_ring(painter, matrix)
            for trail in done:
                paint_trail(painter, trail, matrix, self.letters)

        ratio = self.devicePixelRatioF()
        self._scenery.paint(painter, area, matrix, ratio, ground, left_out, beneath=ways)
        if replay is not None:
            paint_replay(painter, replay, player.time_s, matrix, None, is_dark())
        balls = self._balls_now(matrix)
        for trail in self._trails:
            balls.append(paint_name(painter, trail, matrix, area, self.letters, balls))
        painter.end()

    def _balls_now(self, matrix: QTransform) -> list[QPointF]:
        """Where the balls are on the screen, as the replay has them or as they are set up."""
        player = self._session.player
        places = [
            ball.centre_mm if player.replay is None else player.replay.place(ball, player.time_s)
            for ball in self._session.routine.balls
        ]
        return [matrix.map(QPointF(*place)) for place in places if place is not None]

    def _running_now(self) -> tuple[Trail, ...]:
        """What has been done so far of the lane that is being played."""
        if self._running is None or self._session.player.replay is None:
            return ()
        return (self._running.until(self._session.player.time_s),)

    def _paint_ring(self, painter: QPainter, matrix: QTransform) -> None:
        shot = self._session.shot
        pocket = next(
            (p for p in self._session.table.pockets if shot is not None and p.id == shot.pocket),
            None,
        )
        if pocket is None:
            return
        scale = math.hypot(matrix.m11(), matrix.m12())
        radius = pocket.fall_radius_mm * RING_REACH * scale
        painter.setBrush(Qt.BrushStyle.NoBrush)
        pen = QPen(on_screen(RING), max(radius * 0.1, 3.0))
        painter.setPen(pen)
        painter.drawEllipse(matrix.map(QPointF(*pocket.fall_mm)), radius, radius)
