"""Lanes: where the cue ball goes for each strike a shot asks about.

A lane is played twice: free, with only the cue ball and the object ball on the cloth, which
gives the way and its clearances to every obstacle; and as it lies, with every ball in play.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.lanes.cautions import cautions
from engine.lanes.clearance import clearances
from engine.lanes.contact import first_contact_event
from engine.lanes.free import FreePart, free_part, told_by
from engine.lanes.legs import FLATTEN_MM, NO_PATH
from engine.lanes.playing import Setting, played_trace, setting
from engine.lanes.strikes import strike_name
from engine.lanes.way import Way
from engine.potting.vectors import wrapped_rad
from engine.results import Lane, LaneEvent, PotAnswer
from engine.routine.values import LaneAsk, Shot
from engine.shot import Trace
from engine.tables.model import Table


def lane(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    shot: Shot,
    pot_answer: PotAnswer | None,
    ask: LaneAsk,
) -> Lane:
    """The predicted lane of one strike.

    `pot_answer` is the shot's pot (None for a shot along `aim_deg`). `OutOfRangeError` for a
    strike that cannot be played, a shot without aim or a cut of 90 degrees or more.
    """
    scene = setting(table, conditions, balls, shot, pot_answer)
    free = free_part(scene, ask)
    wanted, played = free.plan, free.trace
    if scene.others:
        played = played_trace(scene, wanted.struck, wanted.direction_rad)
    return _assembled(scene, ask, free, played)


def way_of_lane(found: Lane, obstacles: Sequence[Ball], conditions: Conditions) -> Way:
    """A lane as the gaps look at it."""
    return Way(
        found.label,
        found.legs_mm,
        tuple(obstacles),
        conditions.cue_radius_mm,
        found.first_cushion,
        found.first_cushion_mm,
        found.stops_mm,
        ball_radius_mm=conditions.ball_radius_mm,
    )


def _assembled(scene: Setting, ask: LaneAsk, free: FreePart, played: Trace) -> Lane:
    cue, conditions = scene.cue, scene.conditions
    wanted, start = free.plan, free.start_s
    radius, struck = conditions.cue_radius_mm, wanted.struck
    way = replace(free.way, obstacles=scene.others)
    told = free.told or told_by(scene, played)
    arrives, arrival_speed = told.arrival
    rooms = clearances(way.legs, scene.others, radius, conditions.ball_radius_mm)
    meets = _met(played, cue.id, scene.target)
    return Lane(
        label=ask.label,
        title=ask.title,
        strike_name=strike_name(struck.tip_height, conditions.tip_limit, wanted.is_stun, arrives),
        tip_height=struck.tip_height,
        is_stun=wanted.is_stun,
        pace=conditions.pace_at(struck.speed_mm_s) if ask.speed_m_s is not None else ask.pace,
        speed_m_s=struck.speed_mm_s / 1000.0,
        side=struck.side,
        elevation_deg=ask.elevation_deg,
        approach_mm=free.approach_mm,
        path_mm=free.path_mm,
        played_mm=_played_path(played, cue.id, scene.target),
        object_path_mm=free.object_path_mm,
        first_cushion=way.first_cushion,
        first_cushion_mm=way.first_cushion_mm,
        bend_end_mm=free.bend_end_mm,
        spin_ratio_on_arrival=arrives,
        arrival_speed_m_s=arrival_speed,
        **told.angles,
        clear=start is not None and all(room.clearance_mm > 0.0 for room in rooms),
        clearances=rooms,
        first_touched=meets,
        object_potted=scene.target is not None and scene.target.id in played.potted,
        in_off=cue.id in played.potted,
        stops_mm=way.stops_mm,
        events=_told_twice(played),
        cautions=wanted.cautions + cautions(scene, wanted, free.trace, played, start),
        contact=told.contact,
        aim_deg=math.degrees(wrapped_rad(wanted.direction_rad)),
        rests=tuple(played.rests().items()),
        legs_mm=way.legs,
        bounces=free.bounces,
    )


def _played_path(trace: Trace, cue_id: str, target: Ball | None) -> np.ndarray:
    """The cue ball's way with every ball in play, from its first contact.

    From the start when the shot is not for an object ball.
    """
    event = first_contact_event(trace, cue_id)
    if target is None:
        return trace.path_mm(cue_id, 0.0, None, FLATTEN_MM)
    if event is None:
        return NO_PATH
    return trace.path_mm(cue_id, event.t_s, None, FLATTEN_MM)


def _met(trace: Trace, cue_id: str, target: Ball | None) -> str:
    """The first ball met after the object ball; or before it, when the way there is blocked."""
    for event in trace.events:
        if event.kind == "ball" and event.ball == cue_id:
            if target is not None and event.other == target.id:
                continue
            return event.other
    return ""


def _told_twice(trace: Trace) -> tuple[LaneEvent, ...]:
    """The events of a shot, each contact of two balls told of the other ball too."""
    told = []
    for event in trace.events:
        told.append(event)
        if event.kind == "ball":
            then = trace.instant(event.other, event.t_s)
            vx, vy = then.velocity_mm_s
            told.append(
                replace(
                    event,
                    ball=event.other,
                    other=event.ball,
                    at_mm=then.at_mm,
                    velocity_m_s=(vx / 1000.0, vy / 1000.0),
                    spin_rad_s=then.spin_rad_s,
                )
            )
    return tuple(told)
