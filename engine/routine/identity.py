"""Which routine it is, and which state of it: an id that stays, and a revision by content.

The id is a UUID given when a routine is made; it stays while the routine is edited, renamed and
moved about, and a copy saved under another name gets one of its own. The revision is a short digest
of what decides set-up and shots, so that a sheet can say which state of a routine it was printed
from: table and conditions, balls, shots with how they are struck, gaps and marks on the cloth. Not
of what only names, explains or asks: titles, coach, club, level, notes, tags, questions,
answers, claims, whether a ball is locked, and what other programs keep in the file.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any
from uuid import UUID, uuid4, uuid5

from engine.conditions.model import CONDITION_NAMES
from engine.routine.values import Routine

#: Ids worked out from content are all made in this name space.
NAME_SPACE = UUID("0c6c0f0e-5a55-5a5f-9d0e-3b1b8f9f7c11")
#: Letters of a revision.
REVISION_LETTERS = 8

_DECIDES = (
    "table", "pocket_openings_mm", "measured_table", "conditions", "balls", "shots", "gaps",
    "cloth_marks",
)  # fmt: skip
#: Words and marks of the editor, wherever they stand.
_WORDS = frozenset({"title", "question", "answer", "note", "locked", "extra"})


def new_id() -> str:
    """An id no other routine has."""
    return str(uuid4())


def with_new_id(routine: Routine) -> Routine:
    """The same routine as one of its own, as a copy is."""
    return replace(routine, id=new_id())


def copied(made: Routine, start: Routine) -> Routine:
    """A routine made of another, as one of its own: made again the same way it is the same one."""
    return replace(made, id=id_of_content([id_of(start), made.title, revision_of(made)]))


def id_of_content(content: Any) -> str:
    """The id that JSON values make: the same for the same content, whatever its layout.

    >>> id_of_content({"a": 1, "b": 2}) == id_of_content({"b": 2, "a": 1})
    True
    """
    return str(uuid5(NAME_SPACE, _canonical(content)))


def id_of(routine: Routine) -> str:
    """A routine's id; where it was given none, the one its content makes."""
    return routine.id or id_of_content(_plain(routine, frozenset({"id"})))


def revision_of(routine: Routine) -> str:
    """Eight letters and digits that change when the set-up or a shot does.

    >>> revision_of(Routine()) == revision_of(Routine(title="Black", notes="Take your time."))
    True
    >>> revision_of(Routine()) == revision_of(Routine(conditions={"sliding_friction": 0.2}))
    False
    """
    decides = {name: _plain(getattr(routine, name), _WORDS) for name in _DECIDES}
    stated = {k: v for k, v in decides["conditions"].items() if k in CONDITION_NAMES}
    decides["conditions"] = stated  # the rest are remarks
    return hashlib.sha256(_canonical(decides).encode("ascii")).hexdigest()[:REVISION_LETTERS]


def _canonical(content: Any) -> str:
    return json.dumps(content, sort_keys=True, separators=(",", ":"), default=str)


def _plain(value: Any, leave_out: frozenset[str]) -> Any:
    """A value as JSON; numbers that are equal read alike, whether whole or not."""
    if is_dataclass(value):
        names = [field.name for field in fields(value) if field.name not in leave_out]
        return {name: _plain(getattr(value, name), leave_out) for name in names}
    if isinstance(value, Mapping):
        return {str(key): _plain(one, leave_out) for key, one in value.items()}
    if isinstance(value, tuple | list):
        return [_plain(one, leave_out) for one in value]
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value) + 0.0
    return value
