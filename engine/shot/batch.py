"""Many shots at once: the same kernel, spread over the machine's cores.

Every shot has its own strike, direction and, when given, its own ball positions; results are
arrays. The kernel lets go of Python's lock, so plain threads share the work.
"""

from __future__ import annotations

import os
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import ArrayLike

from engine.balls import Ball
from engine.compiled import room
from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.shot.layout import RECORD_COLUMNS, X, Y, ball_rows, condition_values, workspace
from engine.shot.play import MOST_ELEVATION, MOST_EVENTS, struck_index, table_values
from engine.shot.striking import E_CUT_SHORT, E_EVENTS, E_SECONDS, ENDS, play_shots
from engine.tables.model import Table

#: Shots a thread takes at a time: enough to be worth handing over, few enough to share out well.
CHUNK = 256
SCRATCH_RECORDS = 1000

# columns of a log entry
LOG_CAUSE, LOG_BALL, LOG_OTHER = range(3)


@dataclass(frozen=True, slots=True)
class Shots:
    """Results of N shots with n balls.

    `rests_mm` (N, n, 2): where each ball ends (a potted ball: where it fell). `potted` (N, n):
    the index of the pocket, −1 for a ball still on the table. `durations_s`, `events` (N,):
    seconds to rest, and how many events there were. `cut_short` (N,): the event limit was met.
    `log` (N, k, 3) int16: the first k happenings, each (cause, ball, other) with −1 for none, in
    order; causes as in `engine.shot.layout`. `ways` (N, s, RECORD_COLUMNS): the cue ball's
    first s segments, the rest nan; None unless asked for.
    """

    ids: tuple[str, ...]
    rests_mm: np.ndarray
    potted: np.ndarray
    durations_s: np.ndarray
    events: np.ndarray
    cut_short: np.ndarray
    log: np.ndarray
    ways: np.ndarray | None


def play_many(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    speed_mm_s: ArrayLike,
    direction_rad: ArrayLike,
    *,
    tip_height: ArrayLike = 0.0,
    side: ArrayLike = 0.0,
    elevation_deg: ArrayLike = 0.0,
    places_mm: np.ndarray | None = None,
    log_length: int = 16,
    way_length: int = 0,
    cue_id: str | None = None,
) -> Shots:
    """Play N shots; the strike arguments broadcast against each other to shape (N,).

    `places_mm` (N, n, 2) or (1, n, 2) replaces the balls' own places. `log_length` happenings
    are kept a shot, and `way_length` segments of the cue ball. Raises `OutOfRangeError` when any
    strike is outside what can be played.
    """
    speed, tip, across, raised, way = np.broadcast_arrays(
        *(
            np.atleast_1d(np.asarray(value, dtype=float))
            for value in (speed_mm_s, tip_height, side, elevation_deg, direction_rad)
        )
    )
    _check(speed, tip, across, raised, way, conditions.tip_limit)
    strikes = np.column_stack([speed, tip, across, np.radians(raised), np.cos(way), np.sin(way)])
    base = ball_rows(balls, conditions)
    count, n = len(strikes), len(balls)
    given = base[None, :, X : Y + 1] if places_mm is None else places_mm
    places = np.ascontiguousarray(given, dtype=float)
    if places.shape not in ((count, n, 2), (1, n, 2)):
        raise OutOfRangeError("shape of places_mm", places.shape, f"({count}, {n}, 2)")
    rests = np.empty((count, n, 2))
    potted = np.empty((count, n))
    ends = np.empty((count, ENDS))
    log = np.empty((count, log_length, 3), dtype=np.int16)
    ways = np.empty((count, way_length, RECORD_COLUMNS))
    struck = struck_index(balls, cue_id)
    values, arrays = condition_values(conditions), table_values(table)

    def chunk(start: int) -> None:
        part = slice(start, start + CHUNK)
        play_shots(
            base, struck, places[part] if len(places) > 1 else places, strikes[part], values,
            *arrays, MOST_EVENTS, *workspace(n), *_records(SCRATCH_RECORDS),
            rests[part], potted[part], ends[part], log[part], ways[part],
        )  # fmt: skip

    starts = range(0, count, CHUNK)
    if len(starts) > 1:
        list(threads().map(chunk, starts))
    else:
        for start in starts:
            chunk(start)
    return Shots(
        tuple(ball.id for ball in balls),
        rests,
        potted.astype(np.int8),
        ends[:, E_SECONDS],
        ends[:, E_EVENTS].astype(int),
        ends[:, E_CUT_SHORT] > 0,
        log,
        ways if way_length else None,
    )


@room
def _records(most: int) -> tuple[np.ndarray, ...]:
    return (np.empty((most, RECORD_COLUMNS)),)


@cache
def cores() -> int:
    """How many cores there are."""
    return os.cpu_count() or 1


@cache
def threads() -> ThreadPoolExecutor:
    """The threads that share the work, one for each core."""
    return ThreadPoolExecutor(cores(), thread_name_prefix="shots")


def _check(
    speed: np.ndarray, tip: np.ndarray, side: np.ndarray, raised: np.ndarray, way: np.ndarray,
    tip_limit: float,
) -> None:  # fmt: skip
    tests = (
        ("speed", speed, (speed > 0) & (speed <= 20_000.0), "above 0, to 20000 mm/s"),
        ("tip offset", np.hypot(tip, side), np.hypot(tip, side) <= tip_limit + 1e-9,
         f"at most {tip_limit:g} of the radius"),
        ("cue elevation", raised, (raised >= 0) & (raised <= np.degrees(MOST_ELEVATION)),
         "0 to 60 degrees"),
        ("direction", way, np.isfinite(way), "an angle in radians"),
    )  # fmt: skip
    for what, given, fine, wanted in tests:
        if not np.all(fine):
            raise OutOfRangeError(what, given[~fine][0], wanted)
