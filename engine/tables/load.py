"""Read a table's data and make the `Table` of it, with a coach's own measurements.

Each table is one JSON file in `data/`, in which every number carries value, tolerance, rule,
edition and confidence mark. Adding such a file adds the table. A spot's `place` says how its
coordinates follow from the sizes (a sum of shares of named values), so that spots which were not
measured move with a measured width or baulk line.
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
from engine.tables.measured import MeasuredTable, measurable_names, measured_limits
from engine.tables.model import Pocket, Sourced, Spot, Table

NO_OVERRIDES: Mapping[str, float] = MappingProxyType({})

#: The number that places the fall of a pocket with rounded jaws, by its shape.
_FALL_NAMES = {"corner": "corner_fall_back_mm", "middle": "middle_fall_edge_mm"}


@cache
def table_ids() -> tuple[str, ...]:
    """The tables there are data for.

    >>> "snooker-12ft" in table_ids()
    True
    """
    return tuple(sorted(_documents()))


def load_table(
    table_id: str,
    pocket_openings_mm: Mapping[str, float] = NO_OVERRIDES,
    measured: MeasuredTable | None = None,
) -> Table:
    """The table of that id, with a coach's measurements in place of the published values.

    `pocket_openings_mm` gives measured openings by pocket id, and goes before those of
    `measured`. Cached: the same arguments give the same object. `UnknownNameError` for a table,
    pocket, spot or size that is not known, `OutOfRangeError` for one that cannot be.

    >>> load_table("snooker-12ft").spot("black").y_mm
    3245.0
    """
    openings = pocket_openings_mm
    if measured is not None:
        openings = {**measured.pocket_openings_mm, **pocket_openings_mm}
    given = tuple(
        sorted((name, _number(f"opening of pocket {name}", mm)) for name, mm in openings.items())
    )
    if measured is None:
        return _made(table_id, given, "", (), ())
    sizes = tuple(sorted((name, _number(name, value)) for name, value in measured.values.items()))
    spots = tuple(
        sorted(
            (name, tuple(_number(f"place of spot {name}", axis) for axis in at))
            for name, at in measured.spots_mm.items()
        )
    )
    return _made(table_id, given, measured.title or "measured", sizes, spots)


def _number(what: str, value: object) -> float:
    usable = isinstance(value, int | float) and not isinstance(value, bool)
    if not usable or not math.isfinite(value):  # type: ignore[arg-type]
        unit = "kilograms" if what.endswith("_kg") else "millimetres"
        raise OutOfRangeError(what, value, f"a number of {unit}")
    return float(value)  # type: ignore[arg-type]


Sizes = tuple[tuple[str, float], ...]
Places = tuple[tuple[str, tuple[float, ...]], ...]


@lru_cache(maxsize=64)
def _made(table_id: str, openings: Sizes, title: str, sizes: Sizes, places: Places) -> Table:
    documents = _documents()
    if table_id not in documents:
        raise UnknownNameError("table", table_id, table_ids())
    data = documents[table_id]
    values = {name: _sourced(entry) for name, entry in data["values"].items()}
    source = f"measured by the coach: {title}" if title else "measured by the coach"
    _check_openings(data, values, openings)
    if title:
        base = _made(table_id, (), "", (), ())
        _check_measured(base, sizes, places)
        for name, size in sizes:
            tolerance = values[name].tolerance if name in values else None
            values[name] = Sourced(size, source, "M", tolerance)
    for pocket_id, opening in openings:
        values[f"{pocket_id}_opening_mm"] = Sourced(opening, source, "M")
    width, length = values["width_mm"].value, values["length_mm"].value
    pockets = tuple(_pocket(entry, values, width, length) for entry in data["pockets"])
    own_places = dict(places)
    spots = tuple(_spot(entry, values, bool(sizes), own_places) for entry in data["spots"])
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
        preset=data["preset"],
        measured=title,
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


def _spot(
    entry: Mapping[str, Any],
    values: dict[str, Sourced],
    follows: bool,
    measured: Mapping[str, tuple[float, ...]],
) -> Spot:
    """A spot: measured, or following from the measured sizes, or where the standard puts it."""
    at = []
    for axis, name in enumerate(("x_mm", "y_mm")):
        value = _sourced(entry[name])
        if entry["id"] in measured:
            place = measured[entry["id"]][axis]
            value = Sourced(place, "measured by the coach", "M", value.tolerance)
        elif follows:
            shares = entry["place"][name]
            place = sum(share * values[size].value for size, share in shares.items())
            value = Sourced(place, f"{value.source}; from measured sizes", "M", value.tolerance)
        values[f"{entry['id']}_spot_{name}"] = value
        at.append(value.value)
    return Spot(entry["id"], entry["title"], at[0], at[1], entry.get("role", ""))


def _check_measured(base: Table, sizes: Sizes, places: Places) -> None:
    names = measurable_names(base)
    for name, size in sizes:
        if name not in names:
            raise UnknownNameError("measured size", name, names)
        low, high = measured_limits(name, base)
        if not low <= size <= high:
            raise OutOfRangeError(
                f"measured {name}", f"{size:g}", f"{low:g} to {high:g}", "Measure it again."
            )
    spots = [spot.id for spot in base.spots]
    for spot_id, at in places:
        if spot_id not in spots:
            raise UnknownNameError("spot", spot_id, spots)
        inside = len(at) == 2 and 0 <= at[0] <= base.width_mm and 0 <= at[1] <= base.length_mm
        if not inside:
            raise OutOfRangeError(f"place of spot {spot_id}", list(at), "two numbers on the bed")


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
    kind, pocket_id = entry["shape"], entry["id"]
    own = values.get(f"{pocket_id}_opening_mm", values[f"{kind}_opening_mm"])
    straight = f"{kind}_cut_deg" in values
    shape = PocketShape(
        own.value,
        values[f"{kind}_jaw_radius_mm"].value,
        values[f"{kind}_shelf_mm" if straight else _FALL_NAMES[kind]].value,
        values[f"{kind}_cut_deg"].value if straight else None,
        values[f"{kind}_facing_mm"].value if straight else 0.0,
    )
    across = width_mm if pocket_id.endswith("-right") else 0.0
    if kind == "middle":
        return middle_pocket(pocket_id, entry["title"], (across, length_mm / 2), shape)
    along = length_mm if pocket_id.startswith("top-") else 0.0
    return corner_pocket(pocket_id, entry["title"], (across, along), shape)
