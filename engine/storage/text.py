"""From bytes to plain JSON values, with every fault of the text itself told by its place."""

from __future__ import annotations

import json
import math
from typing import Any

from engine.errors import Fault, RoutineFileError
from engine.storage.paths import FILE, Path, path_text

#: A routine takes a few kilobytes; what is larger than this is something else.
MAX_BYTES = 4_000_000
_LARGEST = 10**300


class _Object(dict[str, Any]):
    """A JSON object that remembers the keys that stood in it twice."""

    twice: tuple[str, ...] = ()


def decode(data: bytes, name: str) -> str:
    """The text of a file; `RoutineFileError` unless it is UTF-8 of a sensible size."""
    if len(data) > MAX_BYTES:
        raise too_large(len(data), name)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise RoutineFileError(
            name, [Fault(FILE, "is UTF-16 text, wanted UTF-8; save it as UTF-8")]
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        message = f"byte {error.start} is not UTF-8 text, wanted UTF-8; save the file as UTF-8"
        raise RoutineFileError(name, [Fault(f"line {line}", message)]) from None


def too_large(size: int, name: str) -> RoutineFileError:
    """The error for a file of that many bytes."""
    message = f"has {size:,} bytes, wanted at most {MAX_BYTES:,}; this is no routine"
    return RoutineFileError(name, [Fault(FILE, message)])


def read_json(
    text: str, name: str, word: str = "routine"
) -> tuple[dict[str, Any], list[Fault], list[Path]]:
    """The object in `text`, the faults of its text, and the paths of the values at fault.

    `word` is what the file should hold. Values at fault (not finite, broken characters) are
    still in place. `RoutineFileError` when the text is not one JSON object at all.
    """
    if not text.strip():
        raise RoutineFileError(name, [Fault(FILE, f"is empty, wanted a {word}")])
    try:
        found = json.loads(text, object_pairs_hook=_object)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise RoutineFileError(name, [Fault(where, _plain(error.msg))]) from None
    except RecursionError:
        fault = Fault(FILE, f"is nested too deeply, wanted a {word}")
        raise RoutineFileError(name, [fault]) from None
    except ValueError:
        fault = Fault(FILE, "holds a number of thousands of digits, wanted millimetres")
        raise RoutineFileError(name, [fault]) from None
    if not isinstance(found, dict):
        kind = _KINDS.get(type(found), "a single value")
        raise RoutineFileError(name, [Fault(FILE, f"holds {kind}, wanted one object in braces")])
    faults: list[Fault] = []
    paths: list[Path] = []
    _walk(found, (), faults, paths)
    return found, faults, paths


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


def _object(pairs: list[tuple[str, Any]]) -> _Object:
    found = _Object(pairs)
    if len(found) < len(pairs):
        keys = [key for key, _ in pairs]
        found.twice = tuple(sorted({key for key in keys if keys.count(key) > 1}))
    return found


def _walk(value: Any, path: Path, faults: list[Fault], paths: list[Path]) -> None:
    message = _fault_of(value)
    if message:
        faults.append(Fault(path_text(path), message))
        paths.append(path)
    elif isinstance(value, dict):
        for key in getattr(value, "twice", ()):
            faults.append(Fault(path_text((*path, key)), "stands twice, wanted once"))
        for key, item in value.items():
            if _broken(key):
                faults.append(Fault(path_text(path), "has a key with a broken character"))
            else:
                _walk(item, (*path, key), faults, paths)
    elif isinstance(value, list):
        for index, item in enumerate(value):
            _walk(item, (*path, index), faults, paths)


def _fault_of(value: Any) -> str:
    if isinstance(value, float) and not math.isfinite(value):
        shown = "NaN (no number)" if math.isnan(value) else "infinite"
        return f"is {shown}, wanted a finite number"
    if isinstance(value, int) and not isinstance(value, bool) and abs(value) >= _LARGEST:
        return "is a number of hundreds of digits, wanted a finite number"
    if isinstance(value, str) and _broken(value):
        return "has a broken character (half of a pair), wanted readable text"
    return ""


def _broken(text: str) -> bool:
    return any("\ud800" <= letter <= "\udfff" for letter in text)
