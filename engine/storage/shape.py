"""The shape of a file against its published schema, its faults in plain words.

The schema is turned into plain functions once: a validator that interprets it anew for each
value takes fifty times as long, which is felt with a library of thousands of files. The tests
hold the two equal on damaged files.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from engine.routine.rules.breach import shown
from engine.storage.paths import Path
from engine.storage.schemas import schema_named

#: A value that departs from the schema: where it is, what was given and what is wanted.
Misfit = tuple[Path, str, str]
#: Adds the misfits of a value at a path.
_Check = Callable[[Any, Path, list[Misfit]], None]
_Test = Callable[[Any], bool]

#: What says nothing of the shape.
_REMARKS = {"$schema", "$id", "$defs", "title", "description", "x-wanted"}
_TYPES: dict[str, _Test] = {
    "object": lambda value: isinstance(value, dict),
    "array": lambda value: isinstance(value, list),
    "string": lambda value: isinstance(value, str),
    "boolean": lambda value: isinstance(value, bool),
    "null": lambda value: value is None,
    "number": lambda value: _is_number(value),
    "integer": lambda value: _is_number(value) and value == int(value),
}


def misfits(data: dict[str, Any], schema: str = "routine") -> list[Misfit]:
    """Every place where `data`, whose numbers are finite, departs from the schema of that name."""
    found: list[Misfit] = []
    _checker(schema)(data, (), found)
    return found


@cache
def _checker(schema: str) -> _Check:
    whole = schema_named(schema)
    return _compiled(whole, whole.get("$defs", {}))


def _compiled(schema: Mapping[str, Any], parts: Mapping[str, Any]) -> _Check:
    """The schema as a function."""
    if "$ref" in schema:
        return _compiled(parts[schema["$ref"].removeprefix("#/$defs/")], parts)
    tests = _tests(schema, _INSIDE)
    wanted = str(schema.get("x-wanted", "something else"))
    within = _within(schema, parts)

    def check(value: Any, path: Path, found: list[Misfit]) -> None:
        for test in tests:
            if not test(value):
                found.append((path, f"is {_given(value)}", wanted))
                break  # one misfit a place: a text that is too short may also be of another form
        if isinstance(value, dict | list):
            within(value, path, found)

    return check


def _tests(schema: Mapping[str, Any], besides: frozenset[str]) -> tuple[_Test, ...]:
    """The keywords that ask something of the value itself, as functions."""
    unknown = set(schema) - _REMARKS - set(_KEYWORDS) - besides
    if unknown:
        raise NotImplementedError(f"keywords of a schema: {', '.join(sorted(unknown))}")
    return tuple(_KEYWORDS[key](limit) for key, limit in schema.items() if key in _KEYWORDS)


def _one_of(choices: list[Any]) -> _Test:
    return lambda value: any(_same(value, choice) for choice in choices)


def _same(value: Any, choice: Any) -> bool:
    """Equal as JSON has it: true is not 1."""
    return value == choice and isinstance(value, bool) == isinstance(choice, bool)


def _of_type(types: str | list[str]) -> _Test:
    tests = [_TYPES[name] for name in ([types] if isinstance(types, str) else types)]
    return tests[0] if len(tests) == 1 else lambda value: any(test(value) for test in tests)


def _any_of(schemas: list[dict[str, Any]]) -> _Test:
    ways = [_tests(schema, frozenset()) for schema in schemas]
    return lambda value: any(all(test(value) for test in way) for way in ways)


def _limit(applies: _Test, holds: Callable[[Any, Any], bool]) -> Callable[[Any], _Test]:
    """A keyword with a limit, which asks nothing of values of another type."""
    return lambda limit: lambda value: not applies(value) or holds(value, limit)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


_KEYWORDS: dict[str, Callable[[Any], _Test]] = {
    "type": _of_type,
    "enum": _one_of,
    "const": lambda wanted: _one_of([wanted]),
    "anyOf": _any_of,
    "minimum": _limit(_is_number, lambda value, least: value >= least),
    "maximum": _limit(_is_number, lambda value, most: value <= most),
    "exclusiveMinimum": _limit(_is_number, lambda value, least: value > least),
    "minLength": _limit(_TYPES["string"], lambda text, least: len(text) >= least),
    "maxLength": _limit(_TYPES["string"], lambda text, most: len(text) <= most),
    "pattern": _limit(_TYPES["string"], lambda text, form: bool(re.search(form, text))),
    "minItems": _limit(_TYPES["array"], lambda items, least: len(items) >= least),
    "maxItems": _limit(_TYPES["array"], lambda items, most: len(items) <= most),
}
_INSIDE = frozenset({"required", "properties", "additionalProperties", "items"})


def _within(schema: Mapping[str, Any], parts: Mapping[str, Any]) -> _Check:
    """What the schema asks of the values inside an object or list, as a function."""
    known = {key: _compiled(one, parts) for key, one in schema.get("properties", {}).items()}
    words = {key: _wanted_of(one, parts) for key, one in schema.get("properties", {}).items()}
    required = tuple(schema.get("required", ()))
    others, items = (
        _compiled(schema[key], parts) if key in schema else None
        for key in ("additionalProperties", "items")
    )

    def check(value: Any, path: Path, found: list[Misfit]) -> None:
        if isinstance(value, list):
            if items is not None:
                for index, one in enumerate(value):
                    items(one, (*path, index), found)
            return
        for key in required:
            if key not in value:
                found.append(((*path, key), "is missing", words[key]))
        for key, one in value.items():
            asked = known.get(key, others)
            if asked is not None:
                asked(one, (*path, key), found)

    return check


def _wanted_of(schema: Mapping[str, Any], parts: Mapping[str, Any]) -> str:
    whole = parts[schema["$ref"].removeprefix("#/$defs/")] if "$ref" in schema else schema
    return str(whole.get("x-wanted", "something else"))


def _given(value: Any) -> str:
    if isinstance(value, list):
        return f"a list of {len(value)}" if value else "an empty list"
    if isinstance(value, dict):
        return "an object in braces"
    return shown(value)
