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
from engine.compiled import jit
from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.motion.strike import struck_spin
from engine.shot.kernel import CUT_SHORT, record, run
from engine.shot.layout import (
    FALLS,
    PLACED,
    R_BALL,
    R_CAUSE,
    R_OTHER,
    R_T,
    RADIUS,
    RECORD_COLUMNS,
    STRUCK,
    VX,
    VY,
    WX,
    WY,
    WZ,
    X,
    Y,
    ball_rows,
    condition_values,
)
from engine.shot.meetings import lean
from engine.shot.play import MOST_ELEVATION, MOST_EVENTS, Strike, play, struck_index, table_values
from engine.shot.segments import begin
from engine.tables import load_table
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


@jit
def set_up(b, base, places, struck, strike, c, faces, jaws):
    """Lay the balls of `base` out at `places` (n, 2) in `b` and strike one of them."""
    b[:] = base
    for i in range(b.shape[0]):
        b[i, X], b[i, Y] = places[i, 0], places[i, 1]
    speed, tip, side, elevation, ux, uy = strike
    b[struck, VX], b[struck, VY] = speed * ux, speed * uy
    b[struck, WX], b[struck, WY], b[struck, WZ] = struck_spin(
        speed, ux, uy, b[struck, RADIUS], tip, side, elevation
    )
    begin(b, struck, c)
    lean(b, struck, faces, jaws)


@jit
def _play_chunk(
    base, struck, places, strikes, c, faces, jaws, falls, most_events,
    rests, potted, ends, log, ways,
):  # fmt: skip
    """Play shots one after another; arrays of this chunk are filled in place."""
    n = base.shape[0]
    out = np.empty((SCRATCH_RECORDS, RECORD_COLUMNS))
    b = base.copy()
    for k in range(strikes.shape[0]):
        where = k if places.shape[0] > 1 else 0
        set_up(b, base, places[where], struck, strikes[k], c, faces, jaws)
        first = 0
        for i in range(n):
            first = record(b, i, STRUCK if i == struck else PLACED, -1, out, first)
        used, events, end = run(b, c, faces, jaws, falls, out[n:], most_events)
        used += n
        for i in range(n):
            rests[k, i, 0], rests[k, i, 1] = b[i, X], b[i, Y]
            potted[k, i] = -1
        ends[k, 0], ends[k, 1] = 0.0, events
        ends[k, 2] = 1.0 if end == CUT_SHORT or used == SCRATCH_RECORDS else 0.0
        logged = way = 0
        for row in range(used):
            cause, ball = int(out[row, R_CAUSE]), int(out[row, R_BALL])
            if out[row, R_T] > ends[k, 0]:
                ends[k, 0] = out[row, R_T]
            if row >= n and logged < log.shape[1]:
                log[k, logged, 0], log[k, logged, 1] = cause, ball
                log[k, logged, 2] = int(out[row, R_OTHER])
                logged += 1
            if ball == struck and way < ways.shape[1]:
                ways[k, way] = out[row]
                way += 1
            if cause == FALLS:
                potted[k, ball] = int(out[row, R_OTHER])
        for row in range(logged, log.shape[1]):
            log[k, row, :] = -1
        for row in range(way, ways.shape[1]):
            ways[k, row, :] = np.nan


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
    places = base[None, :, [X, Y]] if places_mm is None else np.asarray(places_mm, dtype=float)
    if places.shape not in ((count, n, 2), (1, n, 2)):
        raise OutOfRangeError("shape of places_mm", places.shape, f"({count}, {n}, 2)")
    rests = np.empty((count, n, 2))
    potted = np.empty((count, n), dtype=np.int8)
    ends = np.empty((count, 3))
    log = np.empty((count, log_length, 3), dtype=np.int16)
    ways = np.empty((count, way_length, RECORD_COLUMNS))
    struck = struck_index(balls, cue_id)
    values, arrays = condition_values(conditions), table_values(table)

    def chunk(start: int) -> None:
        part = slice(start, start + CHUNK)
        _play_chunk(
            base, struck, places[part] if len(places) > 1 else places, strikes[part], values,
            *arrays, MOST_EVENTS, rests[part], potted[part], ends[part], log[part], ways[part],
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
        potted,
        ends[:, 0],
        ends[:, 1].astype(int),
        ends[:, 2] > 0,
        log,
        ways if way_length else None,
    )


@cache
def threads() -> ThreadPoolExecutor:
    """The threads that share the work, one for each core."""
    return ThreadPoolExecutor(os.cpu_count() or 1, thread_name_prefix="shots")


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


@cache
def prepare() -> None:
    """Compile the kernel, or load it from its cache, so that the first shot is not the slow one."""
    balls = [Ball("cue", "cue", 600.0, 600.0), Ball("red", "red", 640.0, 1200.0)]
    table, conditions = load_table("snooker-12ft"), Conditions()
    play(table, conditions, balls, Strike(2000.0, 0.2), 1.5)
    play_many(table, conditions, balls, 2000.0, 1.5)
