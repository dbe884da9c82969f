"""One input after the other: read or refused with our own error, and written back the same."""

from __future__ import annotations

import random
from dataclasses import dataclass

from engine.errors import BaizewrightError
from tests.fuzz.damage import damaged
from tests.fuzz.readers import readers

#: One in so many that are read is also written and read again.
AGAIN = 4


@dataclass(frozen=True, slots=True)
class Finding:
    """An input that did what none may do."""

    reader: str
    number: int
    text: str
    what: str


def attempt(number: int) -> tuple[str, bool, Finding | None]:
    """Input of that number (always the same): the reader, whether it was read, what is wrong."""
    dice = random.Random(number)
    all_readers = readers()
    reader = all_readers[number % len(all_readers)]
    text = damaged(dice, dice.choice(reader.samples), reader.is_json)
    try:
        found = reader.read(text)
    except BaizewrightError as error:
        if not str(error).strip():
            return reader.name, False, Finding(reader.name, number, text, "an error without words")
        return reader.name, False, None
    except Exception as error:
        return reader.name, False, Finding(reader.name, number, text, repr(error))
    if reader.again is not None and dice.randrange(AGAIN) == 0:
        try:
            written = reader.again(found)
            back = reader.read(written)
            same = back == found or (reader.rounds and reader.again(back) == written)
        except Exception as error:
            return reader.name, True, Finding(reader.name, number, text, f"again: {error!r}")
        if not same:
            return reader.name, True, Finding(reader.name, number, text, "again: not the same")
    return reader.name, True, None
