"""Rules for the sheet, the table, the conditions and the balls of a routine."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

from engine.balls import KINDS
from engine.conditions import CONDITION_FACTS, Conditions, usual_conditions
from engine.conditions.model import OPTIONAL_CONDITIONS
from engine.errors import OutOfRangeError, listed, short
from engine.routine.rules.breach import Breach, Names, key_text, names_once, number, shown, unknown
from engine.routine.values import Routine
from engine.tables import MeasuredTable, Table, load_table, table_ids
from engine.tables.measured import measurable_names, measured_limits

LEVEL_LOWEST, LEVEL_HIGHEST = 1, 5
#: No place on or near any table is farther out than this.
FARTHEST_MM = 100_000.0
#: More tags than this tell nothing any more.
MOST_TAGS, LONGEST_TAG = 40, 60
#: Far more than a set of balls; a guard against files that are no routines.
MOST_BALLS = 100
PACE_SPEEDS = "pace_speeds_m_s"
CONDITION_NAMES = Names((*CONDITION_FACTS, PACE_SPEEDS))


def sheet_breaches(routine: Routine) -> Iterator[Breach]:
    """The level must be 1 to 5, and tags short single lines."""
    if routine.level not in range(LEVEL_LOWEST, LEVEL_HIGHEST + 1):
        yield Breach("level", "level", shown(routine.level), "a whole number from 1 to 5")
    if len(routine.tags) > MOST_TAGS:
        yield Breach("tags", "tags", f"a list of {len(routine.tags)}", f"at most {MOST_TAGS}")
    for index, tag in enumerate(routine.tags):
        if not tag.strip() or len(tag) > LONGEST_TAG or not tag.isprintable():
            wanted = f"a word or two on one line, at most {LONGEST_TAG} letters"
            yield Breach(f"tags[{index}]", "tag", shown(tag), wanted)


def table_breaches(routine: Routine) -> Iterator[Breach]:
    """The table must be known, and each stated pocket opening possible on it."""
    if routine.table not in table_ids():
        known = Names(table_ids())
        yield unknown("table", "table", routine.table, known, "the id of a table", refers="table")
        return
    table = load_table(routine.table)
    yield from _opening_breaches(table, routine.pocket_openings_mm, "pocket_openings_mm")
    if routine.measured_table is not None:
        yield from measured_breaches(table, routine.measured_table, "measured_table")


def _opening_breaches(
    table: Table, openings_mm: Mapping[str, float], where: str
) -> Iterator[Breach]:
    pockets = Names(pocket.id for pocket in table.pockets)
    for name, opening in openings_mm.items():
        path = f"{where}.{key_text(name)}"
        if name not in pockets:
            yield unknown(path, "pocket", name, pockets, "a pocket of this table", refers="table")
            continue
        low, high = (
            table.values["opening_lowest_mm"].value,
            table.values["opening_highest_mm"].value,
        )
        yield from number(path, f"opening of pocket {name}", opening, low, high, "mm")


def measured_breaches(table: Table, measured: MeasuredTable, where: str) -> Iterator[Breach]:
    """Measured sizes, spots and pockets exist on that table, and a tape could have read them."""
    names = Names(measurable_names(table))
    for name, value in measured.values.items():
        path, what = f"{where}.values.{key_text(name)}", f"measured {key_text(name)}"
        if name not in names:
            yield unknown(path, what, name, names, "a size of this table", refers="table")
            continue
        low, high = measured_limits(name, table)
        yield from number(path, what, value, low, high, "kg" if name.endswith("_kg") else "mm")
    spots = Names(spot.id for spot in table.spots)
    for name, place in measured.spots_mm.items():
        path = f"{where}.spots_mm.{key_text(name)}"
        if name not in spots:
            yield unknown(path, "spot", name, spots, "a spot of this table", refers="table")
            continue
        sizes = (table.width_mm, table.length_mm)
        for axis, (at, size) in enumerate(zip(place, sizes, strict=True)):
            yield from number(f"{path}[{axis}]", f"place of the {name} spot", at, 0.0, size, "mm")
    yield from _opening_breaches(table, measured.pocket_openings_mm, f"{where}.pocket_openings_mm")


def condition_breaches(routine: Routine) -> Iterator[Breach]:
    """Stated conditions must exist and lie within what is allowed.

    An entry that is no number (a remark) is nobody's condition and is left alone; a number
    under an unknown name would be left out of every prediction, so it is refused.
    """
    for name, value in routine.conditions.items():
        path, what = f"conditions.{key_text(name)}", f"condition {key_text(name)}"
        if name == PACE_SPEEDS:
            yield from _pace_speed_breaches(path, what, value)
        elif name in CONDITION_FACTS:
            low, high = CONDITION_FACTS[name].allowed
            if value is None and name in OPTIONAL_CONDITIONS:
                continue
            if not _is_number(value):
                yield Breach(path, what, shown(value), f"a number from {low:g} to {high:g}")
            else:
                yield from number(path, what, value, low, high, CONDITION_FACTS[name].unit)
        elif _is_number(value):
            yield unknown(path, "condition", name, CONDITION_NAMES, "a known condition")
    yield from _nose_breaches(routine)


def _nose_breaches(routine: Routine) -> Iterator[Breach]:
    """The cushion's nose must meet the cue ball above its centre and below its top."""
    if "cue_ball_radius_mm" not in routine.conditions or routine.table not in table_ids():
        return
    usual = usual_conditions(load_table(routine.table))
    names = ("ball_radius_mm", "cushion_height_ratio", "cue_ball_radius_mm")
    stated = {name: routine.conditions[name] for name in names if name in routine.conditions}
    if all(map(_is_number, stated.values())) and _each_allowed(stated):
        try:
            replace(usual, **stated)
        except OutOfRangeError as error:
            where = "conditions.cue_ball_radius_mm"
            got = shown(stated["cue_ball_radius_mm"])
            yield Breach(where, "condition cue_ball_radius_mm", got, error.wanted)


