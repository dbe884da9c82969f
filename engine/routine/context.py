"""The table and the conditions a routine is played on, from what it states of them."""

from __future__ import annotations

from dataclasses import fields
from functools import lru_cache
from typing import Any

from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.routine.values import Routine
from engine.tables import Table, load_table

_NAMES: tuple[str, ...] = tuple(field.name for field in fields(Conditions))


def table_of(routine: Routine) -> Table:
    """The routine's table with the pocket openings it states (cached).

    `UnknownNameError` for an unknown table or pocket, `OutOfRangeError` for an opening that
    cannot be.
    """
    return load_table(routine.table, routine.pocket_openings_mm)


def conditions_of(routine: Routine) -> Conditions:
    """The default conditions with the values the routine states in their place (cached).

    `UnknownNameError` for a condition that does not exist, `OutOfRangeError` for a value
    that is no number or outside what is allowed.

    >>> conditions_of(Routine(conditions={"ball_restitution": 1.0})).ball_restitution
    1.0
    """
    if not routine.conditions:
        return _DEFAULT
    return _made(tuple(_checked(name, value) for name, value in routine.conditions.items()))


@lru_cache(maxsize=64)
def _made(stated: tuple[tuple[str, Any], ...]) -> Conditions:
    return Conditions(**dict(stated))


def _checked(name: str, value: Any) -> tuple[str, Any]:
    """The pair with a list made a tuple, or an error that says what is wanted."""
    if name not in _NAMES:
        raise UnknownNameError("condition", name, _NAMES)
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
