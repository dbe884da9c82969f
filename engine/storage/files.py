"""Routine files on disk: read whole, and saved with what was there before kept beside."""

from __future__ import annotations

import hashlib
import stat
from pathlib import Path

from engine.routine.values import Routine
from engine.storage.new_files import finish_left
from engine.storage.parse import parse_routine
from engine.storage.refusing import refused
from engine.storage.text import MAX_BYTES, decode, too_large
from engine.storage.write import dump_routine
from engine.storage.writing import SAVING, StrPath, WriteRules, write_file


def load_routine(path: StrPath) -> Routine:
    """The routine in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_routine(read_text(path), str(path))


def read_text(path: StrPath) -> str:
    """The text of a file of ours; `RoutineFileError` says why it cannot be read."""
    source = Path(path)
    try:
        about = source.stat()
        if about.st_size > MAX_BYTES and source.is_file():
            raise too_large(about.st_size, str(path))
        if about.st_nlink > 1 and stat.S_ISREG(about.st_mode):
            finish_left(source.parent)
        data = source.read_bytes()
    except OSError as error:
        raise refused(str(path), error, "cannot be read") from error
    return decode(data, str(path))


def save_routine(routine: Routine, path: StrPath, rules: WriteRules = SAVING) -> None:
    """Write the routine's file; what the file held before is kept (see `previous_copy`).

    `RoutineFileError` says why a file could not be written; the old one is then untouched.
    """
    save_text(dump_routine(routine), path, "routine", rules)


def save_text(text: str, path: StrPath, kind: str, rules: WriteRules = SAVING) -> None:
    """Write a file of ours, of a kind in `file_kinds`; as `save_routine`."""
    write_file(path, text, kind, rules, previous=True)


def fingerprint(path: StrPath) -> str:
    """What a file holds, in short: equal for equal content, "" when it cannot be read.

    >>> fingerprint("/there is no such file")
    ''
    """
    source = Path(path)
    try:
        if not source.is_file() or source.stat().st_size > MAX_BYTES:
            return ""
        return hashlib.sha256(source.read_bytes()).hexdigest()
    except (OSError, ValueError):
        return ""
