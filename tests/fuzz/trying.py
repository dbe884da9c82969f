"""One input after the other: read or refused with our own error, and written back the same."""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import cache
from typing import Any

from engine.errors import BaizewrightError
from tests.fuzz.readers import Reader, readers

#: One in so many that are read is also written and read again.
AGAIN = 4
#: What is told of a refusal may be a page, never a book.
MOST_WORDS = 20_000


@dataclass(frozen=True, slots=True)
class Finding:
    """An input that did what none may do."""

    reader: str
    number: int
    given: Any
    what: str


def attempt(seed: str, number: int) -> tuple[str, bool, Finding | None]:
    """The same input for a seed and number: its reader, whether it was read, what is wrong."""
    dice = random.Random(f"{seed} {number}")
    reader = _drawn(dice)
    given = reader.spoil(dice, dice.choice(reader.samples))
    was_read, what = _tried(dice, reader, given)
    return reader.name, was_read, Finding(reader.name, number, given, what) if what else None


@cache
def _shares() -> tuple[int, ...]:
    return tuple(reader.share for reader in readers())


def _drawn(dice: random.Random) -> Reader:
    return dice.choices(readers(), _shares())[0]


def _tried(dice: random.Random, reader: Reader, given: Any) -> tuple[bool, str]:
    """Whether it was read, and what is wrong ("" for nothing)."""
    try:
        found = reader.read(given)
    except BaizewrightError as error:
        words = str(error)
        fits = 0 < len(words.strip()) <= MOST_WORDS
        return False, "" if fits else f"an error of {len(words)} letters"
    except Exception as error:
        return False, repr(error)
    if reader.again is None or dice.randrange(AGAIN):
        return True, ""
    try:
        written = reader.again(found)
        back = reader.read(written)
        same = back == found or (reader.rounds and reader.again(back) == written)
    except Exception as error:
        return True, f"again: {error!r}"
    return True, "" if same else "again: not the same"
