"""The open document: the current routine, who watches it, and every step that can be undone.

The document knows no window. Views register a callback with `observe`, read `routine`, and
ask for changes through `apply`; nothing is written back into a view.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, fields, replace
from pathlib import Path

from engine.routine.values import Routine

Edit = Callable[[Routine], Routine]
ALL_PARTS: frozenset[str] = frozenset(field.name for field in fields(Routine))


@dataclass(frozen=True, slots=True)
class Change:
    """What just happened: `name` of the step, and the fields of the routine that differ.

    `kind` is "edit", "undo", "redo", "open" (another routine, all parts) or "save" (no part
    differs, but `path` or `changed_since_save` may).
    """

    name: str
    parts: frozenset[str]
    kind: str = "edit"


Callback = Callable[[Change], None]


@dataclass(slots=True)
class _Step:
    name: str
    merge: str
    before: Routine
    after: Routine


class Document:
    """A routine being edited, with undo, redo, observers and the state of its file.

    >>> from dataclasses import replace
    >>> document = Document()
    >>> document.apply("title", lambda routine: replace(routine, title="Round the black"))
    True
    >>> document.changed_since_save, document.undo(), document.changed_since_save
    (True, 'title', False)
    """

    def __init__(self, routine: Routine | None = None, path: Path | None = None) -> None:
        self._routine = Routine() if routine is None else routine
        self._saved: Routine | None = self._routine
        self._path = path
        self._done: list[_Step] = []
        self._undone: list[_Step] = []
        self._merging = False
        self._observers: dict[int, Callback] = {}
        self._next_key = 0
        self._waiting: deque[Change] = deque()
        self._telling = False

    @property
    def routine(self) -> Routine:
        """The current value; change it with `apply`."""
        return self._routine

    @property
    def path(self) -> Path | None:
        """The file this routine was opened from or last saved to."""
        return self._path

    @property
    def changed_since_save(self) -> bool:
        """Whether the routine differs from what was last opened or saved."""
        return self._saved is not self._routine and self._saved != self._routine

    @property
    def undo_name(self) -> str:
        """The step that `undo` would take back, "" if none."""
        return self._done[-1].name if self._done else ""

    @property
    def redo_name(self) -> str:
        """The step that `redo` would do again, "" if none."""
        return self._undone[-1].name if self._undone else ""

    def apply(self, name: str, edit: Edit, *, merge: str = "") -> bool:
        """Make the routine what `edit` returns; False when that changes nothing.

        Successive edits with the same non-empty `merge` are one step until `end_merge`, so that
        a drag is undone at once. If `edit` raises, the document stays as it was.
        """
        before, after = self._routine, edit(self._routine)
        last = self._done[-1] if self._done and self._merging else None
        merges = last is not None and bool(merge) and last.merge == merge
        if after == before:
            return False
        self._undone.clear()
        if merges and last is not None:
            last.name, last.after = name, after
            if last.after == last.before:
                self._done.pop()
        else:
            self._done.append(_Step(name, merge, before, after))
        self._merging = bool(merge)
        self._become(after, name, "edit")
        return True

    def end_merge(self) -> None:
        """End a run of merged edits: the next edit is a step of its own."""
        self._merging = False

    def undo(self) -> str:
        """Take back the last step; its name, or "" if there is none."""
        self.end_merge()
        if not self._done:
            return ""
        step = self._done.pop()
        self._undone.append(step)
        self._become(step.before, step.name, "undo")
        return step.name

    def redo(self) -> str:
        """Do the last undone step again; its name, or "" if there is none."""
        self.end_merge()
        if not self._undone:
            return ""
        step = self._undone.pop()
        self._done.append(step)
        self._become(step.after, step.name, "redo")
        return step.name

    def become_copy(self, routine_id: str) -> None:
        """Be a routine of its own from here on, with another id; every step back is one of it."""
        if routine_id == self._routine.id:
            return
        for step in (*self._done, *self._undone):
            step.before = replace(step.before, id=routine_id)
            step.after = replace(step.after, id=routine_id)
        if self._saved is not None:
            self._saved = replace(self._saved, id=routine_id)
        self._routine = replace(self._routine, id=routine_id)

    def mark_saved(self, path: Path | None = None) -> None:
        """Note that the current routine is safely on disk, at `path` if one is given."""
        self.end_merge()
        self._saved = self._routine
        self._path = path or self._path
        self._tell(Change("save", frozenset(), "save"))

    def replace(self, routine: Routine, path: Path | None = None, *, saved: bool = True) -> None:
        """Open another routine: the steps are forgotten.

        `saved=False` says that it is not on disk as it stands (one recovered after a crash).
        """
        self.end_merge()
        self._done.clear()
        self._undone.clear()
        self._routine, self._path = routine, path
        self._saved = routine if saved else None
        self._tell(Change("open", ALL_PARTS, "open"))

    def observe(self, callback: Callback) -> Callable[[], None]:
        """Call `callback` after every change; returns a function that stops it."""
        key = self._next_key
        self._next_key += 1
        self._observers[key] = callback

        def stop() -> None:
            self._observers.pop(key, None)

        return stop

    def _become(self, routine: Routine, name: str, kind: str) -> None:
        before, self._routine = self._routine, routine
        self._tell(Change(name, differing_parts(before, routine), kind))

    def _tell(self, change: Change) -> None:
        """Tell every observer; a change made by an observer is told after this one.

        One that fails does not keep the others from hearing; its error is raised at the end.
        """
        self._waiting.append(change)
        if self._telling:
            return
        self._telling = True
        errors: list[Exception] = []
        try:
            while self._waiting:
                current = self._waiting.popleft()
                for key in tuple(self._observers):
                    callback = self._observers.get(key)
                    if callback is None:
                        continue
                    try:
                        callback(current)
                    except Exception as error:
                        errors.append(error)
        finally:
            self._telling = False
        if errors:
            raise errors[0]


def differing_parts(before: Routine, after: Routine) -> frozenset[str]:
    """Names of the fields in which two routines differ."""
    return frozenset(
        name
        for name in ALL_PARTS
        if getattr(before, name) is not getattr(after, name)
        and getattr(before, name) != getattr(after, name)
    )
