"""Files of the window: new, open, save; work is never lost without being asked about."""

from __future__ import annotations

import os
import re
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from designer.files.asker import Asker
from designer.files.asking import rules_to_write
from designer.files.file_lock import FileLock
from designer.open_routine import OpenRoutine, Settings
from designer.texts import mark, tr, tr_count
from engine.errors import BaizewrightError, RoutineFileError
from engine.routine.identity import new_id, with_new_id
from engine.routine.values import Routine

if TYPE_CHECKING:
    from engine.storage import WriteRules

UNTITLED = mark("New routine")
Names = dict[Literal["coach", "club"], str]


class Files(QObject):
    """Opens and saves the session's routine; `recent_changed` when the recent files differ.

    `opened` follows after a file was opened. `leaving` comes before anything is saved or given up:
    what is still being typed is to be handed over.
    """

    recent_changed = Signal()
    opened = Signal()
    leaving = Signal()

    def __init__(
        self, session: OpenRoutine, settings: Settings, asker: Asker, window: QWidget
    ) -> None:
        super().__init__(window)
        self._session, self._settings, self._window = session, settings, window
        self.asker = asker
        self._held = FileLock(settings.open_folder)
        self._path: Path | None = None
        self._read = ""
        self._warned = ""
        #: What the routine's file held when it was last read or written here.
        self.seen = ""
        #: Coach and club of a routine that was not begun here: somebody else's, for all we know.
        self._came_with: Names | None = None
        session.changed.connect(self._on_changed)

    @property
    def name(self) -> str:
        """What the window calls the routine: its title, else its file, else that it is new."""
        document = self._session.document
        if document.routine.title:
            return document.routine.title
        return document.path.name if document.path is not None else tr(UNTITLED)

    def new(self) -> bool:
        """Begin another routine."""
        if not self.may_leave(tr("Save them before a new routine is begun?")):
            return False
        self._came_with = None
        self._session.document.replace(fresh_routine(self._settings))
        return True

    def open(self, path: Path | None = None) -> bool:
        """Open a file (asked for when none is given); the present one stays if that fails."""
        if path is None:
            path = self.asker.file_to_open(self._settings.folder)
        if path is None:
            return False
        routine = self.read(path)
        if routine is None or not self.may_leave(
            tr("Save them before “{name}” is opened?", name=path.name)
        ):
            return False
        self.show(routine, path)
        return True

    def read(self, path: Path) -> Routine | None:
        """The routine in a file; told what is wrong with it when it cannot be read."""
        from engine.storage import fingerprint, load_routine

        try:
            self._read = fingerprint(path)
            return load_routine(path)
        except RoutineFileError as error:
            count = error.count
            self._session.messages.fail(
                tr_count(
                    "“{name}” was not opened: {count} fault found in it.",
                    "“{name}” was not opened: {count} faults found in it.",
                    count,
                    name=path.name,
                ),
                tr("Nothing was changed; the routine in the window is as it was."),
                error,
            )
            if not os.path.exists(path):
                self._settings.forget_recent(path)
                self.recent_changed.emit()
            return None

    def show(self, routine: Routine, path: Path) -> None:
        """Put a routine read from a file into the window."""
        seen = self._read
        self._came_with = _names(routine)
        self._session.document.replace(routine, path)
        self.seen = seen
        self._settings.note_recent(path)
        self.recent_changed.emit()
        self.opened.emit()

    def take_up(self, routine: Routine, path: Path | None, seen: str) -> None:
        """Put a routine that is not saved into the window, and what its file held at that time."""
        self._came_with = _names(routine)
        self._session.document.replace(routine, path, saved=False)
        self.seen = seen

    def look_again(self) -> None:
        """Tell once when the routine's file was changed by another program or window."""
        from engine.storage import fingerprint

        path = self._session.document.path
        now = fingerprint(path) if path is not None and self.seen else ""
        if path is None or not now or now in (self.seen, self._warned):
            return
        self._warned = now
        self._session.messages.warn(
            tr("“{name}” was changed elsewhere since it was opened here.", name=path.name),
            tr("Open it again to see that; saving asks before it is written over."),
        )

    def release(self) -> None:
        """Let go of the file: the window closes."""
        self._held.release()

    def save(self) -> bool:
        """Save to the routine's file, asked for the first time."""
        self.leaving.emit()
        path = self._session.document.path
        return self.save_as() if path is None else self._save(path)

    def save_as(self) -> bool:
        """Save to another file."""
        self.leaving.emit()
        path = self.asker.file_to_save(self.beside(".json"))
        return path is not None and self._save(path)

    def may_leave(self, question: str) -> bool:
        """Whether the routine in the window may go: it is saved, or the coach lets it go."""
        self.leaving.emit()
        if not self._session.document.changed_since_save:
            return True
        answer = self.asker.about_changes(self.name, question)
        return self.save() if answer == "save" else answer == "drop"

    def beside(self, ending: str) -> Path:
        """A good place for a file that goes with the routine."""
        path = self._session.document.path
        if path is not None:
            return path.with_suffix(ending)
        return self._settings.folder / f"{file_name(self.name)}{ending}"

    def _on_changed(self, _change: object) -> None:
        """Follow the routine to another file, and tell when another window has that open too."""
        from engine.storage import fingerprint

        path = self._session.document.path
        if path == self._path:
            return
        self._path, self._warned = path, ""
        self.seen = fingerprint(path) if path is not None else ""
        if not self._held.take(path) and path is not None:
            self._session.messages.warn(
                tr("“{name}” is open in another window as well.", name=path.name),
                tr("Neither sees what the other changes: save one of them under another name."),
            )

    def _rules_to_write(self, path: Path) -> WriteRules | None:
        """How the file may be written: as this window knows it, or as it was agreed to."""
        from engine.storage import WriteRules, fingerprint

        now = fingerprint(path)
        if path != self._session.document.path or now in ("", self.seen) or not self.seen:
            return rules_to_write(self._window, path, "routine")
        agreed = self.asker.about_changed_file(path.name)
        return WriteRules(may_replace="any") if agreed else None

    def _remember_names(self) -> None:
        """Take coach and club for the coach's own, unless the routine was opened with them."""
        came = self._came_with
        for what, name in _names(self._session.routine).items():
            if came is None or (name and name != came[what]):
                self._settings.save_own(what, name)

    def _save(self, path: Path) -> bool:
        from engine.storage import fingerprint, save_routine

        rules = self._rules_to_write(path)
        if rules is None:
            return False
        document = self._session.document
        kept = document.routine
        if not kept.id or document.path not in (None, path):
            kept = with_new_id(kept)  # two files, two routines
        try:
            save_routine(kept, path, rules)
        except BaizewrightError as error:
            self._session.messages.fail(
                tr("“{name}” was not saved.", name=path.name),
                tr("Your work is still in the window: save it under another name."),
                error,
            )
            return False
        self._remember_names()
        document.become_copy(kept.id)
        document.mark_saved(path)
        self.seen = fingerprint(path)
        self._settings.note_recent(path)
        self.recent_changed.emit()
        self._session.messages.note(tr("Saved as {path}.", path=path))
        return True


def fresh_routine(settings: Settings) -> Routine:
    """A routine to begin with: empty, but for the coach's own name and club."""
    coach, club = (settings.load_own(name) for name in ("coach", "club"))
    return Routine(id=new_id(), coach=coach, club=club)


def _names(routine: Routine) -> Names:
    return {"coach": routine.coach, "club": routine.club}


def file_name(title: str) -> str:
    """A title as a file's name, without what no system takes.

    >>> file_name("Blue & back: to baulk?")
    'blue-back-to-baulk'
    """
    return re.sub(r"[^\w]+", "-", title.lower()).strip("-")[:60] or "routine"
