"""A row of the records' file as the practice it stands for, or what is damaged in it."""

from __future__ import annotations

import json
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from engine.errors import OutOfRangeError, printable, short
from engine.records.values import Kept, Practice, RecordsError


def kept(row: Sequence[Any], file: Path) -> Kept:
    """The line in a row of number, player, routine, day, attempts, made, step, misses and note.

    `RecordsError` names the cell that is damaged.
    """
    number, *cells = row
    read: dict[str, Any] = {}
    for (name, reader), cell in zip(_READERS.items(), cells, strict=True):
        try:
            read[name] = reader(cell)
        except (ValueError, TypeError, RecursionError):
            raise _damaged(file, number, f"its {name} is {short(repr(cell))}") from None
    try:
        return Kept(number, Practice(**read))
    except OutOfRangeError as error:
        raise _damaged(file, number, f"its {error.what} is {error.got}") from None


def _damaged(file: Path, number: int, what: str) -> RecordsError:
    return RecordsError(
        f"{printable(file)} is damaged: line {number} cannot be read, {what}. "
        "Put back a copy of the file; it was left as it is."
    )


def _text(cell: Any) -> str:
    if not isinstance(cell, str):
        raise TypeError
    return cell


def _whole(cell: Any) -> int:
    if not isinstance(cell, int):
        raise TypeError
    return cell


def _counts(cell: Any) -> dict[str, int]:
    found = json.loads(_text(cell))
    if not isinstance(found, dict):
        raise TypeError
    return {kind: _whole(count) for kind, count in found.items()}


_READERS: dict[str, Callable[[Any], Any]] = {
    "player": _text,
    "routine": _text,
    "day": lambda cell: date.fromisoformat(_text(cell)),
    "attempts": _whole,
    "made": _whole,
    "step": _whole,
    "misses": _counts,
    "note": _text,
}
