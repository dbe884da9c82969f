"""Judging shots by the thousand: does the cue ball's way do what the gaps ask, and by how much.

Works on the cue ball's recorded segments. Parabolas are taken as chords that stray less than
`TOLERANCE_MM`. The gaps asked for are taken in order: the next is looked for only once the one
before is done.
"""

from __future__ import annotations

import math

import numpy as np

from engine.compiled import jit
from engine.reach.plane import chords_cross, inside, point_to_chord, side_of
from engine.shot.layout import (
    HIT_BALL,
    HIT_CUSHION,
    HIT_JAW,
    R_AX,
    R_AY,
    R_CAUSE,
    R_OTHER,
    R_PHASE,
    R_T,
    R_VX,
    R_VY,
    R_X,
    R_Y,
    ROLLING,
    SLIDING,
)

TOLERANCE_MM = 0.02

# kinds of gap, as codes
BALL_BALL, BALL_CUSHION, STRETCH, AREA, CANNON = range(5)
# columns of a gap's row: kind, edge balls (−1: none), cushion (axis, place, from, to), side, area
G_KIND, G_A, G_B, G_AXIS, G_AT, G_FROM, G_TO, G_SIDE, G_FIRST, G_COUNT = range(10)
GAP_COLUMNS = 10

# why a shot does not do it; THREADS: it does
(
    THREADS,
    SHORT_OF_BALL,  # never reaches the object ball
    WRONG_BALL,  # meets another ball before the object ball
    NOT_POTTED,  # the object ball stays on the table, or falls elsewhere
    IN_OFF,
    KISS,  # touches the object ball again first
    BLOCKED,  # touches another ball first
    EDGE,  # touches an edge of the gap
    MISSES,  # passes wide of it
    STOPS_SHORT,  # ends before it gets there
    WRONG_CUSHION,
) = range(11)


@jit
def _gap_ends(gap, places, ends):
    """Fill `ends` (4,) with the line across a gap, from where its balls lie."""
    a = int(gap[G_A])
    ends[0], ends[1] = places[a, 0], places[a, 1]
    if gap[G_KIND] == BALL_BALL:
        b = int(gap[G_B])
        ends[2], ends[3] = places[b, 0], places[b, 1]
    elif gap[G_AXIS] == 0.0:
        ends[2], ends[3] = gap[G_AT], places[a, 1]
    else:
        ends[2], ends[3] = places[a, 0], gap[G_AT]


@jit
def _chords(row, span):
    """How many chords a segment of `span` seconds needs."""
    ax, ay = row[R_AX], row[R_AY]
    bend = abs(row[R_VX] * ay - row[R_VY] * ax)
    if row[R_PHASE] == ROLLING and bend <= 1e-9 * (abs(row[R_VX]) + abs(row[R_VY])) * (
        abs(ax) + abs(ay)
    ):
        return 1
    return max(1, int(math.ceil(math.sqrt(math.hypot(ax, ay) * span * span / 8 / TOLERANCE_MM))))


@jit
def _judge(way, target, places, aside, gaps, corners, obstacles, radius, found):
    """Judge one way; fills `found` with (reason, other ball or −1, margin mm).

    `places` are the balls of the set-up, `aside` the set-up index of the object ball (−1: none)
    and `target` its index in the records. With `obstacles`, balls the way was played without are
    taken to stand where they lie and stop it.
    """
    two = 2.0 * radius
    rows = way.shape[0]
    start = 0
    if target >= 0:
        start = -1
        for k in range(1, rows):
            if way[k, R_T] != way[k, R_T]:
                break
            if way[k, R_CAUSE] == HIT_BALL:
                if way[k, R_OTHER] != target:
                    found[0], found[1], found[2] = WRONG_BALL, way[k, R_OTHER], math.nan
                    return
                start = k
                break
        if start < 0:
            found[0], found[1], found[2] = SHORT_OF_BALL, -1.0, math.nan
            return
    ends = np.zeros(4)
    margin = math.inf
    which = 0
    crossed = False
    since = 0.0
    room_a = room_b = away = math.inf
    face = math.inf
    end_near = False
    block, block_by = 0.0, -1.0
    cushions = 0
    kind = gaps[which, G_KIND]
    if kind <= BALL_CUSHION:
        _gap_ends(gaps[which], places, ends)
    k = start
    px, py = way[k, R_X], way[k, R_Y]
    reason, other = -1.0, -1.0
    while k < rows and way[k, R_T] == way[k, R_T]:
        row = way[k]
        if k > start and row[R_CAUSE] == HIT_BALL:
            hit = row[R_OTHER]
            if crossed:
                pass
            elif hit == target:
                reason, other = KISS, hit
            elif kind == CANNON and hit == gaps[which, G_A]:
                # met on its left when it lies to the right of the way
                left = -side_of(
                    places[int(hit), 0],
                    places[int(hit), 1],
                    px - way[k - 1, R_VX] * 0.0,
                    py,
                    px,
                    py,
                )
                reason = THREADS
            else:
                reason, other = BLOCKED, hit
            break
        k += 1
        break
    found[0], found[1], found[2] = reason, other, margin
