"""The one way to read a file: an ordinary one, of a sensible size, of text that can be read.

Whatever else a name leads to (a pipe, a device, a folder) is told in plain words and not touched:
reading a device may never end, and opening one may already do something.
"""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

from engine.errors import Fault, RoutineFileError
from engine.storage.new_files import finish_left
from engine.storage.paths import FILE

StrPath = str | os.PathLike[str]

#: A routine takes a few kilobytes, a year of practice of a club less than a megabyte.
MAX_BYTES = 4_000_000
_PART = 1 << 20
#: A pipe that is opened so does not wait for somebody to write into it, a terminal stays nobody's.
_FLAGS = (
    os.O_RDONLY
    | getattr(os, "O_NONBLOCK", 0)
    | getattr(os, "O_NOCTTY", 0)
    | getattr(os, "O_CLOEXEC", 0)
    | getattr(os, "O_BINARY", 0)
)
_NOT_FILES = (
    (stat.S_ISDIR, "it is a folder; name a file in it"),
    (stat.S_ISFIFO, "it is a pipe, not a file; write what it gives into a file and name that"),
    (stat.S_ISSOCK, "it is a socket of a running program, not a file; name a file"),
    (stat.S_ISCHR, "it is a device, not a file; name a file"),
    (stat.S_ISBLK, "it is a device, not a file; name a file"),
)
_WHY = {
    errno.ENOENT: "there is no such file; check the name",
    errno.EISDIR: "it is a folder; name a file in it",
    errno.ENOTDIR: "a part of its path is a file, not a folder",
    errno.EACCES: "access is not allowed; check who may use it or choose another place",
    errno.EPERM: "access is not allowed; check who may use it or choose another place",
    errno.ENAMETOOLONG: "its name is longer than the system takes; use a shorter one",
    errno.ELOOP: "its name is a link that leads round in a circle; name the file itself",
    errno.ENXIO: "it is no file that can be read; name a file",
}


def read_text(path: StrPath, *, kind: str = "routine", most_bytes: int = MAX_BYTES) -> str:
    """The text of a file; `kind` is what it should hold, for messages.

    `RoutineFileError` when there is no such file, it is none of the ordinary sort, is larger
    than `most_bytes`, or is no UTF-8 text.
    """
    return decode(read_bytes(path, kind=kind, most_bytes=most_bytes), str(path), kind, most_bytes)


def read_bytes(path: StrPath, *, kind: str = "routine", most_bytes: int = MAX_BYTES) -> bytes:
    """The content of a file; errors as `read_text`, but for the text."""
    name = str(path)
    if "\0" in name:
        raise unreadable(name, "its name has a letter in it that no name can have (number 0)")
    try:
        # Looked at before it is opened, as opening a device can do things (wind a tape back, say),
        # and after, as it may be another one by then.
        about = os.stat(path)
        _must_be_a_file(name, about.st_mode)
        if about.st_nlink > 1:
            finish_left(Path(path).parent)  # it may have been left half written in its place
        handle = os.open(path, _FLAGS)
        try:
            about = os.fstat(handle)
            _must_be_a_file(name, about.st_mode)
            if about.st_size > most_bytes:
                raise too_large(about.st_size, name, kind, most_bytes)
            data = _content(handle, most_bytes)
        finally:
            os.close(handle)
    except OSError as error:
        why = _WHY.get(error.errno or 0, error.strerror or type(error).__name__)
        raise unreadable(name, why) from error
    except ValueError as error:  # a name that cannot be put into the system's letters
        raise unreadable(name, f"its name cannot be used here ({error})") from error
    if len(data) > most_bytes:  # it grew, or is one of those the system says are empty
        raise too_large(len(data), name, kind, most_bytes)
    return data


def _must_be_a_file(name: str, mode: int) -> None:
    if not stat.S_ISREG(mode):
        why = next((why for is_it, why in _NOT_FILES if is_it(mode)), "it is no ordinary file")
        raise unreadable(name, why)


def _content(handle: int, most_bytes: int) -> bytes:
    """What is in an open file, a little more than `most_bytes` of it at most."""
    found = bytearray()
    while len(found) <= most_bytes and (part := os.read(handle, _PART)):
        found += part
    return bytes(found)


def decode(data: bytes, name: str, kind: str = "routine", most_bytes: int = MAX_BYTES) -> str:
    """The text of a file; `RoutineFileError` unless it is UTF-8 of a sensible size."""
    if len(data) > most_bytes:
        raise too_large(len(data), name, kind, most_bytes)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise RoutineFileError(
            name, [Fault(FILE, "is UTF-16 text, wanted UTF-8; save it as UTF-8")]
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        message = f"byte {error.start} is not UTF-8 text, wanted UTF-8; save the file as UTF-8"
        raise RoutineFileError(name, [Fault(f"line {line}", message)]) from None


def too_large(
    size: int, name: str, kind: str = "routine", most_bytes: int = MAX_BYTES
) -> RoutineFileError:
    """The error for a file of that many bytes."""
    message = f"has {size:,} bytes, wanted at most {most_bytes:,}; this is no {kind}"
    return RoutineFileError(name, [Fault(FILE, message)])


def unreadable(name: str, why: str) -> RoutineFileError:
    """The error for a file that cannot be had at all."""
    return RoutineFileError(name, [Fault(FILE, f"cannot be read: {why}")])
