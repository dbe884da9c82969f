"""Damage done to sound input: to values of a JSON document, to cells, to letters and to bytes."""

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
    if is_json and what < 0.68:
        return _values(dice, text)
    if is_json and what < 0.7:
        return repeated(dice, text)
    if not is_json and what < 0.6:
        return _cells(dice, text)
    for _ in range(dice.randint(1, 4)):
        text = _letters(dice, text)
    return text


def damaged_bytes(dice: random.Random, data: bytes, head: int = 0) -> bytes:
    """The bytes, spoilt in a few places, more often among the first `head`."""
    made = bytearray(data)
    for _ in range(dice.randint(1, 6)):
        near = head and dice.random() < 0.8
        at = dice.randrange(max(1, min(len(made), head) if near else len(made)))
        what = dice.randrange(6)
        if what < 3:
            made[at : at + 1] = bytes([dice.randrange(256)])
        elif what == 3:
            made[at : at + dice.choice([1, 2, 30, 4000])] = b""
        elif what == 4:
            made[at:at] = dice.choice(
                [b"\0", b"\xff\xfe", b"\xef\xbb\xbf", b"\xed\xa0\x80", b"\xff" * 40]
            )
        else:
            made[at : at + 4] = dice.choice([b"\0\0\0\0", b"\xff\xff\xff\xff", b"\x7f\xff\xff\xff"])
    return bytes(made)


def repeated(dice: random.Random, text: str) -> str:
    """A JSON document with one of its parts there hundreds of times, or a key of it."""
    made = json.loads(text)
    lists = [way for way in places(made) if isinstance(_at(made, way), list | dict)]
    if not lists:
        return text
    part = _at(made, dice.choice(lists))
    times = dice.choice([51, 200, 1_000])
    if isinstance(part, list):
        part *= times if part else 1
    else:
        part.update(
            {f"{dice.choice(['x', 'id', 'ball '])}{n}": dice.choice(WILD) for n in range(times)}
        )
    again = json.dumps(made)
    if dice.random() < 0.3:
        again = again.replace("{", '{"a": 1, ' + '"a": 1, ' * times, 1)
    return again


def _at(node: Any, way: tuple[Any, ...]) -> Any:
    for step in way:
        node = node[step]
    return node


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
        ways_in = list(places(made)) if isinstance(made, dict | list) else []
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
