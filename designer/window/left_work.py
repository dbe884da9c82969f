"""Routines and plans that were not saved: kept apart by each window, offered after a crash."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QListWidget,
    QListWidgetItem,
    QVBoxLayout,
    QWidget,
)

from designer.files.unsaved_copy import OF_FILE, OF_SEEN, UnsavedCopy, left_files, remove
from designer.open_routine import OpenRoutine
from designer.texts import tr, tr_count
from designer.widgets.plain_label import PlainLabel
from designer.widgets.side_window import SideWindow
from engine.errors import BaizewrightError
from engine.routine.values import Routine

if TYPE_CHECKING:
    from designer.plans.left_plans import LeftPlan


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

    def told(self) -> str:
        """Title, or name of the file, and how many balls."""
        title = self.routine.title or (self.path.name if self.path else tr("New routine"))
        balls = tr_count("{count} ball", "{count} balls", len(self.routine.balls))
        return f"{title} – {balls}"


class Recovery(UnsavedCopy):
    """Keeps one window's unsaved routine."""

    def __init__(
        self,
        session: OpenRoutine,
        folder: Path,
        parent: QObject,
        seen: Callable[[], str] = lambda: "",
    ) -> None:
        document = session.document
        super().__init__(folder, parent, lambda: document.changed_since_save, self._save)
        self._session, self._seen = session, seen
        session.changed.connect(self._on_changed)

    def _save(self, file: Path) -> None:
        from engine.storage import WriteRules, save_routine

        document = self._session.document
        routine = document.routine
        if document.path is not None:
            about = {OF_FILE: str(document.path), OF_SEEN: self._seen()}
            routine = replace(routine, extra={**routine.extra, **about})
        save_routine(routine, file, WriteRules(private=True, passing=True))

    def _on_changed(self, _change: object) -> None:
        self.touch()


def left_work(folder: Path) -> tuple[LeftWork, ...]:
    """What programs that are no longer running have left in the folder, newest first."""
    from engine.storage import load_routine

    found = []
    for file, when in left_files(folder):
        try:
            routine = load_routine(file)
        except BaizewrightError:
            continue
        extra = dict(routine.extra)
        own, seen = extra.pop(OF_FILE, None), extra.pop(OF_SEEN, "")
        path = Path(str(own)) if own else None
        found.append(LeftWork(file, replace(routine, extra=extra), path, when, str(seen)))
    return tuple(sorted(found, key=lambda work: work.when, reverse=True))


class LeftWorkDialog(SideWindow):
    """Offers work left behind; whatever is not opened or discarded stays for another time."""

    def __init__(
        self,
        works: Sequence[LeftWork | LeftPlan],
        take: Callable[[LeftWork | LeftPlan], None],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(tr("Work from last time"), parent)
        self._take = take
        words = PlainLabel(
            tr(
                "The program ended before these were saved. Open those you want to go on with; "
                "your own files are as you last saved them."
            )
        )
        self.list = QListWidget()
        self.list.setAccessibleName(tr("Work that was not saved"))
        for work in works:
            item = QListWidgetItem(f"{work.told()}, {work.when:%Y-%m-%d %H:%M}")
            item.setData(Qt.ItemDataRole.UserRole, work)
            self.list.addItem(item)
        self.list.setCurrentRow(0)
        self.list.itemActivated.connect(lambda _item: self.open_one())
        buttons = QDialogButtonBox()
        roles = QDialogButtonBox.ButtonRole
        self.open_button = buttons.addButton(tr("Open"), roles.ActionRole)
        self.discard_button = buttons.addButton(tr("Discard"), roles.DestructiveRole)
        later = buttons.addButton(tr("Later"), roles.RejectRole)
        # Enter goes on with the work; nothing is let go by a key pressed too soon.
        for button in (self.discard_button, later):
            button.setAutoDefault(False)
        self.open_button.setDefault(True)
        self.open_button.clicked.connect(self.open_one)
        self.discard_button.clicked.connect(self.discard_one)
        later.clicked.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(words)
        layout.addWidget(self.list, 1)
        layout.addWidget(buttons)
        self.resize(520, 260)

    def open_one(self) -> None:
        """Open what is selected in a window."""
        work = self._out()
        if work is not None:
            self._take(work)

    def discard_one(self) -> None:
        """Let what is selected go."""
        work = self._out()
        if work is not None:
            remove(work.file)

    def _out(self) -> LeftWork | LeftPlan | None:
        item = self.list.takeItem(self.list.currentRow())
        if self.list.count() == 0:
            self.accept()
        return item.data(Qt.ItemDataRole.UserRole) if item is not None else None
