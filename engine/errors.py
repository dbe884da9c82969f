"""The short family of errors the engine raises: what was given, what is wanted, what to do.

A half-finished routine is not an error: it has *problems* (see `engine.problems`).
Errors are for calls and files that cannot be answered at all.
"""

from __future__ import annotations

from dataclasses import dataclass


class BaizewrightError(Exception):
    """Base of every error raised on purpose; its text can be shown to the coach as it is."""


class OutOfRangeError(BaizewrightError, ValueError):
    """A value lies outside what can be played or measured."""

    def __init__(self, what: str, got: object, wanted: str, advice: str = "") -> None:
        self.what, self.got, self.wanted, self.advice = what, got, wanted, advice
        tail = f" {advice}" if advice else ""
        super().__init__(f"{what} is {got}; wanted {wanted}.{tail}")


class UnknownNameError(BaizewrightError, KeyError):
    """A name (ball, pocket, table, shot) that is not in the routine or the tables."""

    def __init__(self, what: str, got: str, known: tuple[str, ...] | list[str]) -> None:
        self.what, self.got, self.known = what, got, tuple(known)
        listed = ", ".join(self.known) if self.known else "none"
        self.text = f"there is no {what} called {got!r}; known here: {listed}."
        super().__init__(self.text)

    def __str__(self) -> str:
        return self.text


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault found in a file: where it stands (a path such as `balls[2].x_mm`) and what."""

    path: str
    message: str

    def __str__(self) -> str:
        return f"{self.path}: {self.message}"


class RoutineFileError(BaizewrightError):
    """A file that cannot be read as a routine; carries every fault found, one line each."""

    def __init__(self, file: str, faults: tuple[Fault, ...] | list[Fault]) -> None:
        self.file, self.faults = file, tuple(faults)
        super().__init__("\n".join(f"{file}: {fault}" for fault in self.faults))
