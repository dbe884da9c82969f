"""The shape of a routine file against the published schema, its faults in plain words."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

from engine.errors import Fault
from engine.routine.rules.breach import shown
from engine.storage.paths import Path, path_text
from engine.storage.schemas import schema_named

if TYPE_CHECKING:
    from jsonschema import Draft202012Validator
    from jsonschema.exceptions import ValidationError


def shape_faults(data: dict[str, Any], schema: str = "routine") -> list[tuple[Path, Fault]]:
    """Every place where `data` departs from the schema, with its path, in order of the file."""
    found: dict[Path, Fault] = {}
    for error in _validator(schema).iter_errors(data):
        for path, message in _told(error):
            # One fault a place: a text that is too short is also of the wrong form.
            found.setdefault(path, Fault(path_text(path), message))
    return list(found.items())


@cache
def _validator(schema: str) -> Draft202012Validator:
    # Imported late: it takes longer to load than the rest of the engine's file handling.
    from jsonschema import Draft202012Validator

    return Draft202012Validator(schema_named(schema))


def _told(error: ValidationError) -> list[tuple[Path, str]]:
    path: Path = tuple(error.absolute_path)
    schema = error.schema if isinstance(error.schema, dict) else {}
    if error.validator == "required":
        missing = [key for key in error.validator_value if key not in error.instance]
        properties = schema.get("properties", {})
        return [((*path, key), f"is missing, wanted {_wanted(properties[key])}") for key in missing]
    return [(path, f"is {_given(error.instance)}, wanted {_wanted(schema)}")]


def _wanted(schema: dict[str, Any]) -> str:
    return str(schema.get("x-wanted", "something else"))


def _given(value: Any) -> str:
    if isinstance(value, list):
        return f"a list of {len(value)}" if value else "an empty list"
    if isinstance(value, dict):
        return "an object in braces"
    return shown(value)
