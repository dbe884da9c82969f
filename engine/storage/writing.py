"""The one way a file is written, so that nothing good is ever lost.

- What is new goes into a file beside the old one, is forced to the disk, and only then takes the
  old one's name. A reader finds the old file or the new one, never a part.
- What is read is never written over. Where something else stands than what is written, whoever
  asks says whether it may go (`WriteRules`).
- Rights, owner and extended attributes stay those of the file that is replaced. Through a symbolic
  link the file it points to is written. A file with several names (hard links) keeps them: once
  its new content lies whole beside it, it is written in its own place; should that be broken off,
  the next write in the folder or the next reading of the file finishes it (`finish_left`).
- A new file whose writer has gone is cleared away by the next writer in that folder.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from engine.errors import Fault, RoutineFileError
from engine.storage.file_kinds import KINDS, MADE, kind_of
from engine.storage.new_files import finish_left, new_file, settle_folder, write_over
from engine.storage.paths import FILE
from engine.storage.refusing import refused

StrPath = str | os.PathLike[str]
#: Whether what stands there may go: only a sheet or picture of the same kind, which is made again
#: at any time; any file of the same kind, as a save does; or anything, as a person has agreed.
MayReplace = Literal["made", "same", "any"]
_OWNER_ALONE = 0o600
_LONGEST_NAME = 255


@dataclass(frozen=True, slots=True)
class WriteRules:
    """What a write may do: `inputs` are never written over, whatever they are called.

    A `private` file may be read by its owner alone: what is told of players.
    """

    inputs: Sequence[StrPath] = ()
    may_replace: MayReplace = "same"
    private: bool = False


#: What a save does: it takes the place of the same kind of file.
SAVING = WriteRules()


class InTheWayError(RoutineFileError):
    """Something stands where a file is to be written, and would be lost; it was left as it is."""


def write_file(
    path: StrPath,
    data: bytes | str,
    kind: str,
    rules: WriteRules = SAVING,
    *,
    previous: bool = False,
) -> None:
    """Write a file of a kind (of `file_kinds.KINDS`), text as UTF-8; nothing for what it holds.

    With `previous` what it held before is kept (see `previous_copy`). `RoutineFileError` says why
    it could not be, `InTheWayError` that something else stands there: all is then as it was.
    """
    content = data.encode("utf-8") if isinstance(data, str) else data
    check_write(path, kind, rules)
    try:
        _write(Path(os.path.realpath(path)), content, rules.private, previous)
    except OSError as error:
        raise refused(str(path), error, "cannot be saved") from error


def check_write(path: StrPath, kind: str, rules: WriteRules = SAVING) -> None:
    """Raise what `write_file` would for what stands there: before long work, not after it."""
    name = str(path)
    try:
        target = Path(os.path.realpath(path))
        target.parent.stat()  # there has to be a folder
        there = kind_of(target)
        if _is_one_of(target, rules.inputs):
            told = "is read here and would be lost; name another file to write"
            raise RoutineFileError(name, [Fault(FILE, told)])
        if there and not _may_go(there, kind, rules.may_replace):
            already = " already" if there == kind else ""
            told = f"holds {KINDS[there]}{already}, which would be lost; name another file"
            raise InTheWayError(name, [Fault(FILE, told)])
        if target.exists() and not os.access(target, os.W_OK):
            raise PermissionError(f"{name} may not be written")
    except (OSError, ValueError) as error:
        raise refused(name, error, "cannot be saved") from error


def in_the_way(path: StrPath, kind: str) -> str:
    """The kind of file that stands where one of another kind is to be written; "" for none."""
    try:
        there = kind_of(Path(os.path.realpath(path)))
    except (OSError, ValueError):
        return ""  # writing says why
    return "" if not there or _may_go(there, kind, "same") else there


def previous_copy(path: StrPath) -> Path:
    """Where the version before the last save is kept: beside the file, under a hidden name.

    >>> previous_copy("drills/black.json").name
    '.black.json.previous'
    """
    target = Path(path)
    name = f".{target.name}.previous"
    if len(os.fsencode(name)) > _LONGEST_NAME:
        name = f".{hashlib.sha256(os.fsencode(target.name)).hexdigest()[:24]}.previous"
    return target.with_name(name)


def remove_file(path: StrPath) -> None:
    """Take a file of the program's own away, with the copy of what it held before."""
    for one in (Path(path), previous_copy(path)):
        with contextlib.suppress(OSError):
            one.unlink()


def _is_one_of(target: Path, inputs: Sequence[StrPath]) -> bool:
    """Whether it is the same file, by whatever name."""
    if not target.exists():
        return False
    about = target.stat()
    for one in inputs:
        with contextlib.suppress(OSError, ValueError):
            if os.path.samestat(about, os.stat(one)):
                return True
    return False


def _may_go(there: str, kind: str, allowed: MayReplace) -> bool:
    return allowed == "any" or (there == kind and (allowed == "same" or kind in MADE))


def _write(target: Path, content: bytes, private: bool, previous: bool) -> None:
    finish_left(target.parent)
    before = target.stat() if target.exists() else None
    if before is None:
        with new_file(target.parent, content, _OWNER_ALONE if private else 0o666) as fresh:
            os.replace(fresh, target)
        settle_folder(target.parent)
        return
    if before.st_size != len(content) or target.read_bytes() != content:
        with new_file(target.parent, content, _OWNER_ALONE) as fresh:
            if previous:
                _keep(target)
            _take_place(fresh, target, private)
        settle_folder(target.parent)
    elif private:
        target.chmod(_OWNER_ALONE)


def _take_place(fresh: Path, target: Path, private: bool) -> None:
    if target.stat().st_nlink > 1:
        write_over(fresh, target)
        if private:
            target.chmod(_OWNER_ALONE)
        return
    _make_like(fresh, target)
    if private:
        fresh.chmod(_OWNER_ALONE)
    os.replace(fresh, target)


def _keep(target: Path) -> None:
    """Keep what a file holds now as its previous copy, for the same people."""
    with new_file(target.parent, target, _OWNER_ALONE) as copy:
        _make_like(copy, target)
        os.replace(copy, previous_copy(target))


def _make_like(fresh: Path, target: Path) -> None:
    """Give a new file the owner, rights and attributes of the one it stands in for."""
    about = target.stat()
    if hasattr(os, "chown"):
        # Only an administrator gives files away; a group one belongs to can be kept.
        for owner, group in ((-1, about.st_gid), (about.st_uid, -1)):
            with contextlib.suppress(OSError):
                os.chown(fresh, owner, group)
    with contextlib.suppress(OSError):
        shutil.copystat(target, fresh)
        os.utime(fresh)
