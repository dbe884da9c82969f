"""Edits of what was measured on the table a routine lies on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import TypeVar

from engine.routine.rules import breaches, hold
from engine.routine.values import Routine
from engine.tables.measured import MeasuredTable

Value = TypeVar("Value")


def set_measured_table(routine: Routine, measured: MeasuredTable | None) -> Routine:
    """With these measurements of its table, or None for the table as its rule has it.

    `OutOfRangeError` for a size no tape could have read, `UnknownNameError` for one the table has
    not; also refused where a ball would then lie off the bed.
    """
    empty = measured is not None and not (
        measured.values or measured.spots_mm or measured.pocket_openings_mm
    )
    made = replace(routine, measured_table=None if empty else measured)
    hold(breaches(made))
    return made


def set_measured_size(routine: Routine, name: str, value: float | None) -> Routine:
    """With one size measured (`engine.tables.measured.MEASURABLE`), or no longer."""
    known = _measured(routine)
    return set_measured_table(routine, replace(known, values=_stated(known.values, name, value)))


def set_measured_spot(routine: Routine, spot_id: str, at_mm: tuple[float, float] | None) -> Routine:
    """With the measured centre of one spot, mm, or no longer."""
    known = _measured(routine)
    spots = _stated(known.spots_mm, spot_id, at_mm)
    return set_measured_table(routine, replace(known, spots_mm=spots))


def set_measured_opening(routine: Routine, pocket_id: str, opening_mm: float | None) -> Routine:
    """With the measured opening of one pocket, or no longer."""
    known = _measured(routine)
    openings = _stated(known.pocket_openings_mm, pocket_id, opening_mm)
    return set_measured_table(routine, replace(known, pocket_openings_mm=openings))


def _measured(routine: Routine) -> MeasuredTable:
    return routine.measured_table or MeasuredTable()


def _stated(known: Mapping[str, Value], name: str, value: Value | None) -> dict[str, Value]:
    others = {key: old for key, old in known.items() if key != name}
    return others if value is None else {**others, name: value}
