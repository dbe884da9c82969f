"""What windows beside the table ask: which file or folder, and whether something may go."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog

from designer.files.asking import where_to_write
from designer.files.losses import LossAsker


class FolderAsker(LossAsker):
    """Asks by dialogs; tests and scripts put another in its place."""

    def folder(self, title: str, start: Path) -> Path | None:
        """Which folder."""
        name = QFileDialog.getExistingDirectory(self._parent, title, str(start))
        return Path(name) if name else None

    def file_to_open(self, title: str, start: Path, kinds: str) -> Path | None:
        """Which file to read."""
        name, _ = QFileDialog.getOpenFileName(self._parent, title, str(start), kinds)
        return Path(name) if name else None

    def files_to_open(self, title: str, start: Path, kinds: str) -> list[Path]:
        """Which files to read, several at once."""
        names, _ = QFileDialog.getOpenFileNames(self._parent, title, str(start), kinds)
        return [Path(name) for name in names]

    def file_to_write(self, title: str, start: Path, kinds: str, ending: str) -> Path | None:
        """Which file to write; asks before another file is written over."""
        return where_to_write(self._parent, title, start, kinds, (ending,))
