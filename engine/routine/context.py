"""The table and the conditions a routine is played on, from what it states of them."""

from __future__ import annotations

from dataclasses import fields, replace
from functools import lru_cache
from typing import Any

from engine.conditions import Conditions, usual_conditions
from engine.conditions.model import OPTIONAL_CONDITIONS
from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError
from engine.routine.values import Routine
from engine.tables import Table, load_table

_NAMES: tuple[str, ...] = tuple(field.name for field in fields(Conditions))


def table_of(routine: Routine) -> Table:
    """The routine's table with the measurements and pocket openings it states (cached).

    `UnknownNameError` for an unknown table, pocket or size, `OutOfRangeError` for a measurement
    that cannot be.
    """
    return load_table(routine.table, routine.pocket_openings_mm, routine.measured_table)


def conditions_of(routine: Routine) -> Conditions:
    """The usual conditions of the routine's table with the values it states in their place.

    Cached. `UnknownNameError` for a condition that does not exist, `OutOfRangeError` for a value
    that is no number or outside what is allowed. An entry that is neither a known condition
    nor a number is a remark, kept in the file and left alone here. While the table itself is at
    fault, the full-size snooker table's conditions stand in.

    >>> conditions_of(Routine(conditions={"ball_restitution": 1.0})).ball_restitution
    1.0
    """
    try:
        usual = usual_conditions(table_of(routine))
    except BaizewrightError:
        usual = _DEFAULT
    stated = [item for item in routine.conditions.items() if _is_condition(*item)]
    return _made(usual, tuple(_checked(*item) for item in stated)) if stated else usual


@lru_cache(maxsize=64)
def _made(usual: Conditions, stated: tuple[tuple[str, Any], ...]) -> Conditions:
    return replace(usual, **dict(stated))


def _is_condition(name: str, value: Any) -> bool:
    return name in _NAMES or _is_number(value)


def _checked(name: str, value: Any) -> tuple[str, Any]:
    """The pair with a list made a tuple, or an error that says what is wanted."""
    if name not in _NAMES:
        raise UnknownNameError("condition", name, _NAMES)
    if value is None and name in OPTIONAL_CONDITIONS:
        return name, None
    several = name == "pace_speeds_m_s"
    if several and isinstance(value, list | tuple) and all(map(_is_number, value)):
        return name, tuple(value)
    if several or not _is_number(value):
        raise OutOfRangeError(
            f"condition {name}", repr(value), "ten numbers" if several else "a number"
        )
    return name, value


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


_DEFAULT = Conditions()
