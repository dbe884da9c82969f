"""One shot, struck and played to rest."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from engine.balls import Ball
from engine.compiled import Lasting, Room
from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.motion.strike import check_tip
from engine.shot.layout import (
    RADIUS,
    X,
    Y,
    ball_rows,
    condition_values,
    table_arrays,
    workspace,
)
from engine.shot.striking import E_CUT_SHORT, E_RECORDS, ONE_ENDS, one_shot, play_shots
from engine.shot.trace import Trace
from engine.tables.model import Table

MOST_EVENTS = 5000
MOST_RECORDS = 2000
MOST_ELEVATION = math.radians(60.0)


@dataclass(frozen=True, slots=True)
class Strike:
    """How the cue ball is struck: speed off the tip (mm/s), tip offsets over the radius.

    `tip_height` above (+) or below (−) centre, `side` to the right (+), `elevation_deg` of the cue.
    """

    speed_mm_s: float
    tip_height: float = 0.0
    side: float = 0.0
    elevation_deg: float = 0.0


def play(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    strike: Strike,
    direction_rad: float,
    *,
    cue_id: str | None = None,
) -> Trace:
    """Strike the cue ball along a direction (from +x, anticlockwise) and play all balls to rest.

    `cue_id` names the ball struck (the ball of kind "cue" by default). Raises `OutOfRangeError`
    for a tip beyond the miscue limit or an impossible speed, `UnknownNameError` without a cue
    ball.
    """
    check_tip(strike.tip_height, strike.side, conditions.tip_limit)
    if not (math.isfinite(strike.speed_mm_s) and 0.0 < strike.speed_mm_s <= 20_000.0):
        raise OutOfRangeError("speed", f"{strike.speed_mm_s:g} mm/s", "above 0, to 20000 mm/s")
    if not math.isfinite(direction_rad):
        raise OutOfRangeError("direction", direction_rad, "an angle in radians")
    elevation = math.radians(strike.elevation_deg)
    if not 0.0 <= elevation <= MOST_ELEVATION:
        raise OutOfRangeError("cue elevation", f"{strike.elevation_deg:g} degrees", "0 to 60")
    struck = struck_index(balls, cue_id)
    rows = ball_rows(balls, conditions)
    places, strikes, out, *told = one_shot(len(balls), MOST_RECORDS)
    places.array[0] = rows[:, X : Y + 1]
    strikes.array[0] = (
        strike.speed_mm_s, strike.tip_height, strike.side, elevation,
        math.cos(direction_rad), math.sin(direction_rad),
    )  # fmt: skip
    play_shots(
        rows, struck, places, strikes, condition_values(conditions), *table_values(table),
        MOST_EVENTS, *workspace(len(balls)), out, *told,
    )  # fmt: skip
    ends = told[ONE_ENDS].array[0]
    used = int(ends[E_RECORDS])
    return Trace(
        [ball.id for ball in balls],
        out.array[:used].copy(),
        rows[:, RADIUS].copy(),
        conditions.spin_decay_rad_s2,
        _names(table),
        bool(ends[E_CUT_SHORT] > 0.0),
    )


def struck_index(balls: Sequence[Ball], cue_id: str | None) -> int:
    """Index of the ball to strike: the one named, or the cue ball."""
    for index, ball in enumerate(balls):
        if ball.id == cue_id or (cue_id is None and ball.is_cue):
            return index
    raise UnknownNameError("cue ball", cue_id or "cue", [ball.id for ball in balls])


_ARRAYS: dict[int, tuple[Table, Room]] = {}


def table_values(table: Table) -> Room:
    """The table's arrays for compiled functions, kept for the last few tables.

    A table holds a dict, so it is told by its id.
    """
    kept = _ARRAYS.get(id(table))
    if kept is not None and kept[0] is table:
        return kept[1]
    if len(_ARRAYS) > 16:
        _ARRAYS.clear()
    arrays = tuple(Lasting(array) for array in table_arrays(table))
    _ARRAYS[id(table)] = (table, arrays)
    return arrays


def _names(table: Table) -> tuple[list[str], list[str], list[str]]:
    faces = [face.cushion for face in table.faces]
    jaws = [pocket.id for pocket in table.pockets for _ in pocket.jaws_mm]
    jaws += [pocket.id for pocket in table.pockets for _ in pocket.facings]
    return faces, jaws, [pocket.id for pocket in table.pockets]
