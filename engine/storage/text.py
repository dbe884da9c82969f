"""From text to plain JSON values, with every fault of the text itself told by its place."""

from __future__ import annotations

import json
import math
from collections import Counter
from collections.abc import Iterator
from typing import Any

from engine.errors import Fault, RoutineFileError, WrongKindError, unwritable
from engine.storage.findings import Findings
from engine.storage.paths import FILE, Path, path_text, without

#: A large routine holds some hundreds of values (numbers, texts, lists, objects), five deep.
MOST_VALUES, MOST_DEEP = 200_000, 100
_LARGEST = 10**300

#: By identity, each object in which keys stand more than once (kept, so that no other object gets
#: its identity), and how often they do.
Repeats = dict[int, tuple[dict[str, Any], dict[str, int]]]


def read_json(text: str, name: str, word: str = "routine") -> tuple[dict[str, Any], Repeats]:
    """The object in `text`, with the keys that stood more than once; the last of them counts.

    `word` is what the file should hold. `RoutineFileError` when the text is no JSON,
    `WrongKindError` when it is not one object.
    """
    if not text.strip():
        raise RoutineFileError(name, [Fault(FILE, f"is empty, wanted a {word}")])
    repeats: Repeats = {}

    def made(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        found = dict(pairs)
        if len(found) < len(pairs):
            counts = Counter(key for key, _ in pairs)
            repeats[id(found)] = found, {key: n for key, n in counts.items() if n > 1}
        return found

    try:
        found = json.loads(text, object_pairs_hook=made)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise RoutineFileError(name, [Fault(where, _plain(error.msg))]) from None
    except RecursionError:
        raise _nested(name, word) from None
    except ValueError:
        fault = Fault(FILE, "holds a number of thousands of digits, wanted millimetres")
        raise RoutineFileError(name, [fault]) from None
    if not isinstance(found, dict):
        kind = _KINDS.get(type(found), "a single value")
        raise WrongKindError(name, [Fault(FILE, f"holds {kind}, wanted one object in braces")])
    return found, repeats


_KINDS: dict[type, str] = {list: "a list", str: "a text", type(None): "null", bool: "true or false"}
_PLAIN = {
    "Expecting value": "a value is missing or not JSON",
    "Expecting property name enclosed in double quotes": "a key in double quotes is missing",
    "Expecting ',' delimiter": "a comma is missing, or a bracket is not closed",
    "Expecting ':' delimiter": "a colon is missing after the key",
    "Extra data": "more text stands after the end of the routine",
    "Unterminated string starting at": "a text starts here and its closing quote is missing",
    "Illegal trailing comma before end of object": "a comma too many before the closing brace",
    "Illegal trailing comma before end of array": "a comma too many before the closing bracket",
}


def _plain(message: str) -> str:
    told = _PLAIN.get(message, message[:1].lower() + message[1:])
    return f"is not JSON: {told}"


def _nested(name: str, word: str) -> RoutineFileError:
    return RoutineFileError(name, [Fault(FILE, f"is nested too deeply, wanted a {word}")])


def set_aside_faulty_values(
    data: dict[str, Any], repeats: Repeats, findings: Findings, word: str
) -> None:
    """Tell values that are none (not finite, broken letters) and take them out of `data`.

    `RoutineFileError` at once when there are more values, or deeper ones, than in any routine.
    """
    faulty: list[Path] = []
    count = 0
    waiting: list[tuple[Path, Iterator[tuple[Any, Any]]]] = []

    def enter(holder: Any, path: Path) -> None:
        nonlocal count
        count += len(holder)
        if count > MOST_VALUES:
            raise _too_many(findings.name, word)
        if len(waiting) > MOST_DEEP:
            raise _nested(findings.name, word)
        for key, times in repeats.get(id(holder), (None, {}))[1].items():
            often = "twice" if times == 2 else f"{times:,} times"
            findings.add(path_text((*path, key)), f"stands {often}, wanted once")
        items = holder.items() if isinstance(holder, dict) else enumerate(holder)
        waiting.append((path, iter(items)))

    enter(data, ())
    while waiting:
        path, items = waiting[-1]
        step = next(items, None)
        if step is None:
            waiting.pop()
            continue
        key, value = step
        if isinstance(key, str) and unwritable(key):
            findings.add(path_text(path), "has a key with a broken character")
        elif isinstance(value, dict | list):
            enter(value, (*path, key))
        elif message := _fault_of(value):
            findings.add(path_text((*path, key)), message)
            faulty.append((*path, key))
    for one in faulty:
        without(data, one)


def _too_many(name: str, word: str) -> RoutineFileError:
    message = f"holds more than {MOST_VALUES:,} values; this is no {word}"
    return RoutineFileError(name, [Fault(FILE, message)])


def _fault_of(value: Any) -> str:
    if isinstance(value, float) and not math.isfinite(value):
        shown = "NaN (no number)" if math.isnan(value) else "infinite"
        return f"is {shown}, wanted a finite number"
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) >= _LARGEST:
        return "is a number of hundreds of digits, wanted a finite number"
    if isinstance(value, str) and unwritable(value):
        return "has a broken character (half of a pair), wanted readable text"
    return ""
