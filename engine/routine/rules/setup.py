"""Rules for the sheet, the table, the conditions and the balls of a routine."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from engine.balls import KINDS
from engine.conditions import CONDITION_FACTS, Conditions
from engine.errors import OutOfRangeError
from engine.routine.rules.breach import Breach, key_text, listed, names_once, number, shown, unknown
from engine.routine.values import Routine
from engine.tables import load_table, table_ids

LEVEL_LOWEST, LEVEL_HIGHEST = 1, 5
#: No place on or near any table is farther out than this.
FARTHEST_MM = 100_000.0
#: Far more than a set of balls; a guard against files that are no routines.
MOST_BALLS = 100
PACE_SPEEDS = "pace_speeds_m_s"
CONDITION_NAMES: tuple[str, ...] = (*CONDITION_FACTS, PACE_SPEEDS)


def sheet_breaches(routine: Routine) -> Iterator[Breach]:
    """The level must be 1 to 5."""
    if routine.level not in range(LEVEL_LOWEST, LEVEL_HIGHEST + 1):
        yield Breach("level", "level", shown(routine.level), "a whole number from 1 to 5")


def table_breaches(routine: Routine) -> Iterator[Breach]:
    """The table must be known, and each stated pocket opening possible on it."""
    if routine.table not in table_ids():
        yield unknown(
            "table", "table", routine.table, table_ids(), "the id of a table", refers="table"
        )
        return
    table = load_table(routine.table)
    pockets = [pocket.id for pocket in table.pockets]
    for name, opening in routine.pocket_openings_mm.items():
        path = f"pocket_openings_mm.{key_text(name)}"
        if name not in pockets:
            yield unknown(path, "pocket", name, pockets, "a pocket of this table", refers="table")
            continue
        low, high = (
            table.values["opening_lowest_mm"].value,
            table.values["opening_highest_mm"].value,
        )
        yield from number(path, f"opening of pocket {name}", opening, low, high, "mm")


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
            if not _is_number(value):
                yield Breach(path, what, shown(value), f"a number from {low:g} to {high:g}")
            else:
                yield from number(path, what, value, low, high, CONDITION_FACTS[name].unit)
        elif _is_number(value):
            yield unknown(path, "condition", name, CONDITION_NAMES, "a known condition")


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
                f"{path}.{key}", f"{key} of ball {ball.id}", value, -FARTHEST_MM, FARTHEST_MM, "mm"
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
