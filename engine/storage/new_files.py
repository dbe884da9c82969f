"""New files beside those they are to replace: held while written, cleared away when left behind.

A writer holds a lock on its new file, which the system lets go of when the writer ends in whatever
way. So the next writer in the folder can tell a file left behind from one being written, on any
machine and whatever numbers processes have. On Windows an open file cannot be removed, which
serves the same end.

Two kinds of names are used, and only files of these names are ever cleared away:
`.baizewright-….part` is being written; `.baizewright-….INODE.whole` holds all that is to be
written over a file of several names.
"""

from __future__ import annotations

import contextlib
import os
import re
import secrets
import shutil
import time
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

# Short, whatever the name of the file that is written: names may have 255 bytes at most.
_PREFIX = ".baizewright-"
_PART = re.compile(r"\.baizewright-[0-9a-f]{12}\.part")
_WHOLE = re.compile(r"\.baizewright-[0-9a-f]{12}\.([0-9a-f]+)\.whole")
#: No writer takes longer from a new file to the old one's place, s.
_A_WHILE_S = 60.0
_TEXT_AS_IT_IS = getattr(os, "O_BINARY", 0)


@contextlib.contextmanager
def new_file(folder: Path, content: bytes | Path, rights: int = 0o666) -> Iterator[Path]:
    """A new file in the folder, forced to disk; gone afterwards if it was not renamed.

    It holds the bytes given or those of another file. `rights` are lessened by what the person
    lets new files have (the umask).
    """
    path, out = _begin(folder, rights)
    try:
        if isinstance(content, Path):
            with content.open("rb") as source:
                shutil.copyfileobj(source, out)
        else:
            out.write(content)
        out.flush()
        os.fsync(out.fileno())
        if os.name != "posix":
            out.close()  # an open file cannot be renamed there
        yield path
    finally:
        with contextlib.suppress(OSError):
            path.unlink()
        with contextlib.suppress(OSError):
            out.close()


def _begin(folder: Path, rights: int) -> tuple[Path, BinaryIO]:
    while True:
        path = folder / f"{_PREFIX}{secrets.token_hex(6)}.part"
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | _TEXT_AS_IT_IS, rights)
        out = os.fdopen(handle, "wb")
        _hold(handle)
        # Somebody clearing up may have come between the two.
        with contextlib.suppress(OSError):
            if os.path.samestat(os.fstat(handle), path.stat()):
                return path, out
        out.close()


def write_over(new: Path, target: Path) -> None:
    """Write a new file's content into the place of the target, which keeps all its names.

    `OSError` when it cannot be, the target then holding what it held.
    """
    before, after = target.read_bytes(), new.read_bytes()
    whole = new.with_name(f"{new.stem}.{target.stat().st_ino:x}.whole")
    os.replace(new, whole)
    settle_folder(whole.parent)
    try:
        _pour(after, target)
    except BaseException:
        _pour(before, target)
        whole.unlink(missing_ok=True)
        raise
    whole.unlink(missing_ok=True)


def _pour(content: bytes, target: Path) -> None:
    with target.open("r+b") as out:
        out.write(content)
        out.truncate()
        out.flush()
        os.fsync(out.fileno())


def finish_left(folder: Path) -> None:
    """Clear away what writers that have ended left in a folder; finish what one wrote in place."""
    left: list[Path] = []
    with contextlib.suppress(OSError), os.scandir(folder) as entries:
        left = [Path(entry.path) for entry in entries if entry.name.startswith(_PREFIX)]
    for path in left:
        whole = _WHOLE.fullmatch(path.name)
        if whole or _PART.fullmatch(path.name):
            with contextlib.suppress(OSError):
                _clear(path, int(whole.group(1), 16) if whole else 0)


def _clear(path: Path, inode: int) -> None:
    with path.open("r+b") as left:
        about = os.fstat(left.fileno())
        written = about.st_mtime
        if not _hold(left.fileno()) or (os.name != "posix" and time.time() - written < _A_WHILE_S):
            return
        if not os.path.samestat(about, path.stat()):
            return  # its writer was there after all, and has finished
        target = _of_inode(path.parent, inode) if inode else None
        if target is not None and target.stat().st_mtime - written < _A_WHILE_S:
            _pour(left.read(), target)  # else somebody has seen to it since
        if os.name == "posix":
            path.unlink()
            return
    path.unlink()


def _of_inode(folder: Path, inode: int) -> Path | None:
    with os.scandir(folder) as entries:
        return next((Path(one.path) for one in entries if one.inode() == inode), None)


def _hold(handle: int) -> bool:
    """Lock an open file until it is closed; False while another holds it, or nothing is known."""
    try:
        import fcntl
    except ImportError:
        return True  # Windows: whoever holds a file keeps it from being removed
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def settle_folder(folder: Path) -> None:
    """Force the change of names to disk where the system allows it (not on Windows)."""
    if os.name != "posix":
        return
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
