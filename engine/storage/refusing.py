"""Why the system would not read or write a file, in words a coach can act on."""

from __future__ import annotations

import errno

from engine.errors import Fault, RoutineFileError
from engine.storage.paths import FILE

#: No room, no room for this user, or a file beyond the size allowed to it.
_FULL = (errno.ENOSPC, getattr(errno, "EDQUOT", errno.ENOSPC), errno.EFBIG)


def refused(path: str, error: OSError | ValueError, what: str) -> RoutineFileError:
    """The error to raise for a file the system refused; `what` was tried ("cannot be saved")."""
    return RoutineFileError(path, [Fault(FILE, f"{what}: {_why(error, what)}")])


def _why(error: OSError | ValueError, what: str) -> str:
    if isinstance(error, ValueError):
        return "its name holds a letter that no file’s name can have; choose another name"
    if isinstance(error, FileNotFoundError):
        saving = what == "cannot be saved"
        return "its folder does not exist" if saving else "there is no such file; check the name"
    if isinstance(error, IsADirectoryError):
        return "it is a folder; name a file in it"
    if isinstance(error, NotADirectoryError):
        return "a part of its path is a file, not a folder"
    if isinstance(error, PermissionError):
        return "access is not allowed; check who may use it or choose another place"
    if error.errno in _FULL:
        return "the disk is full; make room or choose another place"
    if error.errno == errno.EROFS:
        return "the place can only be read, not written; choose another place"
    if error.errno == errno.ENAMETOOLONG:
        return "its name is longer than this disk allows; choose a shorter one"
    return error.strerror or type(error).__name__
