"""What a practice record holds: who made how many of how many, of what, and when."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

from engine.errors import BaizewrightError, OutOfRangeError, unwritable

#: How a shot was missed: the pot, or with the pot made the cue ball to one side, short or long.
MISSES: tuple[str, ...] = ("pot", "left", "right", "short", "long")
MOST_ATTEMPTS = 1000
LONGEST_NAME, LONGEST_TITLE, LONGEST_NOTE = 60, 200, 500


class RecordsError(BaizewrightError):
    """The file of the records cannot be used; nothing in it was changed."""


@dataclass(frozen=True, slots=True)
class Practice:
    """One line of the record: on a day, `made` of `attempts` at a step of a routine.

    `step` is the number of the shot, from 1. `misses` says of some or all that were not made how
    they were missed, by `MISSES`. `OutOfRangeError` for what cannot be.
    """

    player: str
    routine: str
    day: date
    attempts: int
    made: int
    step: int = 1
    misses: Mapping[str, int] = field(default_factory=dict)
    note: str = ""

    def __post_init__(self) -> None:
        checks = (
            ("player", self.player, LONGEST_NAME, False),
            ("routine", self.routine, LONGEST_TITLE, False),
            ("note", self.note, LONGEST_NOTE, True),
        )
        for what, text, longest, may_be_empty in checks:
            if len(text) > longest or not (text.strip() or may_be_empty) or not _one_line(text):
                wanted = f"a line of {'0' if may_be_empty else '1'} to {longest} letters"
                raise OutOfRangeError(what, repr(text[:80]), wanted)
            if unwritable(text):
                raise OutOfRangeError(what, ascii(text[:80]), "readable letters (UTF-8)")
        if not 1 <= self.attempts <= MOST_ATTEMPTS:
            raise OutOfRangeError("attempts", self.attempts, f"1 to {MOST_ATTEMPTS}")
        if not 0 <= self.made <= self.attempts:
            raise OutOfRangeError("made", self.made, f"0 to {self.attempts}, the attempts")
        if not 1 <= self.step <= 99:
            raise OutOfRangeError("step", self.step, "1 to 99, the number of the shot")
        for kind, count in self.misses.items():
            if kind not in MISSES:
                raise OutOfRangeError("kind of miss", repr(kind), ", ".join(MISSES))
            if count < 0:
                raise OutOfRangeError(f"missed {kind}", count, "0 or more")
        if sum(self.misses.values()) > self.attempts - self.made:
            raise OutOfRangeError(
                "misses", sum(self.misses.values()),
                f"at most {self.attempts - self.made}, as many as were not made",
            )  # fmt: skip
        kept = {kind: self.misses[kind] for kind in MISSES if self.misses.get(kind)}
        object.__setattr__(self, "misses", MappingProxyType(kept))

    @property
    def key(self) -> tuple[object, ...]:
        """Everything it says, to tell two lines apart."""
        return (self.player, self.routine, self.step, self.day, self.attempts, self.made,
                tuple(self.misses.items()), self.note)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Kept:
    """A line of the record with its number in the file."""

    number: int
    practice: Practice


@dataclass(frozen=True, slots=True)
class Taken:
    """What an import did: lines taken in, and lines left out as they were there before."""

    taken: int
    there_before: int


def _one_line(text: str) -> bool:
    return not any(letter in "\r\n\0" for letter in text)
