"""Read a table's data and make the `Table` of it, with a coach's own pocket measurements.

Each table is one JSON file in `data/`, in which every number carries value, tolerance, rule,
edition and confidence mark. Adding such a file adds the table.
"""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from engine.errors import OutOfRangeError, UnknownNameError
from engine.tables.geometry import PocketShape, corner_pocket, faces, middle_pocket
from engine.tables.model import Pocket, Sourced, Spot, Table

NO_OVERRIDES: Mapping[str, float] = MappingProxyType({})

#: The number that places the fall, by shape of pocket.
_FALL_NAMES = {"corner": "corner_fall_back_mm", "middle": "middle_fall_edge_mm"}


@cache
def table_ids() -> tuple[str, ...]:
    """The tables there are data for.

    >>> table_ids()
    ('snooker-12ft',)
    """
    return tuple(sorted(_documents()))


def load_table(table_id: str, pocket_openings_mm: Mapping[str, float] = NO_OVERRIDES) -> Table:
    """The table of that id; `pocket_openings_mm` gives measured openings by pocket id.

    Cached: the same arguments give the same object. `UnknownNameError` for a table or pocket
    that is not known, `OutOfRangeError` for an opening no ball or no pocket could have.

    >>> load_table("snooker-12ft").spot("black").y_mm
    3245.0
    """
    given = tuple(sorted((name, _number(name, mm)) for name, mm in pocket_openings_mm.items()))
    return _made(table_id, given)


def _number(pocket_id: str, opening_mm: object) -> float:
    usable = isinstance(opening_mm, int | float) and not isinstance(opening_mm, bool)
    if not usable or not math.isfinite(opening_mm):  # type: ignore[arg-type]
        raise OutOfRangeError(
            f"opening of pocket {pocket_id}", opening_mm, "a number of millimetres"
        )
    return float(opening_mm)  # type: ignore[arg-type]


@lru_cache(maxsize=64)
def _made(table_id: str, openings: tuple[tuple[str, float], ...]) -> Table:
    documents = _documents()
    if table_id not in documents:
        raise UnknownNameError("table", table_id, table_ids())
    data = documents[table_id]
    values = {name: _sourced(entry) for name, entry in data["values"].items()}
    _check_openings(data, values, openings)
    for pocket_id, opening in openings:
        values[f"{pocket_id}_opening_mm"] = Sourced(opening, "measured by the coach", "M")
    width, length = values["width_mm"].value, values["length_mm"].value
    pockets = tuple(_pocket(entry, values, width, length) for entry in data["pockets"])
    spots = tuple(_spot(entry, values) for entry in data["spots"])
    return Table(
        id=data["id"],
        title=data["title"],
        rule=data["rule"],
        width_mm=width,
        length_mm=length,
        baulk_y_mm=_value_or_none(values, "baulk_y_mm"),
        d_radius_mm=_value_or_none(values, "d_radius_mm"),
        spots=spots,
        pockets=pockets,
        faces=faces(width, length, pockets),
        values=values,
    )


@cache
def _documents() -> dict[str, dict[str, Any]]:
    found = {}
    for entry in files("engine.tables").joinpath("data").iterdir():
        if entry.name.endswith(".json"):
            data = json.loads(entry.read_text(encoding="utf-8"))
            found[data["id"]] = data
    return found


def _sourced(entry: Mapping[str, Any]) -> Sourced:
    """One number of the data file; rule, edition and note become one line of source."""
    parts = [entry["rule"], entry["edition"], entry.get("note", "")]
    tolerance = entry["tolerance"]
    return Sourced(
        float(entry["value"]),
        "; ".join(part for part in parts if part),
        entry["confidence"],
        None if tolerance is None else float(tolerance),
    )


def _value_or_none(values: Mapping[str, Sourced], name: str) -> float | None:
    return values[name].value if name in values else None


def _spot(entry: Mapping[str, Any], values: dict[str, Sourced]) -> Spot:
    x, y = _sourced(entry["x_mm"]), _sourced(entry["y_mm"])
    values[f"{entry['id']}_spot_x_mm"], values[f"{entry['id']}_spot_y_mm"] = x, y
    return Spot(entry["id"], entry["title"], x.value, y.value)


def _check_openings(
    data: Mapping[str, Any],
    values: Mapping[str, Sourced],
    openings: tuple[tuple[str, float], ...],
) -> None:
    known = [entry["id"] for entry in data["pockets"]]
    for pocket_id, opening in openings:
        if pocket_id not in known:
            raise UnknownNameError("pocket", pocket_id, known)
        low, high = values["opening_lowest_mm"].value, values["opening_highest_mm"].value
        if not low <= opening <= high:
            raise OutOfRangeError(
                f"opening of pocket {pocket_id}",
                f"{opening:g} mm",
                f"{low:g} to {high:g} mm",
                "Measure the narrowest place between the jaws.",
            )


def _pocket(
    entry: Mapping[str, Any], values: Mapping[str, Sourced], width_mm: float, length_mm: float
) -> Pocket:
    shape_name, pocket_id = entry["shape"], entry["id"]
    own = values.get(f"{pocket_id}_opening_mm", values[f"{shape_name}_opening_mm"])
    shape = PocketShape(
        own.value,
        values[f"{shape_name}_jaw_radius_mm"].value,
        values[_FALL_NAMES[shape_name]].value,
    )
    across = width_mm if pocket_id.endswith("-right") else 0.0
    if shape_name == "middle":
        return middle_pocket(pocket_id, entry["title"], (across, length_mm / 2), shape)
    along = length_mm if pocket_id.startswith("top-") else 0.0
    return corner_pocket(pocket_id, entry["title"], (across, along), shape)
