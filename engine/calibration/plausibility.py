"""Observations that no table could give: told with the reason and never fitted."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping

from engine.calibration.kinds import KINDS, Observation
from engine.conditions import CONDITION_FACTS, Conditions
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.potting.vectors import direction_rad, wrapped_rad
from engine.results import Note
from engine.tables import CUSHIONS, Table
from engine.tables.bed import bed_of

FASTEST_M_S = 15.0
#: How far off the bed a reading may be before it is impossible, mm.
SLACK_MM = 10.0
MOST_CUSHIONS = 12


def impossible(one: Observation, table: Table, conditions: Conditions) -> Note | None:
    """Why an observation cannot have happened on that table; None when it can.

    >>> from engine.tables import load_table
    >>> row = Observation("rebound", {"free_mm": 2000, "distance_mm": 900, "rest_mm": 1500})
    >>> impossible(row, load_table("snooker-12ft"), Conditions())
    Note(kind='comes-back-too-far', values={'back_mm': 1500.0, 'left_mm': 1100.0})
    """
    return next(_reasons(one, table, conditions), None)


def _reasons(one: Observation, table: Table, conditions: Conditions) -> Iterator[Note]:
    for column in ("distance_mm", "time_s", "free_mm", "lengths"):
        if column in one.cells and one.number(column) <= 0.0:
            yield Note("not-above-zero", {"column": column, "value": one.number(column)})
    for column in ("then_mm", "rest_mm", "error_mm", "error_s"):
        if one.number(column) < 0.0:
            yield Note("below-zero", {"column": column, "value": one.number(column)})
    if KINDS[one.kind].struck:
        yield from _strike(one, conditions)
    for column in ("cushion", "then_cushion"):
        if column in one.cells and one.text(column) not in CUSHIONS:
            yield _not_one_of(one, column, CUSHIONS)
    yield from _CHECKS[one.kind](one, table, conditions)


def _strike(one: Observation, conditions: Conditions) -> Iterator[Note]:
    pace, tip = one.number("pace"), one.number("tip")
    if not PACE_LOWEST <= pace <= PACE_HIGHEST:
        yield Note("off-the-pace-scale", {"value": pace, "low": PACE_LOWEST, "high": PACE_HIGHEST})
    if abs(tip) > conditions.tip_limit:
        yield Note("miscue", {"value": tip, "most": conditions.tip_limit})


def _longest_mm(table: Table) -> float:
    return math.hypot(table.width_mm, table.length_mm)


def _roll(one: Observation, table: Table, conditions: Conditions) -> Iterator[Note]:
    far, then, time = one.number("distance_mm"), one.number("then_mm"), one.number("time_s")
    if far + then > _longest_mm(table) + SLACK_MM:
        yield Note("ball-runs-too-far", {"run_mm": far + then})
    yield from _too_fast(far, time)
    gravity = 1000.0 * conditions.gravity_m_s2
    resistance = 2.0 * (math.sqrt(far + then) - math.sqrt(then)) ** 2 / (gravity * time * time)
    low, high = CONDITION_FACTS["rolling_resistance"].allowed
    if not low <= resistance <= high:
        yield Note("no-such-cloth", {"resistance": resistance})


def _too_fast(far_mm: float, time_s: float) -> Iterator[Note]:
    if far_mm / time_s > 1000.0 * FASTEST_M_S:
        yield Note("too-fast", {"speed_m_s": far_mm / time_s / 1000.0})


def _rebound(one: Observation, table: Table, conditions: Conditions) -> Iterator[Note]:
    left = one.number("free_mm") - one.number("distance_mm")
    if left <= 0.0:
        yield Note("stops-before-cushion")
    elif one.number("rest_mm") >= left:
        yield Note("comes-back-too-far", {"back_mm": one.number("rest_mm"), "left_mm": left})


def _up_and_down(one: Observation, table: Table, conditions: Conditions) -> Iterator[Note]:
    radius, size = conditions.cue_radius_mm, table.length_mm
    low, high = radius - SLACK_MM, size - radius + SLACK_MM
    if not low <= one.number("start_mm") <= high:
        yield Note("starts-off-bed", {"at_mm": one.number("start_mm")})
    if "cushions" in one.cells and "rest_mm" in one.cells:
        count = one.number("cushions")
        if count != int(count) or not 0 <= count <= MOST_CUSHIONS:
            yield Note("no-count-of-cushions", {"value": count, "most": MOST_CUSHIONS})
        if not low <= one.number("rest_mm") <= high:
            yield Note("stops-off-bed", {"at_mm": one.number("rest_mm")})
        if count == 0 and one.number("rest_mm") <= one.number("start_mm"):
            yield Note("stops-behind-its-start")
    elif one.number("lengths") > MOST_CUSHIONS:
        yield Note("too-many-lengths", {"value": one.number("lengths"), "most": MOST_CUSHIONS})


def _pace_time(one: Observation, table: Table, conditions: Conditions) -> Iterator[Note]:
    far, time = one.number("distance_mm"), one.number("time_s")
    if far > _longest_mm(table) + SLACK_MM:
        yield Note("timed-too-far", {"over_mm": far})
    yield from _too_fast(far, time)


def _stun(one: Observation, table: Table, conditions: Conditions) -> Iterator[Note]:
    if one.number("tip") >= 0.0:
        yield Note("no-screw", {"value": one.number("tip")})
    if one.number("distance_mm") > _longest_mm(table):
        yield Note("ball-runs-too-far", {"run_mm": one.number("distance_mm")})


def _lane(one: Observation, table: Table, conditions: Conditions) -> Iterator[Note]:
    cue = (one.number("cue_x_mm"), one.number("cue_y_mm"))
    ball = (one.number("ball_x_mm"), one.number("ball_y_mm"))
    if not _on_bed(cue, conditions.cue_radius_mm, table):
        yield Note("cue-ball-off-bed", {"x_mm": cue[0], "y_mm": cue[1]})
    if not _on_bed(ball, conditions.ball_radius_mm, table):
        yield Note("object-ball-off-bed", {"x_mm": ball[0], "y_mm": ball[1]})
    if math.dist(cue, ball) < conditions.touch_mm - SLACK_MM:
        yield Note("two-balls-overlap")
    if "pocket" in one.cells:
        known = tuple(pocket.id for pocket in table.pockets)
        if one.text("pocket") not in known:
            yield _not_one_of(one, "pocket", known or ("to_x_mm", "to_y_mm"))
            return
        goal = table.pocket(one.text("pocket")).fall_mm
    else:
        goal = (one.number("to_x_mm"), one.number("to_y_mm"))
    line = direction_rad(ball, goal)
    if abs(wrapped_rad(line - direction_rad(cue, ball))) > math.radians(100.0):
        yield Note("back-at-cue-ball")
    yield from _along("at_mm", one.text("cushion"), one.number("at_mm"), table)


def _bank(one: Observation, table: Table, conditions: Conditions) -> Iterator[Note]:
    cue = (one.number("cue_x_mm"), one.number("cue_y_mm"))
    if not _on_bed(cue, conditions.cue_radius_mm, table):
        yield Note("cue-ball-off-bed", {"x_mm": cue[0], "y_mm": cue[1]})
    yield from _along("at_mm", one.text("cushion"), one.number("at_mm"), table)
    second = one.text("then_cushion")
    yield from _along("then_mark_mm", second, one.number("then_mark_mm"), table)
    if one.text("cushion") == second:
        yield Note("one-cushion-twice", {"cushion": second})


def _on_bed(at: tuple[float, float], radius_mm: float, table: Table) -> bool:
    return bool(bed_of(table, radius_mm).allows(at, slack_mm=SLACK_MM))


def _not_one_of(one: Observation, column: str, known: tuple[str, ...]) -> Note:
    return Note("not-one-of", {"column": column, "given": one.text(column), "known": known})


def _along(column: str, cushion: str, at_mm: float, table: Table) -> Iterator[Note]:
    size = table.length_mm if cushion in ("left", "right") else table.width_mm
    if not -SLACK_MM <= at_mm <= size + SLACK_MM:
        yield Note(
            "beyond-cushion",
            {"column": column, "at_mm": at_mm, "cushion": cushion, "long_mm": size},
        )


Check = Callable[[Observation, Table, Conditions], Iterator[Note]]
_CHECKS: Mapping[str, Check] = {
    "roll": _roll,
    "rebound": _rebound,
    "up-and-down": _up_and_down,
    "pace-time": _pace_time,
    "stun": _stun,
    "lane": _lane,
    "bank": _bank,
}
