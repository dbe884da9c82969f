"""Observations that no table could give: told with the reason and never fitted."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from engine.calibration.kinds import KINDS, Observation
from engine.conditions import CONDITION_FACTS, Conditions
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.potting.vectors import direction_rad, wrapped_rad
from engine.tables import CUSHIONS, Table
from engine.tables.bed import bed_of

FASTEST_M_S = 15.0
#: How far off the bed a reading may be before it is impossible, mm.
SLACK_MM = 10.0
MOST_CUSHIONS = 12


def impossible(one: Observation, table: Table, conditions: Conditions) -> str:
    """Why an observation cannot have happened on that table, in words; "" when it can.

    >>> from engine.tables import load_table
    >>> row = Observation("rebound", {"free_mm": 2000, "distance_mm": 900, "rest_mm": 1500})
    >>> impossible(row, load_table("snooker-12ft"), Conditions())
    'it comes back 1500 mm with only 1100 mm of rolling left in it'
    """
    return next(_reasons(one, table, conditions), "")


def _reasons(one: Observation, table: Table, conditions: Conditions) -> Iterator[str]:
    for column in ("distance_mm", "time_s", "free_mm", "lengths"):
        if column in one.cells and one.number(column) <= 0.0:
            yield f"{column} is {one.number(column):g}, wanted more than 0"
    for column in ("then_mm", "rest_mm", "error_mm", "error_s"):
        if one.number(column) < 0.0:
            yield f"{column} is {one.number(column):g}, wanted 0 or more"
    if KINDS[one.kind].struck:
        yield from _strike(one, conditions)
    for column in ("cushion", "then_cushion"):
        if column in one.cells and one.text(column) not in CUSHIONS:
            yield f'{column} is "{one.text(column)}", wanted {", ".join(CUSHIONS)}'
    yield from _CHECKS[one.kind](one, table, conditions)


def _strike(one: Observation, conditions: Conditions) -> Iterator[str]:
    pace, tip = one.number("pace"), one.number("tip")
    if not PACE_LOWEST <= pace <= PACE_HIGHEST:
        yield f"pace is {pace:g}, wanted {PACE_LOWEST:g} to {PACE_HIGHEST:g}"
    if abs(tip) > conditions.tip_limit:
        yield f"tip is {tip:g}, a miscue; wanted at most {conditions.tip_limit:g} either way"


def _longest_mm(table: Table) -> float:
    return math.hypot(table.width_mm, table.length_mm)


def _roll(one: Observation, table: Table, conditions: Conditions) -> Iterator[str]:
    far, then, time = one.number("distance_mm"), one.number("then_mm"), one.number("time_s")
    if far + then > _longest_mm(table) + SLACK_MM:
        yield f"it runs {far + then:.0f} mm, farther than the table allows"
    if far / time > 1000.0 * FASTEST_M_S:
        yield f"it runs at {far / time / 1000.0:.1f} m/s, faster than any ball"
    gravity = 1000.0 * conditions.gravity_m_s2
    resistance = 2.0 * (math.sqrt(far + then) - math.sqrt(then)) ** 2 / (gravity * time * time)
    low, high = CONDITION_FACTS["rolling_resistance"].allowed
    if not low <= resistance <= high:
        yield f"it asks for a rolling resistance of {resistance:.4f}, which no cloth has"


def _rebound(one: Observation, table: Table, conditions: Conditions) -> Iterator[str]:
    left = one.number("free_mm") - one.number("distance_mm")
    if left <= 0.0:
        yield "the ball stops before it gets to the cushion"
    elif one.number("rest_mm") >= left:
        yield (
            f"it comes back {one.number('rest_mm'):.0f} mm with only {left:.0f} mm of rolling "
            "left in it"
        )


def _up_and_down(one: Observation, table: Table, conditions: Conditions) -> Iterator[str]:
    radius, size = conditions.cue_radius_mm, table.length_mm
    low, high = radius - SLACK_MM, size - radius + SLACK_MM
    if not low <= one.number("start_mm") <= high:
        yield f"it starts at {one.number('start_mm'):.0f} mm, off the bed"
    if "cushions" in one.cells and "rest_mm" in one.cells:
        count = one.number("cushions")
        if count != int(count) or not 0 <= count <= MOST_CUSHIONS:
            yield f"cushions is {count:g}, wanted a whole number from 0 to {MOST_CUSHIONS}"
        if not low <= one.number("rest_mm") <= high:
            yield f"it stops at {one.number('rest_mm'):.0f} mm, off the bed"
        if count == 0 and one.number("rest_mm") <= one.number("start_mm"):
            yield "it stops behind where it started without meeting a cushion"
    elif one.number("lengths") > MOST_CUSHIONS:
        yield f"lengths is {one.number('lengths'):g}, wanted at most {MOST_CUSHIONS}"


def _pace_time(one: Observation, table: Table, conditions: Conditions) -> Iterator[str]:
    far, time = one.number("distance_mm"), one.number("time_s")
    if far > _longest_mm(table) + SLACK_MM:
        yield f"it is timed over {far:.0f} mm, farther than the table allows"
    if far / time > 1000.0 * FASTEST_M_S:
        yield f"it runs at {far / time / 1000.0:.1f} m/s, faster than any ball"


def _stun(one: Observation, table: Table, conditions: Conditions) -> Iterator[str]:
    if one.number("tip") >= 0.0:
        yield f"tip is {one.number('tip'):g}: only screw, below centre, wears off to stun"
    if one.number("distance_mm") > _longest_mm(table):
        yield f"it runs {one.number('distance_mm'):.0f} mm, farther than the table allows"


def _lane(one: Observation, table: Table, conditions: Conditions) -> Iterator[str]:
    cue = (one.number("cue_x_mm"), one.number("cue_y_mm"))
    ball = (one.number("ball_x_mm"), one.number("ball_y_mm"))
    yield from _on_bed("the cue ball", cue, conditions.cue_radius_mm, table)
    yield from _on_bed("the object ball", ball, conditions.ball_radius_mm, table)
    if math.dist(cue, ball) < conditions.touch_mm - SLACK_MM:
        yield "the two balls overlap"
    if "pocket" in one.cells:
        known = [pocket.id for pocket in table.pockets]
        if one.text("pocket") not in known:
            yield f'pocket is "{one.text("pocket")}", wanted {", ".join(known) or "to_x and to_y"}'
            return
        goal = table.pocket(one.text("pocket")).fall_mm
    else:
        goal = (one.number("to_x_mm"), one.number("to_y_mm"))
    line = direction_rad(ball, goal)
    if abs(wrapped_rad(line - direction_rad(cue, ball))) > math.radians(100.0):
        yield "the object ball would have to come back at the cue ball"
    yield from _along("at_mm", one.text("cushion"), one.number("at_mm"), table)


def _bank(one: Observation, table: Table, conditions: Conditions) -> Iterator[str]:
    cue = (one.number("cue_x_mm"), one.number("cue_y_mm"))
    yield from _on_bed("the cue ball", cue, conditions.cue_radius_mm, table)
    yield from _along("at_mm", one.text("cushion"), one.number("at_mm"), table)
    second = one.text("then_cushion")
    yield from _along("then_mark_mm", second, one.number("then_mark_mm"), table)
    if one.text("cushion") == second:
        yield f"it meets the {second} cushion twice running"


def _on_bed(
    what: str, at: tuple[float, float], radius_mm: float, table: Table
) -> Iterator[str]:  # fmt: skip
    if not bed_of(table, radius_mm).allows(at, slack_mm=SLACK_MM):
        yield f"{what} at {at[0]:.0f}, {at[1]:.0f} mm is not on the bed"


def _along(column: str, cushion: str, at_mm: float, table: Table) -> Iterator[str]:
    size = table.length_mm if cushion in ("left", "right") else table.width_mm
    if not -SLACK_MM <= at_mm <= size + SLACK_MM:
        yield f"{column} is {at_mm:.0f}, beyond the {cushion} cushion's {size:.0f} mm"


Check = Callable[[Observation, Table, Conditions], Iterator[str]]
_CHECKS: Mapping[str, Check] = {
    "roll": _roll,
    "rebound": _rebound,
    "up-and-down": _up_and_down,
    "pace-time": _pace_time,
    "stun": _stun,
    "lane": _lane,
    "bank": _bank,
}
