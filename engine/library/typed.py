"""A query as it is typed: words, and conditions such as `balls<=3 pace<=4 pocket:middle`.

A command line's shell would take `<` and `>` for itself, so that every limit has a spelling without
them: `balls:up-to-3`, `balls:from-2`, `balls:2-4`.
"""

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
#: Limits by words in place of signs, and a stretch from one number to another.
_UP_TO, _FROM = "up-to-", "from-"
_STRETCH = re.compile(r"(?P<least>[\d.,]+)-(?P<most>[\d.,]+)")
CONDITIONS = (*_LISTS, *_NUMBERS, "table")
_BARE_TAG = re.compile(
    r'(?<!\S)(?P<name>tag[:=])(?P<value>[^\s"]+(?:\s+[^\s"]+)+?)'
    rf"(?=\s+(?:{'|'.join(CONDITIONS)})(?::|<=|>=|=)|\s*$)"
)
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
    >>> query_of("balls<=3").balls_most, query_of("pace:up-to-4").pace_most
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
    least, most = _limits(sign, value)
    if name == "pace" and least not in ("", most):
        raise OutOfRangeError(
            "pace of the search", f"{sign}{value}", "pace<= and a number", "Or pace:up-to-4."
        )
    limits: dict[str, Any] = {}
    if most:
        limits[f"{name}_most"] = _number(name, most)
    if least and name != "pace":
        limits[f"{name}_least"] = _number(name, least)
    return replace(query, **limits)


def _limits(sign: str, value: str) -> tuple[str, str]:
    """The least and the most that are asked for, as typed; "" for no limit."""
    if sign == "<=":
        return "", value
    if sign == ">=":
        return value, ""
    if value.startswith(_UP_TO):
        return "", value.removeprefix(_UP_TO)
    if value.startswith(_FROM):
        return value.removeprefix(_FROM), ""
    stretch = _STRETCH.fullmatch(value)
    return (stretch["least"], stretch["most"]) if stretch else (value, value)


def _number(name: str, value: str) -> float:
    try:
        return _NUMBERS[name](value.replace(",", "."))
    except ValueError:
        raise OutOfRangeError(f"{name} of the search", repr(value), "a number") from None


def as_argument(word: str) -> str:
    """One argument of a command as it was typed: the shell has taken the quotes of a tag.

    A tag may hold spaces; it goes as far as the next condition. All else in an argument is parted
    at its spaces, so that a whole query may stand in quotation marks.

    >>> as_argument("tag:left hand"), as_argument("skill:screw balls<=3")
    ('tag:"left hand"', 'skill:screw balls<=3')
    >>> as_argument("screw tag:left hand pocket:middle")
    'screw tag:"left hand" pocket:middle'
    """
    return _BARE_TAG.sub(lambda tag: f'{tag["name"]}"{tag["value"]}"', word)
