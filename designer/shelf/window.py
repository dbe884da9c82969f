"""What the shelf's windows have in common."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent
from PySide6.QtWidgets import QLabel, QWidget

from designer.session import Settings
from designer.shelf.asking import ShelfAsker
from designer.shelf.keeping import Keeping


class ShelfWindow(QWidget):
    """A window of its own, beside the table; `note` tells what happened last, `closed` its end."""

    closed = Signal()

    def __init__(self, settings: Settings, title: str, name: str) -> None:
        super().__init__(None, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self._name = f"shelf-{name}"
        self.settings, self.keeping = settings, Keeping(settings)
        self.asker = ShelfAsker(self)
        self.note = QLabel()
        self.note.setWordWrap(True)
        self.note.setTextFormat(Qt.TextFormat.PlainText)
        self.note.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)

    def tell(self, words: str) -> None:
        """Say what happened, in place of what was said before."""
        self.note.setText(words)

    def keep(self) -> None:
        """Keep apart what is not saved, now; nothing to do where all is saved at once."""

    def closeEvent(self, event: QCloseEvent) -> None:
        """Tell that it is gone."""
        event.accept()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes the window, as it does with the others."""
        if event.key() == Qt.Key.Key_Escape:
            self.close()
        else:
            super().keyPressEvent(event)
