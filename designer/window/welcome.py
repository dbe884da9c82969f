"""What a coach sees on an empty table: three steps, each going away when it is done, and examples.

The card lies over the cloth. With the first ball the examples go; what is left of the steps lets
the pointer through to the table.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from pathlib import Path

from PySide6.QtCore import QEvent, QObject, QSize, Qt, QTimer, Signal
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from designer.open_routine import OpenRoutine
from designer.texts import mark, tr
from designer.widgets.tones import SOFT, toned

PLACE = mark("<b>Place the cue ball</b>: drag it from the row above.")
AIM = mark("<b>Choose a ball and its pocket</b>: double-click both.")
GAP = mark("<b>Draw a gap</b> for the cue ball: press G, drag from edge to edge.")
#: Examples shown, in rows of so many, and the size of their pictures.
EXAMPLES_SHOWN, IN_A_ROW = 6, 3
PICTURE = QSize(120, 66)


class Welcome(QFrame):
    """Over the canvas; `opened(path)` when an example is chosen."""

    opened = Signal(Path)

    def __init__(self, session: OpenRoutine, examples: Sequence[Path], canvas: QWidget) -> None:
        super().__init__(canvas)
        self.setObjectName("welcome")
        self._session, self._canvas, self._left = session, canvas, list(examples[:EXAMPLES_SHOWN])
        self.steps = QLabel()
        self.steps.setTextFormat(Qt.TextFormat.RichText)
        self.heading = QLabel(tr("Or begin with an example"))
        self.heading.setObjectName("heading")
        self.tiles: list[QToolButton] = []
        self._grid = QGridLayout()
        self._grid.setSpacing(4)
        layout = self._whole = QVBoxLayout(self)
        layout.setContentsMargins(16, 12, 16, 12)
        layout.addWidget(self.steps)
        layout.addWidget(self.heading)
        layout.addLayout(self._grid)
        # Painted one by one once the window is there, so that it need not wait for them.
        self._soon = QTimer(self)
        self._soon.setInterval(0)
        self._soon.timeout.connect(self._one_more)
        canvas.installEventFilter(self)
        self._shown: tuple[list[str], bool] | None = None
        session.changed.connect(self._on_changed)
        session.view_changed.connect(self.refresh)
        self.refresh()

    def steps_left(self) -> list[str]:
        """What is still to be done; nothing for a routine that came from a file."""
        session, routine = self._session, self._session.routine
        if session.document.path is not None:
            return []
        aimed = any(shot.object_ball and shot.pocket for shot in routine.shots)
        plain = any(shot.aim_deg is not None for shot in routine.shots)
        done = (routine.cue_ball is not None, aimed or plain, bool(routine.gaps))
        return [
            words for words, is_done in zip((PLACE, AIM, GAP), done, strict=True) if not is_done
        ]

    def _on_changed(self, _change: object) -> None:
        """A ball that is dragged changes nothing here."""
        if (self.steps_left(), not self._session.routine.balls) != self._shown:
            self.refresh()

    def refresh(self) -> None:
        """Show the steps that are left, and the examples while the table is empty."""
        left, empty = self.steps_left(), not self._session.routine.balls
        self._shown = left, empty
        self.setVisible(bool(left))
        if not left:
            return
        numbers = [(PLACE, AIM, GAP).index(words) + 1 for words in left]
        self.steps.setText(
            toned(
                "".join(
                    f'<p style="margin:3px"><span style="color:{SOFT}">{number}</span>'
                    f"\u00a0 {tr(words)}</p>"
                    for number, words in zip(numbers, left, strict=True)
                )
            )
        )
        for part in (self.heading, *self.tiles):
            part.setVisible(empty and bool(self.tiles))
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents, not empty)
        if empty and self._left:
            self._soon.start()
        self._settle()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Keep the place over the cloth."""
        if event.type() == QEvent.Type.Resize:
            self._settle()
        return super().eventFilter(watched, event)

    def _settle(self) -> None:
        """In the middle of an empty table; in its upper right corner once there are balls."""
        self._whole.activate()
        size, room = self.sizeHint(), self._canvas.size()
        size = size.boundedTo(room)
        at_x, at_y = (room.width() - size.width()) // 2, (room.height() - size.height()) // 2
        if self._session.routine.balls:
            at_x, at_y = room.width() - size.width() - 12, 8
        self.setGeometry(at_x, at_y, size.width(), size.height())

    def _one_more(self) -> None:
        if not self._left or not self.isVisible():
            self._soon.stop()
            return
        from designer.window.routine_tiles import tile

        path = self._left.pop(0)
        found = tile(path)
        if found is not None:
            title, icon = found
            button = QToolButton()
            button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
            button.setIcon(icon)
            button.setIconSize(PICTURE)
            metrics = button.fontMetrics()
            wide = PICTURE.width() + 40
            button.setText(metrics.elidedText(title, Qt.TextElideMode.ElideRight, wide))
            button.setToolTip(f"<p>{escape(title)}</p>")
            button.setAccessibleName(title)
            button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            button.setFixedWidth(wide + 16)
            button.clicked.connect(lambda _checked=False: self.opened.emit(path))
            row, column = divmod(len(self.tiles), IN_A_ROW)
            self._grid.addWidget(button, row, column)
            self.tiles.append(button)
        self.refresh()
