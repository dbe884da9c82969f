"""Notices that files of the library have changed: told by the system, and by a look now and then.

The system tells of changes in a folder, but not of every change inside a file, nor on every
network drive; so the files' times are looked at as well, when the window is turned to and at
intervals.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QFileSystemWatcher, QObject, QTimer, Signal

#: Changes that come together are told once, so long after the first, ms.
SETTLE_MS = 400
#: A look without being told, ms.
EVERY_MS = 30_000
#: Systems watch only so many folders; the others are found by the look at intervals.
MOST_FOLDERS = 1000


class FolderWatch(QObject):
    """`changed` when files below the folders may be others than before."""

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._roots: list[Path] = []
        self._watcher = QFileSystemWatcher(self)
        self._watcher.directoryChanged.connect(self._on_told)
        self._settle = QTimer(self)
        self._settle.setSingleShot(True)
        self._settle.setInterval(SETTLE_MS)
        self._settle.timeout.connect(self._on_settled)
        self._every = QTimer(self)
        self._every.setInterval(EVERY_MS)
        self._every.timeout.connect(self.changed)

    def watch(self, folders: Sequence[Path]) -> None:
        """Watch these folders and all below them, and no others."""
        self._roots = list(folders)
        self._watch_folders()
        self._every.start()

    def stop(self) -> None:
        """Watch nothing."""
        self._every.stop()
        self._settle.stop()
        known = self._watcher.directories()
        if known:
            self._watcher.removePaths(known)

    def _watch_folders(self) -> None:
        wanted: list[str] = []
        for root in self._roots:
            for here, inner, _ in os.walk(root):
                inner[:] = [name for name in inner if not name.startswith(".")]
                wanted.append(here)
                if len(wanted) >= MOST_FOLDERS:
                    break
        known = set(self._watcher.directories())
        gone = sorted(known - set(wanted))
        if gone:
            self._watcher.removePaths(gone)
        new = [folder for folder in wanted if folder not in known]
        if new:
            self._watcher.addPaths(new)

    def _on_told(self, _folder: str) -> None:
        if not self._settle.isActive():
            self._settle.start()

    def _on_settled(self) -> None:
        # a new folder inside a watched one has to be watched as well
        self._watch_folders()
        self.changed.emit()
