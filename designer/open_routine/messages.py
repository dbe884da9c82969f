"""The one route for telling the coach something: what happened, and what to do about it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from PySide6.QtCore import QObject, Signal

from engine.errors import BaizewrightError, RoutineFileError

Weight = Literal["note", "warning", "error"]


@dataclass(frozen=True, slots=True)
class Message:
    """`what` happened, `todo` about it, and `details`, one line each; `file` is what was made."""

    what: str
    todo: str = ""
    details: tuple[str, ...] = ()
    weight: Weight = "note"
    file: Path | None = None


class Messages(QObject):
    """Carries messages from whoever has one to the window, which shows them."""

    told = Signal(object)

    def note(self, what: str, todo: str = "", file: Path | None = None) -> None:
        """Say that something went as wanted; a file made by it can be opened from there."""
        self.told.emit(Message(what, todo, file=file))

    def warn(self, what: str, todo: str = "") -> None:
        """Say that something could not be done, nothing being lost by it."""
        self.told.emit(Message(what, todo, weight="warning"))

    def fail(self, what: str, todo: str, error: BaizewrightError | OSError | None = None) -> None:
        """Say that something failed; a file's faults become one line of detail each."""
        self.told.emit(Message(what, todo, details_of(error), "error"))


def details_of(error: Exception | None) -> tuple[str, ...]:
    """One line for each fault of an error."""
    if error is None:
        return ()
    if isinstance(error, RoutineFileError):
        return tuple(error.told())
    if isinstance(error, OSError) and error.strerror:
        return (f"{error.strerror}: {error.filename}" if error.filename else error.strerror,)
    return tuple(str(error).splitlines())
