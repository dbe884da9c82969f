"""A routine as the text of its file: stable order of keys, what is usual left out."""

from __future__ import annotations

import json
from dataclasses import MISSING, fields
from typing import Any

from engine.balls import Ball
from engine.errors import OutOfRangeError
from engine.routine.identity import id_of, revision_of
from engine.routine.values import Claim, ClothMark, Gap, LaneAsk, Routine, Shot
from engine.storage.versions import FORMAT, VERSION
from engine.tables.measured import MeasuredTable

ORDER: tuple[str, ...] = (
    "title",
    "coach",
    "club",
    "level",
    "notes",
    "tags",
    "table",
    "pocket_openings_mm",
    "measured_table",
    "conditions",
    "balls",
    "shots",
    "gaps",
    "cloth_marks",
    "claims",
)


#: Keys that came later: without them the file stays as it always was.
LATER = ("tags", "cloth_marks")


def dump_routine(routine: Routine) -> str:
    """The text of the routine's file, ending in a line end; reading it gives the same routine.

    `OutOfRangeError` if a number is not finite.

    >>> dump_routine(Routine(id="00000000-0000-4000-8000-000000000000"))[:72]
    '{\\n  "format": "baizewright-routine",\\n  "version": 2,\\n  "id": "00000000-0'
    """
    data: dict[str, Any] = {"format": FORMAT, "version": VERSION}
    data |= {"id": id_of(routine), "revision": revision_of(routine)}
    for name in ORDER:
        value = getattr(routine, name)
        if value is not None and (value or name not in LATER):
            data[name] = measured_data(value) if name == "measured_table" else _plain(value)
    _add_extra(data, routine.extra)
    return json_text(data)


def measured_data(measured: MeasuredTable) -> dict[str, Any]:
    """A coach's measurements as JSON data; what is empty is left out."""
    data: dict[str, Any] = {}
    for name in ("title", "values", "spots_mm", "pocket_openings_mm", "note"):
        value = getattr(measured, name)
        if value:
            data[name] = _plain(value)
    _add_extra(data, measured.extra)
    return data


def json_text(data: dict[str, Any]) -> str:
    """The text of a file, ending in a line end; `OutOfRangeError` if a number is not finite."""
    try:
        text = json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False)
    except ValueError:
        raise OutOfRangeError(
            "a number in the file", "not finite", "finite numbers everywhere"
        ) from None
    # Half of a surrogate pair cannot be written as UTF-8; a question mark can.
    return text.encode("utf-8", "replace").decode("utf-8") + "\n"


def _plain(value: Any) -> Any:
    if isinstance(value, Ball | Shot | LaneAsk | Gap | Claim | ClothMark):
        return _item(value)
    if isinstance(value, tuple | list):
        return [_plain(part) for part in value]
    if hasattr(value, "items"):
        return {key: _plain(part) for key, part in value.items()}
    return _short(value)


def _item(value: Any) -> dict[str, Any]:
    """An item with the keys that are required or differ from what is usual."""
    data: dict[str, Any] = {}
    for field in fields(value):
        here = getattr(value, field.name)
        if field.name != "extra" and (field.default is MISSING or here != field.default):
            data[field.name] = _plain(here)
    _add_extra(data, value.extra)
    return data


def _short(value: Any) -> Any:
    """Whole millimetres are written without a point, as a coach reads them off a tape."""
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return int(value)
    return value


def _add_extra(data: dict[str, Any], extra: Any) -> None:
    for key, value in extra.items():
        data.setdefault(key, value)
