"""Routine files on disk: read whole, and saved with what was there before kept beside."""

from __future__ import annotations

import hashlib

from engine.errors import Fault, RoutineFileError, printable, unwritable
from engine.routine.values import Routine
from engine.storage.parse import parse_routine
from engine.storage.reading import StrPath, read_bytes, read_text
from engine.storage.write import dump_routine
from engine.storage.writing import SAVING, WriteRules, write_file


def load_routine(path: StrPath) -> Routine:
    """The routine in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_routine(read_text(path), str(path))


def save_routine(routine: Routine, path: StrPath, rules: WriteRules = SAVING) -> None:
    """Write the routine's file; what the file held before is kept (see `previous_copy`).

    `RoutineFileError` says why a file could not be written; the old one is then untouched.
    """
    save_text(dump_routine(routine), path, "routine", rules)


def save_text(text: str, path: StrPath, kind: str, rules: WriteRules = SAVING) -> None:
    """Write a file of ours, of a kind in `file_kinds`; as `save_routine`."""
    write_file(path, text, kind, rules, previous=True)


def must_be_writable(path: StrPath, place: str, name: str) -> None:
    """`RoutineFileError` when a file's name cannot stand in the file at `path`."""
    if unwritable(name):
        message = f'is "{printable(name)}", wanted a name in UTF-8; rename that file and try again'
        raise RoutineFileError(str(path), [Fault(place, message)])


def fingerprint(path: StrPath) -> str:
    """What a file holds, in short: equal for equal content, "" when it cannot be read.

    >>> fingerprint("/there is no such file")
    ''
    """
    try:
        return hashlib.sha256(read_bytes(path)).hexdigest()
    except RoutineFileError:
        return ""
