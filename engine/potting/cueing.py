"""Cueing room: how low the tip can go when a cushion or a ball lies behind the cue ball.

The cue is a straight cone. It is raised as far as a stroke still counts as plain
(`PLAIN_ELEVATION_DEG`) and must pass over the cushion's nose and over every ball behind. The
figures are common practice, no source: tip 9.5 mm and butt 29 mm across, 1470 mm long, plain
strokes up to 8 degrees. The nose is as high as the cushion's contact height, and the rail
behind it no higher; room over a pocket mouth is not counted. The bridge hand is left out.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable

from engine.balls import Ball
from engine.conditions import Conditions
from engine.potting.vectors import Point, to_edge_mm
from engine.results import Fact
from engine.tables.model import Table

PLAIN_ELEVATION_DEG = 8.0
TIP_RADIUS_MM = 4.75
BUTT_RADIUS_MM = 14.5
CUE_LENGTH_MM = 1470.0

Room = Callable[[float], float]


def cue_radius_mm(behind_tip_mm: float) -> float:
    """Radius of the cue at a distance behind its tip."""
    share = min(max(behind_tip_mm / CUE_LENGTH_MM, 0.0), 1.0)
    return TIP_RADIUS_MM + (BUTT_RADIUS_MM - TIP_RADIUS_MM) * share


def lowest_tip(
    table: Table, conditions: Conditions, cue_mm: Point, shot_rad: float, behind: Iterable[Ball]
) -> tuple[float, Fact | None]:
    """The lowest tip height (over the radius) the cue can reach, and what limits it.

    `shot_rad` is the direction the cue ball leaves in. There is no reason when the tip can go
    down to the miscue limit. A result at the upper limit means there is hardly room at all.
    """
    limit = conditions.tip_limit
    found, reason = -limit, None
    rooms = [(Fact("cushion-behind"), _over_cushion(table, conditions, cue_mm, shot_rad))]
    rooms += [
        (Fact("ball-behind", ball=ball.id), _over_ball(conditions, cue_mm, shot_rad, ball))
        for ball in behind
    ]
    for what, room in rooms:
        lowest = _lowest_with_room(room, limit)
        if lowest > found:
            found, reason = lowest, what
    return found, reason


def _lowest_with_room(room: Room, limit: float) -> float:
    """Lowest tip height with room, by halving: room grows as the tip rises."""
    if room(-limit) >= 0.0:
        return -limit
    if room(limit) < 0.0:
        return limit
    low, high = -limit, limit
    while high - low > 1e-4:
        middle = (low + high) / 2.0
        low, high = (low, middle) if room(middle) >= 0.0 else (middle, high)
    return high


def _tip_place(radius_mm: float, tip: float) -> tuple[float, float]:
    """Where the tip meets the ball: how far behind its centre, and how high above the cloth."""
    slope = math.radians(PLAIN_ELEVATION_DEG)
    inward = math.sqrt(1.0 - tip * tip)
    back = radius_mm * (inward * math.cos(slope) - tip * math.sin(slope))
    height = radius_mm * (1.0 + tip * math.cos(slope) + inward * math.sin(slope))
    return back, height


def _over_cushion(table: Table, conditions: Conditions, cue_mm: Point, shot_rad: float) -> Room:
    radius = conditions.cue_radius_mm
    to_face = to_edge_mm(cue_mm, shot_rad + math.pi, (0.0, 0.0), (table.width_mm, table.length_mm))
    nose = conditions.cushion_height_ratio * conditions.ball_radius_mm
    slope = math.radians(PLAIN_ELEVATION_DEG)

    def room(tip: float) -> float:
        back, height = _tip_place(radius, tip)
        level = max(to_face - back, 0.0)
        behind = level / math.cos(slope)
        if behind > CUE_LENGTH_MM:
            return math.inf
        under = height + level * math.tan(slope) - cue_radius_mm(behind) / math.cos(slope)
        return under - nose

    return room


def _over_ball(conditions: Conditions, cue_mm: Point, shot_rad: float, ball: Ball) -> Room:
    """Room over one ball; below its middle the ball counts as a post, so room grows with height."""
    radius, stands = conditions.cue_radius_mm, conditions.radius_of(ball)
    dx, dy = ball.x_mm - cue_mm[0], ball.y_mm - cue_mm[1]
    ahead = dx * math.cos(shot_rad) + dy * math.sin(shot_rad)
    beside = abs(dx * math.sin(shot_rad) - dy * math.cos(shot_rad))
    slope = math.radians(PLAIN_ELEVATION_DEG)

    def room(tip: float) -> float:
        back, height = _tip_place(radius, tip)
        level = -ahead - back
        behind = level / math.cos(slope)
        if not 0.0 <= behind <= CUE_LENGTH_MM:
            return math.inf
        above = max(height + level * math.tan(slope) - stands, 0.0) * math.cos(slope)
        return math.hypot(beside, above) - stands - cue_radius_mm(behind)

    return room
