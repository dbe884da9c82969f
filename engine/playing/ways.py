"""The cue ball's way after contact, laid out as points from its recorded segments.

Parabolas are taken as chords that stray less than `FLATTEN_MM`. A way ends where the cue ball
next meets a ball: what it does afterwards no longer threads anything.
"""

from __future__ import annotations

import numpy as np

from engine.compiled import Floats1, Floats2, compiled, inlined, room
from engine.shot.layout import (
    HIT_BALL,
    HIT_CUSHION,
    HIT_JAW,
    POTTED,
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
    STILL,
)
from engine.shot.polyline import FLATTEN_MM, chords_of

MOST_POINTS = 2000

# what is known of a way: points, ball it ends at, index and face of its first cushion, in-off;
# how many cushions and jaws it meets, and the indices of the points where it does
W_POINTS, W_HIT, W_CUSHION_AT, W_CUSHION, W_IN_OFF, W_BOUNCES, W_BOUNCE = range(7)
MOST_BOUNCES = 40
WAY_FACTS = W_BOUNCE + MOST_BOUNCES


@room
def way_room() -> tuple[np.ndarray, ...]:
    """Room for one way: its points and what is known of it."""
    return np.empty((MOST_POINTS, 2)), np.empty(WAY_FACTS)


@inlined
def start_row(way, target):
    """The row from which the way after contact runs, and the ball met first if another; −1s: none.

    Without a target (−1) the way runs from the strike.
    """
    if target < 0:
        return 0, -1
    for k in range(1, way.shape[0]):
        if way[k, R_T] != way[k, R_T]:
            break
        if way[k, R_CAUSE] == HIT_BALL:
            hit = int(way[k, R_OTHER])
            return (k, -1) if hit == target else (-1, hit)
    return -1, -1


@inlined
def lay_out(way, start, through, points, facts):
    """Fill `points` (MOST_POINTS, 2) and `facts` (WAY_FACTS,) for the way from row `start`.

    With `through` it goes on after the first ball it meets, which is told all the same.
    """
    rows = way.shape[0]
    points[0, 0], points[0, 1] = way[start, R_X], way[start, R_Y]
    used, bounces = 1, 0
    facts[W_HIT] = -1.0
    facts[W_CUSHION_AT] = facts[W_CUSHION] = -1.0
    facts[W_IN_OFF] = 0.0
    for k in range(start, rows):
        row = way[k]
        if k > start:
            if row[R_CAUSE] == HIT_BALL:
                # contacts of the same instant as the first belong to it
                if row[R_T] > way[start, R_T] and facts[W_HIT] < 0.0:
                    facts[W_HIT] = row[R_OTHER]
                    if not through:
                        break
            elif row[R_CAUSE] in (HIT_CUSHION, HIT_JAW):
                if bounces == 0:
                    facts[W_CUSHION_AT] = used - 1
                    facts[W_CUSHION] = row[R_OTHER] if row[R_CAUSE] == HIT_CUSHION else -2.0
                if bounces < MOST_BOUNCES:
                    facts[W_BOUNCE + bounces] = used - 1
                    bounces += 1
        if row[R_PHASE] == POTTED:
            facts[W_IN_OFF] = 1.0
            break
        if row[R_PHASE] == STILL or k + 1 >= rows or way[k + 1, R_T] != way[k + 1, R_T]:
            break
        span = way[k + 1, R_T] - row[R_T]
        if span <= 0.0:
            continue
        count = chords_of(row, span, FLATTEN_MM)
        if used + count > points.shape[0]:
            break
        for step in range(1, count + 1):
            t = span * step / count
            points[used, 0] = row[R_X] + (row[R_VX] + 0.5 * row[R_AX] * t) * t
            points[used, 1] = row[R_Y] + (row[R_VY] + 0.5 * row[R_AY] * t) * t
            used += 1
    facts[W_POINTS], facts[W_BOUNCES] = used, bounces


@compiled
def lay_way(way: Floats2, target: int, points: Floats2, facts: Floats1) -> int:
    """`lay_out` for Python, of one ball's records: the row it starts from, −1 for no way."""
    start, _ = start_row(way, target)
    if start >= 0:
        lay_out(way, start, False, points, facts)
    return start
