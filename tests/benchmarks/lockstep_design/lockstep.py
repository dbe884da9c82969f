"""The design weighed against the compiled kernel: numpy in lock-step, an event of all at once.

A fixed number of lanes stand side by side in arrays, a shot in each; an iteration finds every
shot's next event, carries it out, and looks anew only at the pairs and balls it changed. Finished
shots drop out and waiting ones take their lanes, so that a few long shots do not leave the rest
of the arrays idle until the very end. Physics, root finding, cushions, jaws and falls are the
kernel's, written with masks; jaws are arcs and balls of one size, as on the snooker table. It
keeps less than the kernel does (no log, no segments), to its own advantage; several contacts in
one instant, which random shots hardly have, are resolved one shot at a time.
"""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from itertools import pairwise

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.shot.layout import (
    RADIUS,
    VX,
    VY,
    WX,
    WY,
    WZ,
    X,
    Y,
    ball_rows,
    condition_values,
    table_arrays,
)
from engine.shot.play import struck_index
from engine.tables.model import Table
from tests.benchmarks.lockstep_design.cloth import begin
from tests.benchmarks.lockstep_design.lanes import Ends, Lanes
from tests.benchmarks.lockstep_design.meetings import Surroundings, lean

__all__ = ["Ends", "play_lockstep"]

#: Shots side by side: enough that numpy's cost per call is small, few enough for the cache.
LANES = 16384


def play_lockstep(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    speed_mm_s: np.ndarray,
    direction_rad: np.ndarray,
    tip_height: np.ndarray,
    side: np.ndarray,
    places_mm: np.ndarray,
    *,
    lanes: int = LANES,
    threads: int = 1,
) -> Ends:
    """Play N shots from their own places (N, n, 2); the other arguments are (N,)."""
    count, n = len(speed_mm_s), len(balls)
    c = condition_values(conditions)
    base = ball_rows(balls, conditions)
    around = Surroundings.of(*table_arrays(table))
    struck = struck_index(balls, None)
    ends = Ends(
        np.empty((count, n, 2)),
        np.full((count, n), -1, dtype=np.int8),
        np.empty(count),
        np.empty(count, dtype=np.int64),
    )

    def opening(start: int, end: int) -> np.ndarray:
        """States (BALL_COLUMNS, n, k) of the shots from start to end, the cue ball struck."""
        own = slice(start, end)
        speed = speed_mm_s[own]
        state = np.repeat(base.T[:, :, None], len(speed), axis=2)
        state[X], state[Y] = places_mm[own, :, 0].T, places_mm[own, :, 1].T
        ux, uy = np.cos(direction_rad[own]), np.sin(direction_rad[own])
        cue = state[:, struck]
        cue[VX], cue[VY] = speed * ux, speed * uy
        drive = 2.5 * speed / base[struck, RADIUS]
        top = drive * tip_height[own]
        cue[WX], cue[WY], cue[WZ] = -top * uy, top * ux, drive * side[own]
        begin(cue, c)
        lean(cue, around)
        return state

    def part(share: range) -> None:
        with np.errstate(all="ignore"):
            Lanes(opening, share, lanes, c, around, ends).play()

    cuts = np.linspace(0, count, threads + 1).astype(int).tolist()
    shares = [range(low, high) for low, high in pairwise(cuts)]
    if threads == 1:
        part(shares[0])
    else:
        with ThreadPoolExecutor(threads) as pool:
            list(pool.map(part, shares))
    return ends
