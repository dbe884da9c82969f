"""Shots as Python asks for them: the cue ball struck, and all balls played to rest."""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import Floats1, Floats2, Floats3, Shorts3, compiled, inlined, room
from engine.motion.strike import struck_spin
from engine.shot.kernel import CUT_SHORT, record, run
from engine.shot.layout import (
    BALL_COLUMNS,
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
)
from engine.shot.meetings import lean
from engine.shot.segments import begin

# columns of a strike: speed off the tip, tip height and side over the radius, elevation of the
# cue in radians, the unit way along which it is struck
S_SPEED, S_TIP, S_SIDE, S_ELEVATION, S_UX, S_UY = range(6)
STRIKE = 6

# how a shot ended: after how many seconds, events and records, and whether it was cut short
E_SECONDS, E_EVENTS, E_RECORDS, E_CUT_SHORT = range(4)
ENDS = 4
#: Where the ends are among what is told of one shot.
ONE_ENDS = 2


@inlined
def set_up(b, base, places, struck, strike, c, faces, jaws):
    """Lay the balls of `base` out at `places` (n, 2) in `b` and strike one of them."""
    for i in range(b.shape[0]):
        for column in range(BALL_COLUMNS):
            b[i, column] = base[i, column]
        b[i, X], b[i, Y] = places[i, 0], places[i, 1]
    speed, ux, uy = strike[S_SPEED], strike[S_UX], strike[S_UY]
    b[struck, VX], b[struck, VY] = speed * ux, speed * uy
    b[struck, WX], b[struck, WY], b[struck, WZ] = struck_spin(
        speed, ux, uy, b[struck, RADIUS], strike[S_TIP], strike[S_SIDE], strike[S_ELEVATION]
    )
    begin(b, struck, c)
    lean(b, struck, faces, jaws)


@room
def one_shot(n: int, records: int) -> tuple[np.ndarray, ...]:
    """Room for one shot with n balls: places and strike, records, and all that is told of it.

    What is told is as `play_shots` takes it, its log and ways of no length, the ends at ONE_ENDS.
    """
    return (
        np.empty((1, n, 2)), np.empty((1, STRIKE)), np.empty((records, RECORD_COLUMNS)),
        np.empty((1, n, 2)), np.empty((1, n)), np.empty((1, ENDS)),
        np.empty((1, 0, 3), dtype=np.int16), np.empty((1, 0, RECORD_COLUMNS)),
    )  # fmt: skip


@compiled
def play_shots(
    base: Floats2, struck: int, places: Floats3, strikes: Floats2, c: Floats1,
    faces: Floats2, jaws: Floats2, falls: Floats2, most_events: int,
    b: Floats2, work: Floats2, pair: Floats3, contacts: Floats2, touching: Floats2,
    out: Floats2, rests: Floats3, potted: Floats2, ends: Floats2, log: Shorts3, ways: Floats3,
) -> None:  # fmt: skip
    """Play shots one after another; the arrays of results, from `rests` on, are filled in place.

    They are as in `engine.shot.batch.Shots`, and `ends` (N, ENDS). What comes before is room;
    `out` is left with the records of the last shot, those of where the balls lay first.
    """
    n = base.shape[0]
    for k in range(strikes.shape[0]):
        where = places[k if places.shape[0] > 1 else 0]
        set_up(b, base, where, struck, strikes[k], c, faces, jaws)
        used = 0
        for i in range(n):
            used = record(b, i, STRUCK if i == struck else PLACED, -1, out, used)
        used, events, end = run(
            b, c, faces, jaws, falls, work, pair, contacts, touching, out, used, most_events
        )
        for i in range(n):
            rests[k, i, 0], rests[k, i, 1] = b[i, X], b[i, Y]
            potted[k, i] = -1.0
        seconds = 0.0
        logged = way = 0
        for row in range(used):
            cause, ball, other = (
                int(out[row, R_CAUSE]), int(out[row, R_BALL]), int(out[row, R_OTHER])
            )  # fmt: skip
            seconds = max(seconds, out[row, R_T])
            if row >= n and logged < log.shape[1]:
                log[k, logged, 0], log[k, logged, 1], log[k, logged, 2] = cause, ball, other
                logged += 1
            if ball == struck and way < ways.shape[1]:
                for column in range(RECORD_COLUMNS):
                    ways[k, way, column] = out[row, column]
                way += 1
            if cause == FALLS:
                potted[k, ball] = other
        ends[k, E_SECONDS], ends[k, E_EVENTS], ends[k, E_RECORDS] = seconds, events, used
        ends[k, E_CUT_SHORT] = 1.0 if end == CUT_SHORT or used == out.shape[0] else 0.0
        for row in range(logged, log.shape[1]):
            for column in range(log.shape[2]):
                log[k, row, column] = -1
        for row in range(way, ways.shape[1]):
            for column in range(RECORD_COLUMNS):
                ways[k, row, column] = math.nan
