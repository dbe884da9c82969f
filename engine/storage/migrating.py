"""How routines of an older version are brought up to date, one version at a time.

What is at fault in a file is left as it is: the faults are told of what was given.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from engine.conditions import Conditions, usual_conditions
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.conditions.stroke import pace_of, tip_share
from engine.routine.identity import id_of_content
from engine.routine.values import STUN
from engine.tables import load_table, table_ids

#: Version 1: the ball's speed at paces 1 to 10, wherever the tip met it: m/s, evenly.
SCALE_1 = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 4.5, 5.0)
#: The pace of a lane that stated none, in version 1.
PACE_1 = 4.0
#: Paces nearer to each other are the same, written with another rounding.
SAME_PACE = 1e-12
#: No ball weighs as much: a file that says so is at fault, and told so.
LEAST_AT_FAULT_KG = 1000.0


def to_version_2(data: dict[str, Any]) -> dict[str, Any]:
    """A pace becomes the stroke that gives the ball the speed it had, and the routine gets an id.

    In version 1 a pace was the ball's speed off the tip, on a scale of half a metre a second a
    pace; in version 2 it is the cue's stroke, on a scale of its own, and a tip off the middle takes
    its share. So the speed v that a lane's ball had is divided by the share of its tip, side
    included, and the pace looked up at which the new scale has that speed: every ball leaves as it
    did before, to the last digit a file can hold, and paces are no whole or half ones any more
    where they were. A lane keeps its speed by stating it (`speed_m_s`, which meant the same
    before) where no pace does: of stun, whose tip is only found by playing, and where the scale
    does not reach that high. A scale the file states stays: it is taken for that of balls struck
    in the middle. Claims stay; a range of paces in one becomes the range of the same speeds in the
    middle of the ball.

    The id is made of the content, so that the same file opened twice is the same routine. Remarks
    of other programs under the names that now mean something stay under longer ones.
    """
    identity = id_of_content(data)
    conditions = data.get("conditions")
    conditions = conditions if isinstance(conditions, dict) else {}
    own = _scale(conditions.get("pace_speeds_m_s"))
    usual = _usual(data)
    old, new = own or SCALE_1, own or usual.pace_speeds_m_s
    masses = _ball_kg(data, conditions, usual), usual.cue_mass_kg
    for shot in _objects(data.get("shots")):
        for lane in _objects(shot.get("lanes")):
            _convert_lane(lane, old, new, masses)
    for claim in _objects(data.get("claims")):
        for end in ("pace_min", "pace_max"):
            pace = _pace(claim.get(end))
            if pace is not None:
                claim[end] = _nearly(pace_of(_speed(pace, old), new), pace)
    for name in ("id", "revision"):
        if name in data:
            data[f"{name}_in_version_1"] = data.pop(name)
    return {**data, "id": identity}


def _convert_lane(
    lane: dict[str, Any],
    old: Sequence[float],
    new: Sequence[float],
    masses: tuple[float, float],
) -> None:
    pace = _pace(lane.get("pace", PACE_1))
    if pace is None or lane.get("speed_m_s") is not None:
        return
    speed, tip = _speed(pace, old), lane.get("tip_height", 0.0)
    if tip == STUN:
        lane["speed_m_s"] = speed
        lane["pace"] = _nearly(pace_of(speed, new), pace)
        return
    height, side = _number(tip), _number(lane.get("side", 0.0))
    if height is None or side is None or math.hypot(height, side) > 1.0:
        return
    middle = speed / float(tip_share(height, side, *masses))
    if middle > new[-1]:
        lane["speed_m_s"] = speed
    lane["pace"] = _nearly(pace_of(middle, new), pace)


def _speed(pace: float, scale: Sequence[float]) -> float:
    """The speed a scale has at a pace, m/s."""
    low = min(int(pace), len(scale) - 1)
    return scale[low - 1] + (pace - low) * (scale[low] - scale[low - 1])


def _nearly(pace: float, before: float) -> float:
    return before if abs(pace - before) < SAME_PACE else pace


def _usual(data: Mapping[str, Any]) -> Conditions:
    """The conditions of the file's table before its own; those of the usual one if it has none."""
    table = data.get("table", "snooker-12ft")
    known = isinstance(table, str) and table in table_ids()
    return usual_conditions(load_table(table)) if known else Conditions()


def _ball_kg(data: Mapping[str, Any], conditions: Mapping[str, Any], usual: Conditions) -> float:
    """The cue ball's mass: as stated, else its own on that table, else that of all the balls."""
    measured = data.get("measured_table")
    values = measured.get("values") if isinstance(measured, dict) else None
    values = values if isinstance(values, dict) else {}
    cue = _number(conditions.get("cue_ball_mass_kg"))
    if cue is None and "cue_ball_mass_kg" not in conditions:
        cue = _number(values.get("cue_ball_mass_kg")) or usual.cue_ball_mass_kg
    ball = _number(conditions.get("ball_mass_kg")) or _number(values.get("ball_mass_kg"))
    stated = cue or ball
    return stated if stated and 0.0 < stated < LEAST_AT_FAULT_KG else usual.ball_mass_kg


def _scale(value: Any) -> tuple[float, ...] | None:
    """A stated scale, if it is one: ten speeds that rise."""
    if not isinstance(value, list) or len(value) != 10:
        return None
    speeds = [_number(one) for one in value]
    known = [one for one in speeds if one is not None]
    rises = len(known) == 10 and known[0] > 0.0 and all(a < b for a, b in pairwise(known))
    return tuple(known) if rises else None


def _pace(value: Any) -> float | None:
    """A pace, if it is one."""
    pace = _number(value)
    return pace if pace is not None and PACE_LOWEST <= pace <= PACE_HIGHEST else None


def _number(value: Any) -> float | None:
    """A number that a float can hold, or nothing."""
    if not isinstance(value, int | float) or isinstance(value, bool):
        return None
    return float(value) if abs(value) <= sys.float_info.max else None


def _objects(value: Any) -> list[dict[str, Any]]:
    return [one for one in value if isinstance(one, dict)] if isinstance(value, list) else []
