"""The line at the foot of the window: what happened and what to do, or a hint for the hands."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QFont, QFontMetricsF, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from designer.open_routine import Message
from designer.texts import mark, tr
from designer.widgets.file_links import FileLinks
from designer.widgets.tones import SOFT, toned

HINT = mark("Drag a ball, or nudge it with the arrow keys. Right-click for more. The wheel zooms.")
_COLOURS = {"note": "#1b2327", "warning": "#7a4a00", "error": "#a31621"}
_WORDS = {
    "note": mark("{what}"),
    "warning": mark("Note: {what}"),
    "error": mark("Failed: {what}"),
}
NOTE_MS, WARNING_MS = 8_000, 15_000


class MessageBar(QFrame):
    """Always there, so that nothing moves when a message comes; errors and files stay.

    What one line has no room for is read in a window: `whole_wanted(message)` asks for it.
    """

    whole_wanted = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("message")
        self.words = QLabel()
        self.words.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.words.setAccessibleName(tr("Message"))
        self.whole = QToolButton()
        self.whole.setText(tr("More"))
        self.whole.setToolTip(tr("Read the whole message"))
        self.whole.clicked.connect(lambda _checked=False: self.whole_wanted.emit(self.message))
        self.close_button = QToolButton()
        self.close_button.setText(tr("OK"))
        self.close_button.setToolTip(tr("Put this message away"))
        self.close_button.clicked.connect(self.show_hint)
        row = QHBoxLayout(self)
        row.setContentsMargins(10, 3, 10, 3)
        row.addWidget(self.words, 1)
        self.beside = QLabel()
        self.beside.setObjectName("soft")
        row.addWidget(self.beside)
        self.links = FileLinks()
        self.links.failed.connect(self.words.setText)
        row.addWidget(self.links)
        row.addWidget(self.whole)
        row.addWidget(self.close_button)
        self.setFixedHeight(max(self.close_button.sizeHint().height(), self.height_of_a_line()) + 6)
        self._timer = QTimer(self)
        self._timer.setSingleShot(True)
        self._timer.timeout.connect(self.show_hint)
        self.message: Message | None = None
        self.show_hint()

    def height_of_a_line(self) -> int:
        """Height of the words, px."""
        return self.fontMetrics().lineSpacing() + 2

    def tell(self, message: Message) -> None:
        """Show a message in place of the one before."""
        self.message = message
        self._show()
        self._timer.stop()
        if message.weight != "error" and message.file is None:
            self._timer.start(NOTE_MS if message.weight == "note" else WARNING_MS)

    def show_beside(self, words: str) -> None:
        """What stands at the end of the line for as long as no message needs the room."""
        if self.beside.text() != words:
            self.beside.setText(words)

    def retone(self) -> None:
        """Show the words again after the look has changed."""
        self._show()

    def show_hint(self) -> None:
        """Put the message away."""
        self.message = None
        self._timer.stop()
        self._show()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """As many words as there is room for now."""
        super().resizeEvent(event)
        self._show()

    def _show(self) -> None:
        """What happened in bold, what to do after it, shortened to the line."""
        message = self.message
        self.close_button.setVisible(message is not None)
        self.whole.setVisible(False)
        self.links.show_file(message.file if message is not None else None)
        self.beside.setVisible(message is None)
        if message is None:
            self.words.setToolTip("")
            self.words.setText(toned(f'<span style="color:{SOFT}">{escape(tr(HINT))}</span>'))
            return
        what = tr(_WORDS[message.weight], what=message.what)
        rest = " ".join((message.todo, *message.details[:1]))
        bold = QFont(self.font())
        bold.setBold(True)
        buttons = self.whole.sizeHint().width() + self.close_button.sizeHint().width() + 40
        buttons += self.links.sizeHint().width() if message.file is not None else 0
        left = self.width() - buttons - QFontMetricsF(bold).horizontalAdvance(f"{what} ")
        shown = QFontMetricsF(self.font()).elidedText(rest, Qt.TextElideMode.ElideRight, left)
        self.whole.setVisible(shown != rest or left < 0.0)
        self.words.setToolTip(f"{what} {rest}")
        colour = _COLOURS[message.weight]
        told = f'<span style="color:{colour}"><b>{escape(what)}</b> {escape(shown)}</span>'
        self.words.setText(toned(told))
