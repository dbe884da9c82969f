"""Judging shots by the thousand: does the cue ball's way do what the gaps ask, and by how much.

The gaps asked for are taken in order: the next is looked for only from where the one before was
done. Margins are as in `engine.results.GapPass`: millimetres of room to the nearer edge,
negative by how far the way would have to move.
"""

from __future__ import annotations

import math

from engine.compiled import Floats1, Floats2, Floats3, compiled, inlined
from engine.reach.plane import chords_cross, enters, inside, length, point_to_chord, side_of
from engine.reach.ways import (
    W_CUSHION,
    W_CUSHION_AT,
    W_HIT,
    W_IN_OFF,
    W_POINTS,
    lay_out,
    start_row,
)

# kinds of gap, as codes
BALL_BALL, BALL_CUSHION, STRETCH, AREA, CANNON = range(5)
# columns of a gap's row: kind, edge balls (−1: none), cushion line (axis 0: x, 1: y; place),
# stretch from and to, side asked of a cannon (+1 left, −1 right, 0 either), corners of an area
G_KIND, G_A, G_B, G_AXIS, G_AT, G_FROM, G_TO, G_SIDE, G_FIRST, G_COUNT = range(10)
GAP_COLUMNS = 10

# why a shot does not do it; THREADS: it does
THREADS, SHORT_OF_BALL, WRONG_BALL, NOT_POTTED, IN_OFF, KISS = range(6)
BLOCKED, EDGE, MISSES, STOPS_SHORT, WRONG_CUSHION, NEVER_PLAYED = range(6, 12)

#: Room below this is none.
TOUCH_MM = 1e-6

# columns of a judgement
J_REASON, J_OTHER, J_MARGIN, J_GAP = range(4)
JUDGEMENT = 4


@inlined
def gap_line(gap, places, ends):
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


@inlined
def first_block(points, count, first, places, solid, gap, two):
    """(place, ball, overlap) where the way from `first` touches a standing ball; place −1: none.

    A place on the way is the index of its chord plus the share of that chord.

    `solid` (1, else 0) marks the balls that stand in the way; the gap's own edges do not count.
    """
    at, ball, depth = -1.0, -1, 0.0
    last = count - 1
    for o in range(places.shape[0]):
        if solid[o] == 0.0 or o == int(gap[G_A]) or o == int(gap[G_B]):
            continue
        x, y = places[o, 0], places[o, 1]
        entered, least = -1.0, math.inf
        for k in range(int(first), last):
            away = point_to_chord(
                x, y, points[k, 0], points[k, 1], points[k + 1, 0], points[k + 1, 1]
            )
            if away < two:
                if entered < 0.0:
                    entered = k + enters(
                        x, y, two, points[k, 0], points[k, 1], points[k + 1, 0], points[k + 1, 1]
                    )
                least = min(least, away)
            elif entered >= 0.0:
                break
        if entered >= 0.0 and (at < 0.0 or entered < at):
            at, ball, depth = entered, o, two - least
    return at, ball, depth


