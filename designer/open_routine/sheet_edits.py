"""Edits of what stands on the sheet: title, coach, club, level, notes, and the table."""

from __future__ import annotations

from collections.abc import Callable

from designer.open_routine.editing import Editing
from designer.open_routine.move_edits import MoveEdits
from designer.texts import mark, tr
from engine.routine import edits
from engine.routine.values import Routine

_SETTERS: dict[str, Callable[[Routine, str], Routine]] = {
    "title": edits.set_title,
    "coach": edits.set_coach,
    "club": edits.set_club,
    "notes": edits.set_notes,
}


_STEPS = {
    "title": mark("Title"),
    "coach": mark("Coach"),
    "club": mark("Club"),
    "notes": mark("Notes"),
}


class SheetEdits:
    """Words of the routine; typing in one field is one step until it is left."""

    def __init__(self, session: Editing) -> None:
        self._session = session

    def set_text(self, what: str, text: str) -> None:
        """Set the "title", "coach", "club" or "notes"."""
        setter = _SETTERS[what]
        self._session.apply(
            tr(_STEPS[what]), lambda routine: setter(routine, text), merge=f"sheet {what}"
        )

    def set_level(self, level: int) -> None:
        """Set the level, 1 (first lessons) to 5."""
        self._session.apply(tr("Level"), lambda routine: edits.set_level(routine, level))

    def set_table(self, table_id: str) -> None:
        """Move the routine to another table; what came of it is told."""
        MoveEdits(self._session).to(table_id)

    def rest(self) -> None:
        """End a run of typing: the next change is a step of its own."""
        self._session.document.end_merge()
