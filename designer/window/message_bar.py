"""The line at the foot of the window: what happened and what to do, or a hint for the hands."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from designer.open_routine import Message
from designer.texts import mark, tr
from designer.widgets.file_links import FileLinks
from designer.widgets.tones import toned

HINT = mark(
    "Drag a ball, or nudge the selected one by arrow keys (1 mm, with Shift 10 mm). "
    "Right-click a ball, a pocket or the cloth for more. The wheel zooms."
)
_COLOURS = {"note": "#1b2327", "warning": "#7a4a00", "error": "#a31621"}
_WORDS = {
    "note": mark("{what}"),
    "warning": mark("Note: {what}"),
    "error": mark("Failed: {what}"),
}
NOTE_MS, WARNING_MS = 8_000, 15_000


class MessageBar(QFrame):
    """Always there, so that nothing moves when a message comes; errors and files stay."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("message")
        self.words = QLabel()
        self.words.setWordWrap(True)
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.words.setMinimumHeight(2 * self.fontMetrics().lineSpacing() + 2)
        self.words.setAccessibleName(tr("Message"))
        self.close_button = QToolButton()
        self.close_button.setText(tr("OK"))
        self.close_button.setToolTip(tr("Put this message away"))
        self.close_button.clicked.connect(self.show_hint)
        row = QHBoxLayout(self)
        row.setContentsMargins(10, 3, 10, 3)
        row.addWidget(self.words, 1)
        self.links = FileLinks()
        self.links.failed.connect(self.words.setText)
        row.addWidget(self.links)
        row.addWidget(self.close_button)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.show_hint)
        self.message: Message | None = None
        self.show_hint()

    def tell(self, message: Message) -> None:
        """Show a message in place of the one before."""
        self.message = message
        what = tr(_WORDS[message.weight], what=message.what)
        first = f"<b>{escape(what)}</b>"
        rest = " ".join((message.todo, *message.details[:1]))
        colour = _COLOURS[message.weight]
        self.words.setText(toned(f'<span style="color:{colour}">{first} {escape(rest)}</span>'))
        self.links.show_file(message.file)
        self.close_button.show()
        self._timer.stop()
        if message.weight != "error" and message.file is None:
            self._timer.start(NOTE_MS if message.weight == "note" else WARNING_MS)

    def retone(self) -> None:
        """Show the words again after the look has changed."""
        if self.message is not None:
            self.tell(self.message)
        else:
            self.show_hint()

    def show_hint(self) -> None:
        """Put the message away."""
        self.message = None
        self._timer.stop()
        self.words.setText(toned(f'<span style="color:#59646a">{escape(tr(HINT))}</span>'))
        self.links.show_file(None)
        self.close_button.hide()