@inlined
def cross(points, count, first, ends, is_cushion, radius, two):
    """(place, margin, reason) where the way from `first` crosses a gap; place −1: never.

    The margin looks at the way up to two ball widths beyond the crossing.
    """
    room_a = room_b = away = math.inf
    at, beyond, face = -1.0, 2.0 * two, math.inf
    ends_facing = False
    for k in range(int(first), count - 1):
        px, py, qx, qy = points[k, 0], points[k, 1], points[k + 1, 0], points[k + 1, 1]
        sx, sy = px, py
        if at < 0.0:
            share = chords_cross(px, py, qx, qy, ends[0], ends[1], ends[2], ends[3])
            if share >= 0.0 and k + share >= first:
                at = k + share
                sx, sy = px + share * (qx - px), py + share * (qy - py)
                face = length(sx - ends[2], sy - ends[3]) - radius
        if at >= 0.0:
            far = length(qx - sx, qy - sy)
            if far > beyond:
                qx, qy = sx + (qx - sx) * beyond / far, sy + (qy - sy) * beyond / far
            beyond -= far
        to_a = point_to_chord(ends[0], ends[1], px, py, qx, qy)
        to_b = point_to_chord(ends[2], ends[3], px, py, qx, qy)
        room_a, room_b = min(room_a, to_a), min(room_b, to_b)
        if beyond <= 0.0:
            break
        if at < 0.0:
            near = point_to_chord(qx, qy, ends[0], ends[1], ends[2], ends[3])
            near_p = point_to_chord(px, py, ends[0], ends[1], ends[2], ends[3])
            least = min(min(near, near_p), min(to_a, to_b))
            if least < away:
                away = least
                # nearest at the very end, in front of the line: it stops short
                dx, dy = ends[2] - ends[0], ends[3] - ends[1]
                across = (qx - ends[0]) * dx + (qy - ends[1]) * dy
                ends_facing = k == count - 2 and near <= least and 0.0 < across < dx * dx + dy * dy
    if at < 0.0:
        return -1.0, -away if ends_facing else -(away + two), STOPS_SHORT if ends_facing else MISSES
    if is_cushion:
        margin = min(room_a - two, 0.0 if abs(face) < 1e-6 else face)
    else:
        margin = min(room_a, room_b) - two
    return at, margin, EDGE if margin < 0.0 else THREADS


@inlined
def stretch(points, facts, gap, faces, radius):
    """(place, margin, reason): is the way's first cushion the stretch asked for."""
    at = int(facts[W_CUSHION_AT])
    axis, along = int(gap[G_AXIS]), 1 - int(gap[G_AXIS])
    if at < 0:
        last = int(facts[W_POINTS]) - 1
        off = max(gap[G_FROM] - points[last, along], points[last, along] - gap[G_TO], 0.0)
        away = length(points[last, axis] - gap[G_AT], off) - radius
        return -1.0, -max(away, 0.0), STOPS_SHORT
    face = int(facts[W_CUSHION])
    met = face >= 0 and faces[face, 0] == gap[G_AXIS] and faces[face, 1] == gap[G_AT]
    room = min(points[at, along] - gap[G_FROM], gap[G_TO] - points[at, along])
    if not met:
        off = max(-room, 0.0)
        away = length(points[at, axis] - gap[G_AT], off) - radius
        return -1.0, -max(away, 0.0), WRONG_CUSHION
    return (float(at), room, THREADS) if room >= 0.0 else (-1.0, room, MISSES)


@inlined
def cannon(points, count, first, x, y, side, two):
    """(place, margin, reason) of meeting the ball at (x, y) from the way, on the side asked."""
    least = math.inf
    for k in range(int(first), count - 1):
        px, py, qx, qy = points[k, 0], points[k, 1], points[k + 1, 0], points[k + 1, 1]
        away = point_to_chord(x, y, px, py, qx, qy)
        if away < least:
            least = away
        if away < two + 1e-6:
            # how far left of the ball's middle the way is aimed: positive meets its left side
            left = -side_of(x, y, px, py, qx, qy)
            place = k + enters(x, y, two, px, py, qx, qy)
            if side == 0.0:
                return place, two - abs(left), THREADS
            wanted = left * side
            room = min(wanted, two - wanted)
            return place, room, THREADS if wanted > 0.0 else MISSES
    return -1.0, -(least - two), MISSES


