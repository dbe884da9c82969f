"""Which file a window has open, known to every window of every running program.

A lock file in the program's own folder stands for each window that has a file open; nothing is
put beside the coach's own. A lock whose program has gone counts for nothing.
"""

from __future__ import annotations

import hashlib
import os
import secrets
from pathlib import Path

from PySide6.QtCore import QLockFile

from designer.files.unsaved_copy import is_free, lock_of


class FileLock:
    """The one file a window has open."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._lock: QLockFile | None = None

    def take(self, path: Path | None) -> bool:
        """Let go of the file before and take this one; False when another window has it."""
        self.release()
        if path is None:
            return True
        name = hashlib.sha256(os.path.realpath(path).encode("utf-8", "replace")).hexdigest()[:24]
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
        except OSError:
            # Nothing can be told of other windows here; opening goes before that.
            return True
        # Locks that programs left behind go with this look, those of other files too.
        free = {other.name: is_free(other) for other in self._folder.glob("*.lock")}
        self._lock = lock_of(self._folder / f"{name}-{secrets.token_hex(4)}.lock")
        return all(alone for lock, alone in free.items() if lock.startswith(f"{name}-"))

    def release(self) -> None:
        """Let go of the file."""
        if self._lock is not None:
            self._lock.unlock()
            self._lock = None
