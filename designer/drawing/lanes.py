"""Lanes: the cue ball's way after contact, the corridor it sweeps, and where it meets a ball."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.hatching import corridor_hatch
from designer.drawing.look import LanePattern, lane_pattern
from designer.drawing.model import Arc, Disc, Item, Point, Stroke
from designer.drawing.paths import as_line, first_meeting, sampled, simplified, split_at
from designer.drawing.scene import Scene
from engine.results import Lane


@dataclass(frozen=True, slots=True)
class Weight:
    """How much a lane stands out: width of its line, strength of its line and of its corridor."""

    line: float = 1.8
    ink: float = 1.0
    tint: float = 1.0


EVEN, CHOSEN, BACK = Weight(), Weight(3.0, 1.0, 1.5), Weight(1.4, 0.6, 0.55)


@dataclass(frozen=True, slots=True)
class Way:
    """One lane ready to draw: free way, the rest after its first touch, and that touch."""

    lane: Lane
    pattern: LanePattern
    free: np.ndarray
    rest: np.ndarray
    touch_mm: Point | None
    touched_centre_mm: Point | None
    weight: Weight = EVEN


def ways(scene: Scene) -> list[Way]:
    """Every lane of the scene with its pattern, simplified and split at its first touch."""
    found = []
    for shot in scene.shots:
        for index, lane in enumerate(shot.lanes):
            wanted = scene.lanes is None or lane.label in scene.lanes
            if wanted and len(lane.path_mm) >= 2:
                found.append(_way(scene, lane, lane_pattern(index)))
    return found


def avoid_lanes(scene: Scene, found: list[Way]) -> None:
    """Ask texts to keep off the lanes where they can."""
    points = [sampled(part, 70.0) for way in found for part in (way.free, way.rest)]
    if points:
        scene.taken.keep_off(np.concatenate(points), scene.radius_mm * 0.5)


def corridor_items(scene: Scene, found: list[Way]) -> list[Item]:
    """The swept width of each lane: a tint, and its hatch up to the first touch."""
    items: list[Item] = []
    wide, pen = 2.0 * scene.radius_mm, scene.look.line_mm
    for way in found:
        colour = way.pattern.colour
        if len(way.free) >= 2:
            line = as_line(way.free)
            items.append(Stroke(roles.CORRIDOR, (line,), wide, colour, 0.13 * way.weight.tint))
            hatch = corridor_hatch(
                way.free, scene.radius_mm * 0.92, way.pattern.hatch, max(34.0, pen * 8)
            )
            if hatch:
                faint = 0.6 * min(way.weight.tint, 1.0)
                items.append(Stroke(roles.HATCH, hatch, pen * 0.55, colour, faint, cap="butt"))
        if len(way.rest) >= 2:
            items.append(Stroke(roles.CORRIDOR, (as_line(way.rest),), wide, colour, 0.05))
    return items


def lane_items(scene: Scene, found: list[Way]) -> list[Item]:
    """The centre lines, dotted and fainter after the first touch, and the touches."""
    items: list[Item] = []
    pen = scene.look.line_mm
    for way in found:
        dash = tuple(length * pen * 1.2 for length in way.pattern.dash)
        colour = way.pattern.colour
        if len(way.free) >= 2:
            items.append(
                Stroke(
                    roles.LANE, (as_line(way.free),), pen * way.weight.line, colour,
                    way.weight.ink, dash=dash, cap="butt",
                )
            )  # fmt: skip
        if len(way.rest) >= 2:
            items.append(
                Stroke(
                    roles.LANE, (as_line(way.rest),), pen * 1.1, colour, 0.55 * way.weight.ink,
                    dash=(pen * 1.2, pen * 4), cap="butt",
                )
            )  # fmt: skip
        items += _touch(scene, way)
    return items


def _way(scene: Scene, lane: Lane, pattern: LanePattern) -> Way:
    path = simplified(np.asarray(lane.path_mm, dtype=float))
    first: tuple[int, Point] | None = None
    centre: Point | None = None
    for clearance in lane.clearances:
        if clearance.clearance_mm >= 0.0:
            continue
        ball = scene.routine.ball(clearance.ball)
        met = first_meeting(path, ball.centre_mm, scene.touch_of(ball.id))
        if met is not None and (first is None or _sooner(path, met, first)):
            first, centre = met, ball.centre_mm
    weight = EVEN
    if scene.chosen:
        weight = CHOSEN if lane.label == scene.chosen else BACK
    if first is None:
        return Way(lane, pattern, path, path[:0], None, None, weight)
    free, rest = split_at(path, *first)
    return Way(lane, pattern, free, rest, first[1], centre, weight)


def _sooner(path: np.ndarray, one: tuple[int, Point], other: tuple[int, Point]) -> bool:
    if one[0] != other[0]:
        return one[0] < other[0]
    start = tuple(path[one[0]])
    return math.dist(start, one[1]) < math.dist(start, other[1])


def _touch(scene: Scene, way: Way) -> list[Item]:
    """Where the cue ball would meet a ball: its outline there, and a mark at the meeting point."""
    if way.touch_mm is None or way.touched_centre_mm is None:
        return []
    pen = scene.look.line_mm
    (x, y), (bx, by) = way.touch_mm, way.touched_centre_mm
    point = ((x + bx) / 2.0, (y + by) / 2.0)
    return [
        Arc(roles.TOUCH, way.touch_mm, scene.radius_mm - pen / 2, 0, 360, pen, way.pattern.colour),
        Disc(roles.TOUCH, point, pen * 2.2, ink.PAPER, edge_colour=ink.INK, edge_mm=pen),
    ]
