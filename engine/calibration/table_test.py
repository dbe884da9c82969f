"""The two-minute test of a table: three strokes, a tape and a phone, no file.

A ball struck up the table and back, one off a ramp square on to a cushion, and one half-ball pot.
What is read of them becomes observations of the usual kinds, for the one fit there is.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from engine.calibration.kinds import Observation
from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.potting.pockets import pocket_window
from engine.potting.vectors import along, direction_rad
from engine.tables import Table

#: The pace of the struck ones unless another was played: enough to come back past the middle.
USUAL_PACE = 4.0
#: Readings in the order of the strokes, and the kind and column of observation each belongs to.
READINGS: Mapping[str, tuple[str, str]] = MappingProxyType(
    {
        "lengths": ("up-and-down", "lengths"),
        "stretch_mm": ("roll", "distance_mm"),
        "stretch_s": ("roll", "time_s"),
        "free_mm": ("rebound", "free_mm"),
        "ramp_mm": ("rebound", "distance_mm"),
        "back_mm": ("rebound", "rest_mm"),
        "mark_mm": ("lane", "at_mm"),
    }
)
HALF_BALL_CUT = math.radians(30.0)
#: How far the cue ball stands from the half-ball contact, over the table's width.
RUN_SHARE = 0.34


def planned(
    table: Table, conditions: Conditions, pace: float = USUAL_PACE
) -> tuple[Observation, ...]:
    """The observations of the three strokes, with what is to be played and no results.

    The first stroke gives two: how many lengths it ran in all, and how long its last stretch took.
    """
    start = round(0.2 * table.length_mm, -1)
    return (
        Observation("up-and-down", {"pace": pace, "start_mm": start}),
        Observation("roll"),
        Observation("rebound"),
        Observation("lane", {"pace": pace, **_half_ball(table, conditions), "cushion": "top"}),
    )


def _half_ball(table: Table, conditions: Conditions) -> dict[str, float | str]:
    """Where the balls of the half-ball pot stand, and where the object ball goes."""
    ball = (round(0.62 * table.width_mm), round(0.72 * table.length_mm))
    goal: dict[str, float | str]
    pocket = next((one for one in table.pockets if one.id == "top-right"), None)
    if pocket is None:
        goal = {"to_x_mm": round(table.width_mm), "to_y_mm": round(0.97 * table.length_mm)}
        line = direction_rad(ball, (float(goal["to_x_mm"]), float(goal["to_y_mm"])))
    else:
        goal = {"pocket": pocket.id}
        line = pocket_window(pocket, ball, conditions.ball_radius_mm).direction_rad
    contact = along(ball, line, -conditions.touch_mm)
    cue = along(contact, line + HALF_BALL_CUT, -RUN_SHARE * table.width_mm)
    return {
        "cue_x_mm": round(cue[0]),
        "cue_y_mm": round(cue[1]),
        "ball_x_mm": ball[0],
        "ball_y_mm": ball[1],
        **goal,
    }


def observed(
    table: Table, conditions: Conditions, read: Mapping[str, float], pace: float = USUAL_PACE
) -> tuple[Observation, ...]:
    """The observations of what was read, by the names of `READINGS`.

    Strokes of which nothing was read are not there; `OutOfRangeError` for one half filled in.
    """
    found = []
    for one in planned(table, conditions, pace):
        wanted = {name: column for name, (kind, column) in READINGS.items() if kind == one.kind}
        given = [name for name in wanted if name in read]
        if given and len(given) < len(wanted):
            lacking = next(name for name in wanted if name not in read)
            raise OutOfRangeError(f"the reading {lacking}", "nothing", "a number, as the others")
        if given:
            cells = {**one.cells, **{column: read[name] for name, column in wanted.items()}}
            found.append(replace(one, cells=cells))
    return tuple(found)
