"""The conditions a table starts from: its usual cloth, its ball set and its cushion's height."""

from __future__ import annotations

from typing import Any

from engine.conditions.model import Conditions
from engine.conditions.presets import preset
from engine.tables.model import Table

#: Tables are shared objects that hold a dict and cannot be a key themselves; the last few are kept.
_KEPT: dict[tuple[int, str], tuple[Table, Conditions]] = {}
_MOST_KEPT = 64


def usual_conditions(table: Table, preset_id: str = "") -> Conditions:
    """The conditions of a table with its usual cloth, or with another preset's.

    `UnknownNameError` for a preset that is not there, `OutOfRangeError` for a ball set that
    cannot be.

    >>> from engine.tables import load_table
    >>> usual_conditions(load_table("snooker-12ft")) == Conditions()
    True
    >>> usual_conditions(load_table("uk-pool-7ft")).cue_radius_mm
    23.8
    """
    key = (id(table), preset_id)
    kept = _KEPT.get(key)
    if kept is not None and kept[0] is table:
        return kept[1]
    if len(_KEPT) >= _MOST_KEPT:
        _KEPT.clear()
    made = Conditions(**{**_figures(table, preset_id), **_ball_set(table)})
    _KEPT[key] = (table, made)
    return made


def likely_ranges(table: Table, preset_id: str = "") -> dict[str, tuple[float, float]]:
    """The ranges in which the figures of the table's usual cloth (or of a preset) may lie."""
    wanted = preset_id or table.preset
    if not wanted:
        return {}
    return {name: (one.low, one.high) for name, one in preset(wanted).values.items()}


def _figures(table: Table, preset_id: str) -> dict[str, Any]:
    wanted = preset_id or table.preset
    return preset(wanted).figures if wanted else {}


def _ball_set(table: Table) -> dict[str, float]:
    """Sizes and masses of the balls, and the nose over the ball radius, where the table has them.

    A cue ball's own figure is stated only where it differs, so that equal balls stay the plain
    case.
    """
    values = {name: sourced.value for name, sourced in table.values.items()}
    found: dict[str, float] = {}
    if "ball_diameter_mm" in values:
        found["ball_radius_mm"] = values["ball_diameter_mm"] / 2.0
    if "ball_mass_kg" in values:
        found["ball_mass_kg"] = values["ball_mass_kg"]
    cue = values.get("cue_ball_diameter_mm")
    if cue is not None and cue != values.get("ball_diameter_mm"):
        found["cue_ball_radius_mm"] = cue / 2.0
    mass = values.get("cue_ball_mass_kg")
    if mass is not None and mass != values.get("ball_mass_kg"):
        found["cue_ball_mass_kg"] = mass
    if "cushion_nose_mm" in values and "ball_radius_mm" in found:
        found["cushion_height_ratio"] = values["cushion_nose_mm"] / found["ball_radius_mm"]
    return found
