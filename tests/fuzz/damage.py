"""Damage done to sound text: to values of a JSON document, to cells, and to the bare letters."""

from __future__ import annotations

import copy
import json
import random
from collections.abc import Iterator
from typing import Any

WILD: tuple[Any, ...] = (
    None, True, False, -1, 0, 1, 2, 10**18, 10**400, -(10**400), 1e308, -1e-308, float("nan"),
    float("inf"), float("-inf"), "", "x", "cue", "stun", "\ud800", "\x00", "\u202e", "é" * 300,
    "../../etc", "2026-02-30", "<b>", "&amp;", "{}", [], {}, [1], [[]], [None], [[[[]]]],
    {"id": 3}, {"a": {"b": []}}, [{"id": "a"}] * 2, ["a"] * 50, [float("inf")], {"": ""},
)  # fmt: skip
CELLS = (
    "", "nan", "inf", "-inf", "1e999", "-0", "1,5", "1.5.5", "٣", "½", "0x10", "1_000", "9" * 400,
    '"', '""', '"a', "\x00", "\r", "\n", "\u2028", "\x1c", "#", ";", ",", "=1+1", "é" * 200, "roll",
    "lane", "top", "2026-13-40", "9999-12-31", "0001-01-01", "1e5", "-5", "99999999999",
)  # fmt: skip
BITS = (
    "", "}", "{", "[", "]", '"', "'", ",", ":", "\\", "\\u", "\\ud800", "\x00", "\x1b", "\ufeff",
    "9", "-", ".", "e", "E+", "null", "true", "NaN", "Infinity", " ", "\n", "\t", "\u202e", "😀",
    "[" * 2000, '{"a":' * 2000, "9" * 5000, "/*", "//",
)  # fmt: skip


def damaged(dice: random.Random, text: str, is_json: bool) -> str:
    """The text, spoilt in one to four places."""
    what = dice.random()
    if is_json and what < 0.7:
        return _values(dice, text)
    if not is_json and what < 0.6:
        return _cells(dice, text)
    for _ in range(dice.randint(1, 4)):
        text = _letters(dice, text)
    return text


def places(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The way to every value in a JSON document."""
    children = node.items() if isinstance(node, dict) else enumerate(node)
    for key, child in children:
        yield (*path, key)
        if isinstance(child, dict | list):
            yield from places(child, (*path, key))


def _values(dice: random.Random, text: str) -> str:
    made = json.loads(text)
    for _ in range(dice.randint(1, 4)):
        ways_in = list(places(made))
        if not ways_in:
            break
        *way, last = dice.choice(ways_in)
        holder = made
        for step in way:
            holder = holder[step]
        what = dice.randrange(6)
        if what == 0:
            del holder[last]
        elif what == 1 and isinstance(holder, dict):
            name = dice.choice(["", "x y", "extra", "id", "é\n", "__class__", "format", "version"])
            holder[name] = copy.deepcopy(dice.choice(WILD))
        elif what == 2:
            _, *other = dice.choice(ways_in), *dice.choice(ways_in)
            found: Any = made
            for step in other:
                found = found[step] if _has(found, step) else None
            holder[last] = copy.deepcopy(found)
        elif what == 3 and isinstance(holder[last], int | float) and abs(holder[last]) < 1e9:
            holder[last] = holder[last] * dice.choice([-1, 0, 1e-12, 1e3, 1e300])
        else:
            holder[last] = copy.deepcopy(dice.choice(WILD))
    return json.dumps(made, ensure_ascii=dice.random() < 0.5)


def _has(node: Any, step: Any) -> bool:
    return step in node if isinstance(node, dict) else isinstance(node, list) and step < len(node)


def _cells(dice: random.Random, text: str) -> str:
    parting = ";" if text.partition("\n")[0].count(";") else ","
    rows = [line.split(parting) for line in text.split("\n")]
    for _ in range(dice.randint(1, 4)):
        row = dice.choice(rows)
        what = dice.randrange(5)
        if what == 0 and row:
            row.pop(dice.randrange(len(row)))
        elif what == 1:
            row.insert(dice.randint(0, len(row)), dice.choice(CELLS))
        elif what == 2:
            rows.insert(dice.randint(0, len(rows)), list(dice.choice(rows)))
        elif row:
            row[dice.randrange(len(row))] = dice.choice(CELLS)
    return "\n".join(parting.join(row) for row in rows)


def _letters(dice: random.Random, text: str) -> str:
    at = dice.randrange(len(text) + 1)
    skip = dice.choice([0, 0, 1, 2, 30, len(text)])
    new = dice.choice(BITS) if dice.random() < 0.8 else chr(dice.randrange(0x11000))
    return text[:at] + new + text[at + skip :]
