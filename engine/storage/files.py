"""Routine files on disk: read whole, written so that nothing good is ever lost.

A save goes to a new file beside the old one, is forced to disk, and only then takes the old
one's name; what was there before is kept as the previous copy.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import secrets
import shutil
from collections.abc import Iterator
from pathlib import Path

from engine.errors import Fault, RoutineFileError, printable, unwritable
from engine.routine.values import Routine
from engine.storage.parse import parse_routine
from engine.storage.paths import FILE
from engine.storage.reading import StrPath, read_bytes, read_text
from engine.storage.write import dump_routine

#: No room, no room for this user, or a file beyond the size allowed to it.
_FULL = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC), errno.EFBIG)


def load_routine(path: StrPath) -> Routine:
    """The routine in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_routine(read_text(path), str(path))


def save_routine(routine: Routine, path: StrPath) -> None:
    """Write the routine's file; what the file held before is kept (see `previous_copy`).

    `RoutineFileError` says why a file could not be written; the old one is then untouched.
    """
    save_text(dump_routine(routine), path)


def save_text(text: str, path: StrPath) -> None:
    """Write a file of ours; as `save_routine`."""
    # Through a link the file it points to is written, not the link replaced.
    target = Path(os.path.realpath(path))
    data = text.encode("utf-8")
    try:
        before = read_bytes(target) if target.exists() else None
        if before == data:
            return
        with _written(target, data) as fresh:
            if before is not None:
                shutil.copymode(target, fresh)
                kept = previous_copy(target)
                with _written(kept, before) as old:
                    os.replace(old, kept)
            os.replace(fresh, target)
        _settle_folder(target.parent)
    except OSError as error:
        raise refused(str(path), error, "cannot be saved") from error


def must_be_writable(path: StrPath, place: str, name: str) -> None:
    """`RoutineFileError` when a file's name cannot stand in the file at `path`."""
    if unwritable(name):
        message = f'is "{printable(name)}", wanted a name in UTF-8; rename that file and try again'
        raise RoutineFileError(str(path), [Fault(place, message)])


def previous_copy(path: StrPath) -> Path:
    """Where the version before the last save is kept: beside the file, under a hidden name.

    >>> previous_copy("drills/black.json").name
    '.black.json.previous'
    """
    target = Path(path)
    return target.with_name(f".{target.name}.previous")


def fingerprint(path: StrPath) -> str:
    """What a file holds, in short: equal for equal content, "" when it cannot be read.

    >>> fingerprint("/there is no such file")
    ''
    """
    try:
        return hashlib.sha256(read_bytes(path)).hexdigest()
    except RoutineFileError:
        return ""


@contextlib.contextmanager
def _written(target: Path, data: bytes) -> Iterator[Path]:
    """A new file beside the target with that content, forced to disk; gone if not used."""
    fresh = target.with_name(f".{target.name.lstrip('.')}.{secrets.token_hex(4)}.part")
    try:
        with fresh.open("xb") as out:
            out.write(data)
            out.flush()
            os.fsync(out.fileno())
        yield fresh
    finally:
        with contextlib.suppress(OSError):
            fresh.unlink()


def _settle_folder(folder: Path) -> None:
    """Force the change of names to disk where the system allows it (not on Windows)."""
    if os.name != "posix":
        return
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def refused(path: str, error: OSError, what: str) -> RoutineFileError:
    """Why the system would not read or write a file, in words; `what` was tried."""
    if isinstance(error, FileNotFoundError):
        saving = what == "cannot be saved"
        why = "its folder does not exist" if saving else "there is no such file; check the name"
    elif isinstance(error, IsADirectoryError):
        why = "it is a folder; name a file in it"
    elif isinstance(error, NotADirectoryError):
        why = "a part of its path is a file, not a folder"
    elif isinstance(error, PermissionError):
        why = "access is not allowed; check who may use it or choose another place"
    elif error.errno in _FULL:
        why = "the disk is full; make room or choose another place"
    elif error.errno == errno.EROFS:
        why = "the place can only be read, not written; choose another place"
    else:
        why = error.strerror or type(error).__name__
    return RoutineFileError(path, [Fault(FILE, f"{what}: {why}")])
