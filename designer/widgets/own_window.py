"""What the shelf's windows have in common."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent, QKeyEvent, QShowEvent
from PySide6.QtWidgets import QLabel, QWidget

from designer.files.folders_and_files import ShelfAsker
from designer.files.library_settings import LibrarySettings
from designer.open_routine import Settings
from designer.widgets.style_sheet import wear


class OwnWindow(QWidget):
    """A window of its own, beside the table; `note` tells what happened last, `closed` its end."""

    closed = Signal()

    def __init__(self, settings: Settings, title: str, name: str) -> None:
        super().__init__(None, Qt.WindowType.Window)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self._name = f"shelf-{name}"
        self.settings, self.keeping = settings, LibrarySettings(settings)
        self.asker = ShelfAsker(self)
        self.note = QLabel()
        self.note.setWordWrap(True)
        self.note.setTextFormat(Qt.TextFormat.PlainText)
        self.note.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)

    def showEvent(self, event: QShowEvent) -> None:
        """Put the sheet on the first time, when all parts are there."""
        wear(self)
        super().showEvent(event)

    def tell(self, words: str) -> None:
        """Say what happened, in place of what was said before."""
        self.note.setText(words)

    def keep(self) -> None:
        """Keep apart what is not saved, now; nothing to do where all is saved at once."""

    def may_leave(self) -> bool:
        """Whether the window may go: nothing is lost by it, or the coach lets it go."""
        return True

    def close_down(self) -> None:
        """Stop what is under way, for good."""

    def closeEvent(self, event: QCloseEvent) -> None:
        """Close, unless work would be lost that the coach wants to keep; tell that it is gone."""
        if not self.may_leave():
            event.ignore()
            return
        self.close_down()
        event.accept()
        self.closed.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape closes the window, as it does with the others; not while it is at work."""
        if event.key() == Qt.Key.Key_Escape:
            self.close()
        else:
            super().keyPressEvent(event)
