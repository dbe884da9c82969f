"""From checked JSON values to the routine's own frozen values; unknown keys go to `extra`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import MISSING, Field, fields, replace
from typing import Any, TypeVar

from engine.balls import Ball
from engine.routine.identity import id_of
from engine.routine.values import Claim, ClothMark, Gap, LaneAsk, Routine, Shot
from engine.tables.measured import MeasuredTable

Value = TypeVar("Value", Ball, LaneAsk, Shot, Gap, Claim, ClothMark, MeasuredTable, Routine)

#: What stands in for a required value that was faulty, so that the rest can be looked at.
_STAND_INS: dict[str, Any] = {"str": "", "float": 0.0}

_LISTS: dict[tuple[type, str], type] = {
    (Routine, "balls"): Ball,
    (Routine, "shots"): Shot,
    (Routine, "gaps"): Gap,
    (Routine, "claims"): Claim,
    (Routine, "cloth_marks"): ClothMark,
    (Shot, "lanes"): LaneAsk,
}

_FIELDS: dict[type, dict[str, Field[Any]]] = {
    kind: {field.name: field for field in fields(kind) if field.name != "extra"}
    for kind in (Ball, LaneAsk, Shot, Gap, Claim, ClothMark, MeasuredTable, Routine)
}


#: What a file says of itself; the revision is worked out anew whenever it is wanted.
_OF_THE_FILE = ("format", "version", "revision")


def build_routine(data: dict[str, Any]) -> Routine:
    """The routine in JSON data that has the right shape; one without an id gets its content's."""
    made = _build(Routine, {k: v for k, v in data.items() if k not in _OF_THE_FILE})
    return replace(made, id=id_of(made))


def build_measured_table(data: dict[str, Any]) -> MeasuredTable:
    """The measured table in JSON data of the right shape (`format`, `version`, `table` dropped)."""
    kept = {k: v for k, v in data.items() if k not in ("format", "version", "table")}
    return _build(MeasuredTable, kept)


def _build(kind: type[Value], data: dict[str, Any]) -> Value:
    known = _FIELDS[kind]
    given: dict[str, Any] = {}
    for name, field in known.items():
        if name in data:
            given[name] = _value(kind, field, data[name])
        elif field.default is MISSING and field.default_factory is MISSING:
            given[name] = _STAND_INS[str(field.type)]
    given["extra"] = {key: value for key, value in data.items() if key not in known}
    return kind(**given)


def _value(kind: type, field: Field[Any], value: Any) -> Any:
    item = _LISTS.get((kind, field.name))
    if item is not None:
        return tuple(_build(item, part) for part in value)
    reader = _READERS.get(str(field.type))
    return value if reader is None else reader(value)


def _number(value: Any) -> Any:
    """Whole numbers are written without a point and read as floats; "stun" and null stay."""
    return float(value) if isinstance(value, int) and not isinstance(value, bool) else value


def _points(value: list[list[Any]]) -> tuple[tuple[Any, ...], ...]:
    return tuple(tuple(_number(axis) for axis in point) for point in value)


def _numbers_by_name(value: dict[str, Any]) -> dict[str, Any]:
    return {key: _number(item) for key, item in value.items()}


def _places(value: dict[str, Any]) -> dict[str, Any]:
    return {key: tuple(_number(axis) for axis in place) for key, place in value.items()}


def _measured(value: dict[str, Any]) -> MeasuredTable:
    return _build(MeasuredTable, value)


_READERS: dict[str, Callable[[Any], Any]] = {
    "float": _number,
    "float | None": _number,
    "TipHeight": _number,
    "int": int,
    "tuple[str, ...]": tuple,
    "tuple[tuple[float, float], ...]": _points,
    "Mapping[str, float]": _numbers_by_name,
    "Mapping[str, tuple[float, float]]": _places,
    "MeasuredTable | None": _measured,
}
