"""A coach's own table: one of the known tables with measured values in place of its own.

What was not measured keeps the value of the table it is based on; spots that were not measured
follow from the measured sizes. A value outside the standard's tolerance is flagged, not refused;
one that no tape could have read is refused.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from engine.tables.model import Sourced, Table

#: A measured value may differ from the standard by this share before it is a slip of the pen.
FARTHEST_SHARE = 0.25

#: What may be measured, the unit in the name. Only those the base table has, and the cushion.
MEASURABLE: tuple[str, ...] = (
    "width_mm",
    "length_mm",
    "baulk_y_mm",
    "d_radius_mm",
    "black_from_top_mm",
    "cushion_nose_mm",
    "corner_opening_mm",
    "middle_opening_mm",
    "ball_diameter_mm",
    "ball_mass_kg",
    "cue_ball_diameter_mm",
    "cue_ball_mass_kg",
)


@dataclass(frozen=True, slots=True)
class MeasuredTable:
    """Measured values of one table, by the names the table's data use.

    `values` holds sizes (see `MEASURABLE`), `spots_mm` centres of spots by id,
    `pocket_openings_mm` openings by pocket id; all only where they were measured.
    """

    title: str = ""
    values: Mapping[str, float] = field(default_factory=dict)
    spots_mm: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    pocket_openings_mm: Mapping[str, float] = field(default_factory=dict)
    note: str = ""
    extra: Mapping[str, Any] = field(default_factory=dict, repr=False)

    @property
    def key(self) -> tuple[Any, ...]:
        """Everything that shapes the table, as a value that can be a dictionary's key."""
        return (
            self.title,
            tuple(sorted(self.values.items())),
            tuple(sorted((name, tuple(at)) for name, at in self.spots_mm.items())),
            tuple(sorted(self.pocket_openings_mm.items())),
        )


@dataclass(frozen=True, slots=True)
class Reading:
    """One measured value beside the standard's, for a report.

    `within` is None where the standard states no tolerance; otherwise whether the measured
    value lies within it.
    """

    name: str
    measured: float
    standard: Sourced

    @property
    def off(self) -> float:
        """Measured less standard."""
        return self.measured - self.standard.value

    @property
    def within(self) -> bool | None:
        """Whether the measured value keeps the standard's tolerance."""
        if self.standard.tolerance is None:
            return None
        return abs(self.off) <= self.standard.tolerance + 1e-9


def readings(measured: MeasuredTable, base: Table) -> tuple[Reading, ...]:
    """Every measured value beside that of the base table, sizes first, then spots and pockets.

    >>> from engine.tables import load_table
    >>> own = MeasuredTable(values={"width_mm": 1795.0})
    >>> [one.within for one in readings(own, load_table("snooker-12ft"))]
    [False]
    """
    return tuple(_readings(measured, base))


def _readings(measured: MeasuredTable, base: Table) -> Iterator[Reading]:
    for name, value in measured.values.items():
        if name in base.values:
            yield Reading(name, float(value), base.values[name])
    for spot_id, place in measured.spots_mm.items():
        for axis, at in zip("xy", place, strict=True):
            name = f"{spot_id}_spot_{axis}_mm"
            if name in base.values:
                yield Reading(name, float(at), base.values[name])
    for pocket_id, opening in measured.pocket_openings_mm.items():
        shape = "middle" if pocket_id.startswith("middle-") else "corner"
        standard = base.values.get(f"{shape}_opening_mm")
        if standard is not None:
            yield Reading(f"{pocket_id}_opening_mm", float(opening), standard)


def measurable_names(base: Table) -> tuple[str, ...]:
    """The sizes that can be measured on a table of that kind."""
    always = ("cue_ball_diameter_mm", "cue_ball_mass_kg")
    return tuple(name for name in MEASURABLE if name in base.values or name in always)


def measured_limits(name: str, base: Table) -> tuple[float, float]:
    """From what to what a measured size is believed."""
    standard = base.values.get(name, base.values.get(name.removeprefix("cue_")))
    middle = standard.value if standard is not None else math.nan
    if name.endswith("_opening_mm"):
        return base.values["opening_lowest_mm"].value, base.values["opening_highest_mm"].value
    return middle * (1.0 - FARTHEST_SHARE), middle * (1.0 + FARTHEST_SHARE)
