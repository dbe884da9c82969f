"""The short family of errors the engine raises: what was given, what is wanted, what to do.

A half-finished routine is not an error: it has *problems* (see `engine.problems`).
Errors are for calls and files that cannot be answered at all.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

#: More faults, or names there are, than this are counted and not told: nobody reads on.
MOST_TOLD = 50
_MOST_NAMES, _LONGEST_PATH, _LONGEST_GIVEN = 30, 4096, 300


class BaizewrightError(Exception):
    """Base of every error raised on purpose; its text can be shown to the coach as it is.

    Two that say the same are equal, so that answers which carry one can be compared.
    """

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and self.args == getattr(other, "args", None)

    def __hash__(self) -> int:
        return hash((type(self), self.args))


class OutOfRangeError(BaizewrightError, ValueError):
    """A value lies outside what can be played or measured.

    Whatever was given, its text stays one sentence:

    >>> len(str(OutOfRangeError("level", "9" * 20_000, "a number"))) < 400
    True
    """

    def __init__(self, what: str, got: object, wanted: str, advice: str = "") -> None:
        self.what, self.got, self.wanted, self.advice = what, got, wanted, advice
        tail = f" {advice}" if advice else ""
        told = short(str(got), _LONGEST_GIVEN)
        super().__init__(f"{what} is {told}; wanted {wanted}.{tail}")


class UnknownNameError(BaizewrightError, KeyError):
    """A name (ball, pocket, table, shot) that is not in the routine or the tables."""

    def __init__(self, what: str, got: str, known: tuple[str, ...] | list[str]) -> None:
        self.what, self.got, self.known = what, got, tuple(known)
        self.text = (
            f"there is no {what} called {short(repr(got))}; known here: {listed(self.known)}."
        )
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
    """A file that cannot be read; carries its faults, one line each.

    `faults` may be the first ones only: `more` others were found and not kept.
    """

    def __init__(self, file: str, faults: Sequence[Fault], more: int = 0) -> None:
        self.file, self.faults, self.more = printable(file), tuple(faults), more
        super().__init__("\n".join(f"{self.file}: {line}" for line in self.told()))

    @property
    def count(self) -> int:
        """How many faults were found."""
        return len(self.faults) + self.more

    def told(self, most: int = MOST_TOLD) -> list[str]:
        """The first faults, one line each, and a line that counts the rest.

        >>> RoutineFileError("a.json", [Fault("x", "is 1")], more=3_950).told()
        ['x: is 1', 'and 3,950 more']
        """
        lines = [str(fault) for fault in self.faults[:most]]
        rest = self.count - len(lines)
        return [*lines, f"and {rest:,} more"] if rest else lines


class WrongKindError(RoutineFileError):
    """A file that is sound, but of another kind than the one wanted."""


def listed(names: Sequence[str], if_none: str = "none") -> str:
    """Names as a list in a sentence, the first ones of very many.

    >>> listed(["A", "B"]), listed([])
    ('A, B', 'none')
    """
    if not names:
        return if_none
    more = f" and {len(names) - _MOST_NAMES:,} more" if len(names) > _MOST_NAMES else ""
    return ", ".join(short(name) for name in names[:_MOST_NAMES]) + more


def short(text: str, most: int = 60) -> str:
    """A text that may be a whole book, as it can stand in a sentence.

    >>> short("Black"), len(short("Black" * 1000))
    ('Black', 60)
    """
    return text if len(text) <= most else f"{text[: most - 3]}..."


def printable(name: object) -> str:
    r"""A file's name as it can be printed: what is no letter, and no UTF-8, is written out.

    >>> printable("drills/black.json"), printable("caf\udce9.json"), printable("a\0b")
    ('drills/black.json', 'caf\\xe9.json', 'a\\x00b')
    """
    text = short(str(name), _LONGEST_PATH)
    return "".join(letter if letter.isprintable() else _written_out(letter) for letter in text)


def unwritable(text: str) -> bool:
    """Whether a text has letters no file can hold: half of a pair, or bytes that are no UTF-8.

    >>> unwritable("café"), unwritable("caf\\udce9")
    (False, True)
    """
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        return True
    return False


def _written_out(letter: str) -> str:
    code = ord(letter)
    # Python's stand-ins for bytes of a name that are no UTF-8 (PEP 383).
    return f"\\x{code - 0xDC00:02x}" if 0xDC80 <= code <= 0xDCFF else ascii(letter)[1:-1]