@inlined
def judge(way, target, places, solid, gaps, corners, faces, radius, two, points, facts, ends, out):
    """Judge one way against `gaps` (g, GAP_COLUMNS) in order; fills `out` (4,).

    `places` (n, 2): the balls of the set-up; `solid` (n,): 1 for those the way was played
    without but which stand in it. `target`: the object ball's index in the records, −1 for a
    plain shot.
    `radius` is the cue ball's, `two` the distance of its centre from that of a ball it touches.
    `points` and `facts` are room as `lay_out` wants it, `ends` (4,) is room for a gap's line.
    """
    out[J_OTHER], out[J_MARGIN], out[J_GAP] = -1.0, math.nan, 0.0
    start, wrong = start_row(way, target)
    if start < 0:
        out[J_REASON], out[J_OTHER] = (SHORT_OF_BALL if wrong < 0 else WRONG_BALL), wrong
        return
    lay_out(way, start, points, facts)
    count = int(facts[W_POINTS])
    first, least = 0.0, math.inf
    for g in range(gaps.shape[0]):
        gap = gaps[g]
        kind = int(gap[G_KIND])
        block, by, depth = first_block(points, count, first, places, solid, gap, two)
        a = int(gap[G_A])
        if kind <= BALL_CUSHION:
            gap_line(gap, places, ends)
            at, margin, reason = cross(
                points, count, first, ends, kind == BALL_CUSHION, radius, two
            )
            hit = facts[W_HIT]
            if margin < TOUCH_MM and (hit == gap[G_A] or hit == gap[G_B]) and hit >= 0.0:
                # the way ends on the edge itself, to within rounding
                reason = EDGE
        elif kind == STRETCH:
            at, margin, reason = stretch(points, facts, gap, faces, radius)
        elif kind == AREA:
            at, reason, last = count - 1.0, THREADS, count - 1
            margin = inside(
                points[last, 0], points[last, 1], corners, int(gap[G_FIRST]), int(gap[G_COUNT])
            )
            if facts[W_IN_OFF] > 0.0:
                margin, reason = min(margin, -radius), IN_OFF
            elif margin < 0.0:
                reason = MISSES
        else:
            at, margin, reason = cannon(
                points, count, first, places[a, 0], places[a, 1], gap[G_SIDE], two
            )
        if block >= 0.0 and (at < 0.0 or block < at):
            margin, reason = min(margin, -depth), BLOCKED
            out[J_OTHER] = by
        elif facts[W_HIT] >= 0.0 and (reason != THREADS or kind == AREA):
            # the way itself ended at a ball before the gap was done
            hit = facts[W_HIT]
            if not (kind == CANNON and hit == a):
                out[J_OTHER] = hit
                if hit == target:
                    reason = KISS
                elif hit == gap[G_A] or hit == gap[G_B]:
                    reason = EDGE
                else:
                    reason = BLOCKED
        least = min(least, margin)
        out[J_GAP] = g
        if reason != THREADS:
            out[J_REASON], out[J_MARGIN] = reason, min(least, -0.0)
            return
        first = max(at, first)
    out[J_REASON], out[J_MARGIN], out[J_OTHER] = THREADS, least, -1.0


@compiled
def rooms_all(
    ways: Floats3, target: int, places: Floats3, two: float, points: Floats2, facts: Floats1,
    out: Floats2,
) -> None:  # fmt: skip
    """Least room (mm) between each way (N, s, columns) and each ball, along all of it: (N, n).

    nan for a way that never leaves the object ball; the balls stand at `places` (N or 1, n, 2).
    `points` and `facts` are room as `lay_out` wants it.
    """
    for k in range(ways.shape[0]):
        where = k if places.shape[0] > 1 else 0
        start, _ = start_row(ways[k], target)
        if start < 0:
            for o in range(places.shape[1]):
                out[k, o] = math.nan
            continue
        lay_out(ways[k], start, points, facts)
        for o in range(places.shape[1]):
            x, y = places[where, o, 0], places[where, o, 1]
            least = math.inf
            for p in range(int(facts[W_POINTS]) - 1):
                least = min(
                    least,
                    point_to_chord(
                        x, y, points[p, 0], points[p, 1], points[p + 1, 0], points[p + 1, 1]
                    ),
                )
            out[k, o] = least - two
