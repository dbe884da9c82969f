"""What the shelf's windows ask: which file or folder, and whether something may go."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from designer.files.asking import where_to_write
from designer.texts import tr


class ShelfAsker:
    """Asks by dialogs; tests and scripts put another in its place."""

    def __init__(self, parent: QWidget) -> None:
        self._parent = parent

    def folder(self, title: str, start: Path) -> Path | None:
        """Which folder."""
        name = QFileDialog.getExistingDirectory(self._parent, title, str(start))
        return Path(name) if name else None

    def file_to_open(self, title: str, start: Path, kinds: str) -> Path | None:
        """Which file to read."""
        name, _ = QFileDialog.getOpenFileName(self._parent, title, str(start), kinds)
        return Path(name) if name else None

    def file_to_write(self, title: str, start: Path, kinds: str, ending: str) -> Path | None:
        """Which file to write; asks before another file is written over."""
        return where_to_write(self._parent, title, start, kinds, (ending,))

    def agrees(self, title: str, question: str, yes: str) -> bool:
        """Whether something that cannot be taken back may be done; no is the default."""
        box = QMessageBox(self._parent)
        box.setWindowTitle(title)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setText(question)
        doing = box.addButton(yes, QMessageBox.ButtonRole.DestructiveRole)
        leaving = box.addButton(tr("Cancel"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(leaving)
        box.setEscapeButton(leaving)
        box.exec()
        return box.clickedButton() is doing