def _each_allowed(stated: Mapping[str, Any]) -> bool:
    limits = ((CONDITION_FACTS[name].allowed, value) for name, value in stated.items())
    return all(low <= value <= high for (low, high), value in limits)


def _pace_speed_breaches(path: str, what: str, value: Any) -> Iterator[Breach]:
    wanted = "a list of ten rising speeds in m/s, above 0 and up to 15"
    if not isinstance(value, list | tuple) or not all(map(_is_number, value)):
        yield Breach(path, what, shown(value), wanted)
        return
    try:
        Conditions(pace_speeds_m_s=tuple(value))
    except OutOfRangeError:
        yield Breach(path, what, shown(list(value)), wanted)


def ball_breaches(routine: Routine) -> Iterator[Breach]:
    """Ids are not empty and not shared; kinds are known, places are numbers; one cue ball."""
    if len(routine.balls) > MOST_BALLS:
        yield Breach("balls", "number of balls", str(len(routine.balls)), f"at most {MOST_BALLS}")
    yield from names_once("balls", "id", "ball id", [ball.id for ball in routine.balls])
    cue_at: int | None = None
    for index, ball in enumerate(routine.balls):
        path = f"balls[{index}]"
        if ball.kind not in KINDS:
            yield Breach(
                f"{path}.kind", "kind of ball", shown(ball.kind), f"one of {listed(KINDS)}"
            )
        if ball.is_cue and cue_at is not None:
            yield Breach(
                f"{path}.kind",
                "kind of ball",
                '"cue"',
                "only one cue ball",
                f"balls[{cue_at}] is the cue ball already",
            )
        elif ball.is_cue:
            cue_at = index
        for key, value in (("x_mm", ball.x_mm), ("y_mm", ball.y_mm)):
            yield from number(
                f"{path}.{key}",
                f"{key} of ball {short(ball.id)}",
                value,
                -FARTHEST_MM,
                FARTHEST_MM,
                "mm",
            )


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def tip_limit(routine: Routine) -> float:
    """The routine's tip limit, its default while the stated one is faulty."""
    low, high = CONDITION_FACTS["tip_limit"].allowed
    default = Conditions().tip_limit
    value = routine.conditions.get("tip_limit", default)
    usable = _is_number(value) and math.isfinite(value) and low <= value <= high
    return float(value) if usable else default
