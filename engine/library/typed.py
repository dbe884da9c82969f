"""A query as it is typed: words, and conditions such as `balls<=3 pace<=4 pocket:middle`."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from engine.errors import OutOfRangeError, UnknownNameError
from engine.library.values import POCKET_WORDS, SKILLS, Query
from engine.potting.fullness import FULLNESS_NAMES
from engine.routine.values import GAP_KINDS

#: One word, `name:value`, `name<=3`; a value with spaces stands in double quotes.
_PART = re.compile(r'(?:(?P<name>[a-z]+)(?P<sign>:|<=|>=|=)(?P<value>"[^"]*"|\S+))|\S+')
#: More words and conditions than this are no search (SQLite bears a thousand).
MOST_PARTS = 100
_LISTS = {
    "skill": "skills",
    "tag": "tags",
    "pocket": "pockets",
    "contact": "contacts",
    "gap": "gap_kinds",
}
_NUMBERS = {"balls": int, "level": int, "pace": float}
CONDITIONS = (*_LISTS, *_NUMBERS, "table")
POCKETS = (
    *POCKET_WORDS,
    *(f"{a}-{b}" for a in ("bottom", "middle", "top") for b in ("left", "right")),
)
_KNOWN = {
    "skill": SKILLS,
    "pocket": POCKETS,
    "contact": tuple(name for _, name in FULLNESS_NAMES),
    "gap": GAP_KINDS,
}


def query_of(text: str, start: Query | None = None) -> Query:
    """The query in a typed text, added to `start`.

    `UnknownNameError` or `OutOfRangeError` for a condition that cannot be meant.

    >>> query_of('blue balls<=3 pocket:middle skill:"run-through"').words
    'blue'
    >>> query_of("balls<=3").balls_most, query_of("pace<=4").pace_most
    (3, 4.0)
    """
    found = start or Query()
    words = [found.words] if found.words else []
    for count, part in enumerate(_PART.finditer(text), start=1):
        if count > MOST_PARTS:
            raise OutOfRangeError("words of the search", f"more than {MOST_PARTS}", "fewer")
        name, sign = part["name"], part["sign"]
        if name is None:
            words.append(part.group())
            continue
        value = part["value"].strip('"').strip()
        found = _with(found, name, sign, value)
    return replace(found, words=" ".join(words))


def _with(query: Query, name: str, sign: str, value: str) -> Query:
    if name in _LISTS and sign in (":", "="):
        known = _KNOWN.get(name)
        if known is not None and value not in known:
            raise UnknownNameError(name, value, known)
        changes: dict[str, Any] = {_LISTS[name]: (*getattr(query, _LISTS[name]), value)}
        return replace(query, **changes)
    if name == "table" and sign in (":", "="):
        return replace(query, table=value)
    if name not in _NUMBERS:
        raise UnknownNameError("condition of a search", f"{name}{sign}", CONDITIONS)
    try:
        number = _NUMBERS[name](value.replace(",", "."))
    except ValueError:
        raise OutOfRangeError(f"{name} of the search", repr(value), "a number") from None
    limits: dict[str, Any] = {}
    if sign != ">=":
        limits[f"{name}_most"] = number
    if sign != "<=" and name != "pace":
        limits[f"{name}_least"] = number
    elif sign != "<=":
        raise OutOfRangeError("pace of the search", f"{sign}{value}", "pace<= and a number")
    return replace(query, **limits)
