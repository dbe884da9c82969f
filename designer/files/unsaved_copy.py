"""Unsaved work kept apart from the coach's own files, so that a crash loses next to nothing.

What is changed is written into a folder of the program's own a little after every change, and the
file is taken away again when the work is saved or let go. A file that a program which is no longer
running has left behind is offered at the next start; it is never opened by itself.
"""

from __future__ import annotations

import contextlib
import os
import secrets
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QLockFile, QObject, QTimer

from engine.errors import BaizewrightError

#: How long the edits must rest before they are written, ms, and at most how long that waits.
REST_MS, LONGEST_MS = 1_500, 10_000
#: A kept file says by these keys which file the work belongs to, and what that held.
OF_FILE, OF_SEEN = "recovery_of", "recovery_of_seen"


class UnsavedCopy(QObject):
    """Keeps one piece of work: `write` puts it into a file while `unsaved` says it has changed."""

    def __init__(
        self,
        folder: Path,
        parent: QObject,
        unsaved: Callable[[], bool],
        write: Callable[[Path], None],
    ) -> None:
        super().__init__(parent)
        self._folder, self._unsaved, self._write = folder, unsaved, write
        self.file = folder / f"{os.getpid()}-{secrets.token_hex(4)}.json"
        self._lock: QLockFile | None = None
        self._rest, self._longest = QTimer(self), QTimer(self)
        for timer, length in ((self._rest, REST_MS), (self._longest, LONGEST_MS)):
            timer.setSingleShot(True)
            timer.setInterval(length)
            timer.timeout.connect(self.keep)

    def touch(self) -> None:
        """The work has changed, or has just been saved."""
        if not self._unsaved():
            self.drop()
            return
        self._rest.start()
        if not self._longest.isActive():
            self._longest.start()

    def keep(self) -> bool:
        """Write the work now, or take the file away when nothing would be lost."""
        self._rest.stop()
        self._longest.stop()
        if not self._unsaved():
            self.drop()
            return False
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            if self._lock is None:
                self._lock = lock_of(self.file)
            self._write(self.file)
        except (BaizewrightError, OSError):
            # The coach's own file and the work in the window are untouched; the next change
            # tries again.
            return False
        return True

    def drop(self) -> None:
        """Take the file away: the work is saved, or was let go."""
        self._rest.stop()
        self._longest.stop()
        remove(self.file)
        if self._lock is not None:
            self._lock.unlock()
            self._lock = None


def left_files(folder: Path) -> Iterator[tuple[Path, datetime]]:
    """The files that programs no longer running have left in a folder, and when.

    A lock whose program ended before it kept anything goes.
    """
    if not folder.is_dir():
        return
    for lock in folder.glob("*.lock"):
        if not lock.with_suffix(".json").exists():
            is_free(lock)
    for file in folder.glob("*.json"):
        if is_free(file):
            with contextlib.suppress(OSError):
                yield file, datetime.fromtimestamp(file.stat().st_mtime)


def remove(file: Path) -> None:
    """Take a kept file away, with the copy of what it held before."""
    from engine.storage import remove_file

    remove_file(file)


def is_free(file: Path) -> bool:
    """Whether no running program holds a file; a lock left behind goes."""
    lock = lock_of(file)
    if lock is not None:
        lock.unlock()
    return lock is not None


def lock_of(file: Path) -> QLockFile | None:
    """The lock of a file, beside it, or None while a running program holds it."""
    lock = QLockFile(str(file.with_suffix(".lock")))
    # Stale only when the program that made it has gone, however old it is.
    lock.setStaleLockTime(0)
    return lock if lock.tryLock(0) else None
