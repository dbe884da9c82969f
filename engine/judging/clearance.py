"""Clearances: how a lane's corridor stands to each obstacle ball, in millimetres."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from shapely.geometry import Polygon

from engine.balls import Ball, touch_distance_mm
from engine.judging.rules import room_beside
from engine.judging.touching import Nearest, first_touch, line_of, nearest_of_each
from engine.playing.contact import state_before
from engine.playing.laid_out import LaidOutShot
from engine.playing.legs import Legs
from engine.playing.plan import cushion_events
from engine.results import Clearance
from engine.shot import Trace

#: A ball this near the middle of the lane lies on neither side of it.
DEAD_AHEAD_MM = 1e-6


def clearances(
    legs: Legs, obstacles: Iterable[Ball], radius_mm: float, ball_radius_mm: float | None = None
) -> tuple[Clearance, ...]:
    """The clearance of a way to each obstacle, in the order given; none for an empty way.

    Clearance is the nearest approach of centres less their distance when touching (two radii of
    equal balls; `ball_radius_mm` is the obstacles', where it differs): the room between the
    edges, negative for an overlap. Fullness is 1 − offset/touching distance at first touch, 0 for
    a ball that clears.
    """
    other = radius_mm if ball_radius_mm is None else ball_radius_mm
    touch_mm = touch_distance_mm(radius_mm, other)
    balls = tuple(obstacles)
    places = nearest_of_each(legs, [ball.centre_mm for ball in balls])
    return tuple(
        _clearance(legs, ball, place, touch_mm) for ball, place in zip(balls, places, strict=False)
    )


def _clearance(legs: Legs, ball: Ball, place: Nearest, reach_mm: float) -> Clearance:
    fullness, offset = 0.0, place.offset_mm
    if place.distance_mm < reach_mm:
        touch = first_touch(legs, ball.centre_mm, reach_mm)
        if touch is not None:
            offset = touch.offset_mm
            fullness = 1.0 - abs(offset) / reach_mm
    return Clearance(
        ball=ball.id,
        clearance_mm=place.distance_mm - reach_mm,
        side=side_name(offset),
        fullness=fullness,
        at_mm=place.at_mm,
        after_cushions=place.after_cushions,
    )


def as_played(
    found: tuple[Clearance, ...], free: tuple[Clearance, ...], shot: LaidOutShot, trace: Trace,
    start_s: float,
) -> tuple[Clearance, ...]:  # fmt: skip
    """Clearances along a way as it is played (`trace`, from a time), its touches told as such.

    `free`: those of the way without obstacles, which tell by how much the first ball in it is
    overlapped.
    """
    cue, touch_mm = shot.cue_ball.id, shot.conditions.touch_mm
    met = [
        event
        for event in trace.events
        if event.kind == "ball" and event.ball == cue and event.t_s > start_s
    ]
    first = {event.other: event for event in reversed(met)}
    told = []
    for room, alone in zip(found, free, strict=True):
        event = first.get(room.ball)
        touched = 0 if event is None else 1 if event is met[0] else 2
        mm = room_beside(room.clearance_mm, touched, alone.clearance_mm)
        told.append(replace(room, clearance_mm=mm))
        if event is None:
            continue
        vx, vy = state_before(trace, cue, event).velocity_m_s
        x, y = trace.instant(room.ball, event.t_s).at_mm
        across = vx * (y - event.at_mm[1]) - vy * (x - event.at_mm[0])
        offset = across / max(math.hypot(vx, vy), 1e-12)
        told[-1] = replace(
            told[-1], side=side_name(offset), fullness=max(1.0 - abs(offset) / touch_mm, 0.0),
            at_mm=event.at_mm, after_cushions=len(cushion_events(trace, cue, start_s, event.t_s)),
        )  # fmt: skip
    return tuple(told)


def side_name(offset_mm: float) -> str:
    """ "left", "right" or "ahead" of the lane, for an offset that is positive to the left."""
    if abs(offset_mm) < DEAD_AHEAD_MM:
        return "ahead"
    return "left" if offset_mm > 0.0 else "right"


def corridor(path_mm: np.ndarray, radius_mm: float) -> Polygon:
    """What the cue ball's width sweeps along a way of shape (n, 2): a polygon, maybe with holes.

    Where a way crosses itself the swept areas are one. Empty for an empty way.
    """
    line = line_of(path_mm)
    return Polygon() if line is None else line.buffer(radius_mm, quad_segs=16)
