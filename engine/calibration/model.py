"""What the ball-motion model says every observation should have read, for given conditions.

Straight rolling and sliding come from the closed forms; whatever meets a ball or a cushion is
played by the shot engine, all at once. Lanes and banks are played between whole cushions, without
pockets: the observed mark says that no pocket was met.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from engine.balls import Ball
from engine.calibration.kinds import Observation
from engine.conditions import Conditions
from engine.motion.cloth import no_spin_distance_mm, rolling_speed_mm_s, slide_distance_mm
from engine.playing.aims import aim_many, sizes_of
from engine.potting.pockets import pocket_window
from engine.potting.vectors import direction_rad
from engine.shot import play_many
from engine.shot.layout import (
    HIT_BALL,
    HIT_CUSHION,
    R_CAUSE,
    R_OTHER,
    R_X,
    R_Y,
    condition_values,
)
from engine.tables import Table
from engine.tables.geometry import faces
from engine.tables.model import Pocket

#: Segments of the cue ball looked at: a dozen cushions' worth.
WAY_LENGTH = 64
#: A rebound begins this far off the cushion, already rolling.
APPROACH_MM = 1.0
#: A tip 2/5 of the radius above centre sends the ball off rolling (Coriolis 1835).
ROLLING_TIP = 0.4
CUE = Ball("cue", "cue", 0.0, 0.0)
BALL = Ball("ball", "plain", 0.0, 0.0)


@dataclass(frozen=True, slots=True, eq=False)
class Bench:
    """A table ready for predictions; `plain` is the same bed between four whole cushions."""

    table: Table
    plain: Table

    @classmethod
    def of(cls, table: Table) -> Bench:
        """The bench of a table."""
        whole = faces(table.width_mm, table.length_mm, ())
        return cls(table, replace(table, pockets=(), faces=whole))


def measured_value(one: Observation, table: Table, radius_mm: float) -> float:
    """The result of an observation as the model predicts it: mm of travel, mm along, or seconds."""
    if one.kind == "up-and-down":
        return travel_mm(one, table, radius_mm)
    if one.kind in ("roll", "pace-time"):
        return one.number("time_s")
    columns = {"rebound": "rest_mm", "stun": "distance_mm", "lane": "at_mm", "bank": "then_mark_mm"}
    return one.number(columns[one.kind])


def travel_mm(one: Observation, table: Table, radius_mm: float) -> float:
    """How far the centre ran in an up-and-down, from start to rest."""
    if "rest_mm" not in one.cells or "cushions" not in one.cells:
        return one.number("lengths") * table.length_mm
    count, top = int(one.number("cushions")), table.length_mm - radius_mm
    start, rest = one.number("start_mm"), one.number("rest_mm")
    if count == 0:
        return rest - start
    between = (count - 1) * (table.length_mm - 2.0 * radius_mm)
    last = top - rest if count % 2 else rest - radius_mm
    return top - start + between + last


def predictions(
    bench: Bench, conditions: Conditions, rows: Sequence[Observation], speeds_mm_s: np.ndarray
) -> np.ndarray:
    """The predicted result of every row, (n,); nan for one the model gives no result for.

    `speeds_mm_s` (n,) holds the cue ball's speed off the tip of the rows that are struck.
    """
    found = np.full(len(rows), np.nan)
    gravity = 1000.0 * conditions.gravity_m_s2
    alone, pots = [], []
    for index, one in enumerate(rows):
        if one.kind == "roll":
            found[index] = _roll_seconds(one, conditions.rolling_resistance * gravity)
        elif one.kind == "pace-time":
            found[index] = seconds_over_mm(
                one.number("distance_mm"), speeds_mm_s[index], one.number("tip"), conditions
            )
        elif one.kind == "stun":
            grip = conditions.sliding_friction
            depth = -one.number("tip")
            found[index] = no_spin_distance_mm(speeds_mm_s[index], depth, grip, gravity)
        elif one.kind == "lane":
            pots.append(index)
        else:
            alone.append(index)
    if alone:
        _play_alone(bench, conditions, rows, speeds_mm_s, alone, found)
    if pots:
        _play_pots(bench, conditions, rows, speeds_mm_s, pots, found)
    return found


def _roll_seconds(one: Observation, drag_mm_s2: float) -> float:
    then, far = one.number("then_mm"), one.number("distance_mm")
    return math.sqrt(2.0 / drag_mm_s2) * (math.sqrt(far + then) - math.sqrt(then))


def seconds_over_mm(
    distance_mm: float, speed_mm_s: float, tip: float, conditions: Conditions
) -> float:
    """Time from the strike until a straight ball has run a distance; nan when it stops before.

    >>> round(seconds_over_mm(1000.0, 2000.0, 0.4, Conditions()), 4)
    0.508
    """
    gravity = 1000.0 * conditions.gravity_m_s2
    grip, drag = conditions.sliding_friction * gravity, conditions.rolling_resistance * gravity
    ratio = 2.5 * tip
    slide = float(slide_distance_mm(speed_mm_s, ratio, conditions.sliding_friction, gravity))
    rolled = float(rolling_speed_mm_s(speed_mm_s, ratio))
    pull = grip if ratio > 1.0 else -grip
    if distance_mm <= slide:
        now = math.sqrt(max(speed_mm_s**2 + 2.0 * pull * distance_mm, 0.0))
        return (now - speed_mm_s) / pull
    seconds = (rolled - speed_mm_s) / pull
    left = rolled * rolled - 2.0 * drag * (distance_mm - slide)
    return seconds + (rolled - math.sqrt(left)) / drag if left >= 0.0 else math.nan


def _play_alone(
    bench: Bench,
    conditions: Conditions,
    rows: Sequence[Observation],
    speeds: np.ndarray,
    indices: list[int],
    found: np.ndarray,
) -> None:
    """Shots of the cue ball alone: up-and-down, rebound, bank."""
    top = bench.table.length_mm - conditions.cue_radius_mm
    middle = bench.table.width_mm / 2.0
    drag = 1000.0 * conditions.gravity_m_s2 * conditions.rolling_resistance
    places = np.empty((len(indices), 1, 2))
    speed, tip, way = np.empty(len(indices)), np.empty(len(indices)), np.empty(len(indices))
    for k, index in enumerate(indices):
        one = rows[index]
        speed[k], tip[k], way[k] = speeds[index], one.number("tip"), math.pi / 2.0
        if one.kind == "rebound":
            left = one.number("free_mm") - one.number("distance_mm") + APPROACH_MM
            places[k, 0], tip[k] = (middle, top - APPROACH_MM), ROLLING_TIP
            speed[k] = math.sqrt(2.0 * drag * left)
        elif one.kind == "up-and-down":
            places[k, 0] = (middle, one.number("start_mm"))
        else:
            cue = (one.number("cue_x_mm"), one.number("cue_y_mm"))
            mark = centre_at(one.text("cushion"), one.number("at_mm"), bench.table, conditions)
            places[k, 0], way[k] = cue, direction_rad(cue, mark)
    played = replace(conditions, tip_limit=max(conditions.tip_limit, 0.5))
    shots = play_many(
        bench.plain, played, [CUE], speed, way, tip_height=tip, places_mm=places,
        log_length=0, way_length=WAY_LENGTH,
    )  # fmt: skip
    assert shots.ways is not None
    names = [face.cushion for face in bench.plain.faces]
    for k, index in enumerate(indices):
        one, ways = rows[index], shots.ways[k]
        used = ways[~np.isnan(ways[:, R_Y])]
        if one.kind == "bank":
            second = one.text("then_cushion")
            found[index] = _mark_on(used, names, (one.text("cushion"), second))
        elif one.kind == "rebound":
            found[index] = top - shots.rests_mm[k, 0, 1]
        else:
            found[index] = float(np.abs(np.diff(used[:, R_Y])).sum())


def centre_at(
    cushion: str, at_mm: float, table: Table, conditions: Conditions
) -> tuple[float, float]:
    """The cue ball's centre as it touches a cushion at a mark along it."""
    radius = conditions.cue_radius_mm
    return {
        "left": (radius, at_mm),
        "right": (table.width_mm - radius, at_mm),
        "bottom": (at_mm, radius),
        "top": (at_mm, table.length_mm - radius),
    }[cushion]


