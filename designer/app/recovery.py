"""Work kept apart from the coach's own files, so that a crash loses next to nothing.

Each window writes its routine into a folder of the program's own a little after every change, and
takes the file away again when the work is saved or let go. A file left behind by a program that
is no longer running is offered at the next start; it is never opened by itself.
"""

from __future__ import annotations

import contextlib
import os
import secrets
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from PySide6.QtCore import QLockFile, QObject, Qt, QTimer
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from designer.session import Session
from designer.texts import tr, tr_count
from engine.errors import BaizewrightError
from engine.routine.values import Routine

#: How long the edits must rest before they are written, ms, and at most how long that waits.
REST_MS, LONGEST_MS = 1_500, 10_000
#: The kept file says by these keys which file the routine belongs to, and what that held.
OF_FILE, OF_SEEN = "recovery_of", "recovery_of_seen"


@dataclass(frozen=True, slots=True)
class LeftWork:
    """A routine found in the folder: `file` keeps it, `path` is the coach's own file, if any.

    `seen` is what that file held when the routine was begun from it (`fingerprint`).
    """

    file: Path
    routine: Routine
    path: Path | None
    when: datetime
    seen: str = ""


class Recovery(QObject):
    """Keeps one window's unsaved work."""

    def __init__(
        self,
        session: Session,
        folder: Path,
        parent: QObject,
        seen: Callable[[], str] = lambda: "",
    ) -> None:
        super().__init__(parent)
        self._session, self._folder, self._seen = session, folder, seen
        self.file = folder / f"{os.getpid()}-{secrets.token_hex(4)}.json"
        self._lock: QLockFile | None = None
        self._rest, self._longest = QTimer(self), QTimer(self)
        for timer, length in ((self._rest, REST_MS), (self._longest, LONGEST_MS)):
            timer.setSingleShot(True)
            timer.setInterval(length)
            timer.timeout.connect(self.keep)
        session.changed.connect(self._on_changed)

    def keep(self) -> bool:
        """Write the routine now, or take the file away when nothing would be lost."""
        self._rest.stop()
        self._longest.stop()
        document = self._session.document
        if not document.changed_since_save:
            self.drop()
            return False
        from engine.storage import save_routine

        routine = document.routine
        if document.path is not None:
            about = {OF_FILE: str(document.path), OF_SEEN: self._seen()}
            routine = replace(routine, extra={**routine.extra, **about})
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            if self._lock is None:
                self._lock = _lock(self.file)
            save_routine(routine, self.file)
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

    def _on_changed(self, _change: object) -> None:
        if not self._session.document.changed_since_save:
            self.drop()
            return
        self._rest.start()
        if not self._longest.isActive():
            self._longest.start()


def left_work(folder: Path) -> tuple[LeftWork, ...]:
    """What programs that are no longer running have left in the folder, newest first."""
    from engine.storage import load_routine

    found = []
    for file in folder.glob("*.json") if folder.is_dir() else ():
        lock = _lock(file)
        if lock is None:
            continue
        lock.unlock()
        try:
            routine = load_routine(file)
            when = datetime.fromtimestamp(file.stat().st_mtime)
        except (BaizewrightError, OSError):
            continue
        extra = dict(routine.extra)
        own, seen = extra.pop(OF_FILE, None), extra.pop(OF_SEEN, "")
        path = Path(str(own)) if own else None
        found.append(LeftWork(file, replace(routine, extra=extra), path, when, str(seen)))
    return tuple(sorted(found, key=lambda work: work.when, reverse=True))


def remove(file: Path) -> None:
    """Take a kept file away, with the copy of what it held before."""
    from engine.storage import previous_copy

    for one in (file, previous_copy(file)):
        with contextlib.suppress(OSError):
            one.unlink()


class LeftWorkDialog(QDialog):
    """Offers work left behind; whatever is not opened or discarded stays for another time."""

    def __init__(
        self,
        works: tuple[LeftWork, ...],
        take: Callable[[LeftWork], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(tr("Work from last time"))
        self._take = take
        words = QLabel(
            tr(
                "The program ended before these routines were saved. Open those you want to go on "
                "with; your own files are as you last saved them."
            )
        )
        words.setWordWrap(True)
        self.list = QListWidget()
        self.list.setAccessibleName(tr("Routines that were not saved"))
        for work in works:
            title = work.routine.title or (work.path.name if work.path else tr("New routine"))
            count = len(work.routine.balls)
            balls = tr_count("{count} ball", "{count} balls", count)
            item = QListWidgetItem(f"{title} – {balls}, {work.when:%d.%m.%Y %H:%M}")
            item.setData(Qt.ItemDataRole.UserRole, work)
            self.list.addItem(item)
        self.list.setCurrentRow(0)
        self.list.itemActivated.connect(lambda _item: self.open_one())
        buttons = QDialogButtonBox()
        roles = QDialogButtonBox.ButtonRole
        self.open_button = buttons.addButton(tr("Open"), roles.ActionRole)
        self.discard_button = buttons.addButton(tr("Discard"), roles.DestructiveRole)
        later = buttons.addButton(tr("Later"), roles.RejectRole)
        self.open_button.clicked.connect(self.open_one)
        self.discard_button.clicked.connect(self.discard_one)
        later.clicked.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(words)
        layout.addWidget(self.list, 1)
        layout.addWidget(buttons)
        self.resize(520, 260)

    def open_one(self) -> None:
        """Open the routine selected in a window."""
        work = self._out()
        if work is not None:
            self._take(work)

    def discard_one(self) -> None:
        """Let the routine selected go."""
        work = self._out()
        if work is not None:
            remove(work.file)

    def _out(self) -> LeftWork | None:
        item = self.list.takeItem(self.list.currentRow())
        if self.list.count() == 0:
            self.accept()
        return item.data(Qt.ItemDataRole.UserRole) if item is not None else None


def _lock(file: Path) -> QLockFile | None:
    """The lock of a kept file, or None while a running program holds it."""
    lock = QLockFile(str(file.with_suffix(".lock")))
    # Stale only when the program that made it has gone, however old it is.
    lock.setStaleLockTime(0)
    return lock if lock.tryLock(0) else None
