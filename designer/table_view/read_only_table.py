"""The table to be looked at and not touched: for the lesson, with layers of its own."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize
from PySide6.QtGui import QFont, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from designer.drawing.build import set_up_in_words
from designer.drawing.layers import Layers
from designer.open_routine import OpenRoutine
from designer.table_view.frame import Frame
from designer.table_view.replaying import LEFT_OUT, paint_replay
from designer.table_view.table_picture import TablePicture
from designer.texts import tr
from designer.widgets.tones import table_ground


class ReadOnlyTable(QWidget):
    """Paints the shot on show, and its replay when one is open."""

    def __init__(self, session: OpenRoutine, layers: Layers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._scenery, self._frame = TablePicture(session, layers), Frame()
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

    def sizeHint(self) -> QSize:
        """A whole screen, if it can be had."""
        return QSize(1200, 640)

    def paintEvent(self, event: QPaintEvent) -> None:
        """The drawing, and the balls of the replay over it."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        area = QRectF(self.rect())
        self._frame.resize(area.width(), area.height())
        view = self._session.view
        self._frame.show(self._scenery.bounds(), view.turned, view.far)
        matrix = self._frame.transform()
        player = self._session.player
        replay = player.replay
        ground = table_ground(self.palette())
        left_out = LEFT_OUT if replay is not None else frozenset()
        ratio = self.devicePixelRatioF()
        self._scenery.paint(painter, area, matrix, ratio, ground, left_out)
        if replay is not None:
            paint_replay(painter, replay, player.time_s, matrix, QFont(self.font()))
        painter.end()