def _mark_on(ways: np.ndarray, names: list[str], wanted: Sequence[str]) -> float:
    """Where along the last of the wanted cushions a way meets it, after the others in order."""
    hits = ways[ways[:, R_CAUSE] == HIT_CUSHION]
    met = [names[int(row[R_OTHER])] for row in hits[: len(wanted)]]
    if met != list(wanted):
        return math.nan
    last = hits[len(wanted) - 1]
    return float(last[R_Y] if wanted[-1] in ("left", "right") else last[R_X])


def _play_pots(
    bench: Bench,
    conditions: Conditions,
    rows: Sequence[Observation],
    speeds: np.ndarray,
    indices: list[int],
    found: np.ndarray,
) -> None:
    """Lanes: the object ball goes where it was seen to go, the cue ball to its first cushion."""
    cue, ball, line = np.empty((len(indices), 2)), np.empty((len(indices), 2)), []
    for k, index in enumerate(indices):
        one = rows[index]
        cue[k] = one.number("cue_x_mm"), one.number("cue_y_mm")
        ball[k] = one.number("ball_x_mm"), one.number("ball_y_mm")
        line.append(_potting_line(one, bench.table, conditions))
    speed = speeds[indices]
    tip = np.array([rows[index].number("tip") for index in indices])
    direction, state = np.empty(len(indices)), np.zeros(len(indices), dtype=np.int64)
    values = condition_values(conditions)
    aim_many(
        cue, ball, np.array(line), speed, tip, np.zeros(len(tip)), sizes_of(conditions), values,
        True, direction, state,
    )  # fmt: skip
    shots = play_many(
        bench.plain, conditions, [CUE, BALL], speed, direction, tip_height=tip,
        places_mm=np.stack([cue, ball], axis=1), log_length=0, way_length=WAY_LENGTH,
    )  # fmt: skip
    assert shots.ways is not None
    names = [face.cushion for face in bench.plain.faces]
    for k, index in enumerate(indices):
        ways = shots.ways[k]
        met = np.nonzero(ways[:, R_CAUSE] == HIT_BALL)[0]
        if state[k] == 0 and len(met):
            found[index] = _mark_on(ways[met[0] :], names, (rows[index].text("cushion"),))


def _potting_line(one: Observation, table: Table, conditions: Conditions) -> float:
    at = (one.number("ball_x_mm"), one.number("ball_y_mm"))
    if "pocket" in one.cells:
        return _line_into(table.pocket(one.text("pocket")), at, conditions.ball_radius_mm)
    return direction_rad(at, (one.number("to_x_mm"), one.number("to_y_mm")))


@lru_cache(maxsize=1024)
def _line_into(pocket: Pocket, at: tuple[float, float], radius_mm: float) -> float:
    """The line into the middle of a pocket: the same at each of a fit's many steps."""
    return pocket_window(pocket, at, radius_mm).direction_rad
