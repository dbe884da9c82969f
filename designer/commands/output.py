"""Writing a result to a file: all of it or nothing, and a clear message when it cannot be."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from engine.errors import BaizewrightError


class OutputError(BaizewrightError):
    """A result that could not be written; what the file held before is untouched."""


def write_whole(path: str | Path, data: bytes) -> None:
    """Write `data` to `path` so that a reader finds the old file or the new one, never a part.

    `OutputError` says why a file cannot be written and what to do.
    """
    target = Path(os.path.realpath(path))
    fresh = ""
    try:
        if target.is_dir():
            raise IsADirectoryError(f"{path} is a folder")
        handle, fresh = tempfile.mkstemp(prefix=f".{target.name}.", dir=target.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.chmod(fresh, _mode_of(target))
        os.replace(fresh, target)
    except BaseException as error:
        if fresh:
            with contextlib.suppress(OSError):
                os.unlink(fresh)
        if not isinstance(error, OSError):
            raise  # stopped from the keyboard, say: nothing is left behind
        reason = error.strerror or str(error)
        raise OutputError(
            f"{path} cannot be written: {reason}. "
            "Name a file in a folder that exists and that you may write to."
        ) from error


def _mode_of(target: Path) -> int:
    """The rights of the file that is replaced, or those a new file gets here."""
    with contextlib.suppress(OSError):
        return target.stat().st_mode & 0o777
    mask = os.umask(0)
    os.umask(mask)
    return 0o666 & ~mask
