"""What can be done with a file just written: open it, show its folder, copy its path."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QUrl, Signal
from PySide6.QtGui import QDesktopServices, QGuiApplication
from PySide6.QtWidgets import QHBoxLayout, QWidget

from designer.texts import tr
from designer.widgets.buttons import action_button


class FileLinks(QWidget):
    """Hidden while there is no file; `failed(words)` when nothing on the computer would open it."""

    failed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.file: Path | None = None
        self.open_button = action_button(tr("Open"), self._open)
        self.folder_button = action_button(tr("Show in folder"), self._show_folder)
        self.copy_button = action_button(tr("Copy path"), self._copy)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        for button in (self.open_button, self.folder_button, self.copy_button):
            row.addWidget(button)
        self.hide()

    def show_file(self, file: Path | None) -> None:
        """Offer a file, or nothing any more."""
        self.file = file
        self.setToolTip(str(file or ""))
        self.setVisible(file is not None)

    def _open(self) -> None:
        if self.file is not None:
            self._hand_over(self.file)

    def _show_folder(self) -> None:
        if self.file is not None:
            self._hand_over(self.file.resolve().parent)

    def _hand_over(self, path: Path) -> None:
        url = QUrl.fromLocalFile(str(path.resolve()))
        if not path.exists() or not QDesktopServices.openUrl(url):
            self.failed.emit(tr("{path} could not be opened.", path=path))

    def _copy(self) -> None:
        if self.file is not None:
            QGuiApplication.clipboard().setText(str(self.file.resolve()))
