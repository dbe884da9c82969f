"""Reading routine files for the commands: every fault on a line of its own."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from engine.errors import BaizewrightError, RoutineFileError, printable
from engine.routine.values import Routine
from engine.storage import InTheWayError, load_routine


def read_routine(file: str) -> Routine | None:
    """The routine in a file; None after its faults were written to the error stream."""
    try:
        return load_routine(file)
    except BaizewrightError as error:
        tell(file, error)
        return None


def read_all(files: Sequence[str]) -> list[Routine] | None:
    """All routines; None when a file is at fault (the faults of every file are told)."""
    found = [read_routine(file) for file in files]
    sound = [routine for routine in found if routine is not None]
    return sound if len(sound) == len(found) else None


def tell(file: str, error: BaizewrightError) -> None:
    """Write an error to the error stream, one line a fault, each beginning with the file."""
    if isinstance(error, RoutineFileError):
        more = ", or give --replace to write over it" if isinstance(error, InTheWayError) else ""
        lines = [f"{error.file}: {line}{more}" for line in error.told()]
    else:
        lines = [f"{printable(file)}: {error}"]
    for line in lines:
        print(" ".join(line.split()), file=sys.stderr)
