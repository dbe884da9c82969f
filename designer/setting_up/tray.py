"""The balls in a row, to be dragged onto the table; a click puts one on its spot."""

from __future__ import annotations

from PySide6.QtCore import QMimeData, QPoint, Qt
from PySide6.QtGui import QDrag, QMouseEvent
from PySide6.QtWidgets import QApplication, QHBoxLayout, QToolButton, QWidget

from designer.open_routine import OpenRoutine
from designer.texts import tr
from designer.widgets.badges import BALL_ICON_SIZE, BALL_MIME, ball_icon
from designer.words.names import KIND_NAMES, kind_name
from engine.balls import LETTERS


class BallTray(QWidget):
    """One button for each kind of ball."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.setAccessibleName(tr("Balls to add"))
        self.buttons = {kind: _BallButton(session, kind) for kind in KIND_NAMES}
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(0)
        for button in self.buttons.values():
            row.addWidget(button)
        session.changed.connect(self.refresh)
        self.refresh()

    def refresh(self, _change: object = None) -> None:
        """There is only one cue ball."""
        self.buttons["cue"].setEnabled(self._session.routine.cue_ball is None)


class _BallButton(QToolButton):
    """A ball; pressed and moved it is dragged, clicked it is added where it belongs."""

    def __init__(self, session: OpenRoutine, kind: str) -> None:
        super().__init__()
        self._kind, self._pressed = kind, QPoint()
        name = kind_name(kind)
        # A white ball needs no word, and so small a one could not be read.
        self.setIcon(ball_icon(kind, "" if kind == "cue" else LETTERS[kind]))
        self.setIconSize(BALL_ICON_SIZE)
        self.setAutoRaise(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Add {ball}", ball=name))
        self.setToolTip(tr("{ball}: drag it onto the table, or click", ball=name))
        self.clicked.connect(lambda _checked=False: session.balls.add(kind))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a drag would begin."""
        self._pressed = event.position().toPoint()
        super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Begin a drag once the pointer has moved far enough."""
        moved = (event.position().toPoint() - self._pressed).manhattanLength()
        held = bool(event.buttons() & Qt.MouseButton.LeftButton) and self.isEnabled()
        if not held or moved < QApplication.startDragDistance():
            super().mouseMoveEvent(event)
            return
        self.setDown(False)
        data = QMimeData()
        data.setData(BALL_MIME, self._kind.encode("utf-8"))
        drag = QDrag(self)
        drag.setMimeData(data)
        pixmap = self.icon().pixmap(self.iconSize())
        drag.setPixmap(pixmap)
        drag.setHotSpot(pixmap.rect().center())
        drag.exec(Qt.DropAction.CopyAction)
