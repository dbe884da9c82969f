"""Lanes: where the cue ball goes for each strike a shot asks about.

A lane is played twice: free, with only the cue ball and the object ball on the cloth, which
gives the way and its clearances to every obstacle; and as it lies, with every ball in play.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from engine.answers.values import Lane, LaneBounce, PotAnswer
from engine.balls import Ball
from engine.conditions import Conditions
from engine.events import LaneContact, LaneEvent
from engine.lanes.cautions import cautions
from engine.lanes.clearance import clearances
from engine.lanes.contact import (
    JUST_BEFORE_S,
    angle_between_deg,
    bend_end,
    contact_of,
    first_contact_event,
    rolling_velocity,
    spin_ratio,
    state_before,
    velocity_m_s,
)
from engine.lanes.legs import FLATTEN_MM, NO_PATH, joined
from engine.lanes.playing import (
    Plan,
    Setting,
    cushion_events,
    free_trace,
    plan,
    played_trace,
    setting,
    start_of_way,
    way_of,
)
from engine.lanes.strikes import strike_name
from engine.lanes.way import Way
from engine.potting.vectors import wrapped_rad
from engine.routine.values import LaneAsk, Shot
from engine.shot import Trace
from engine.tables.model import Table

#: Slower than this a ball has no direction to speak of (m/s).
STANDS_M_S = 1e-6


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
    wanted = plan(scene, ask)
    free = free_trace(scene, wanted.struck, wanted.direction_rad)
    played = free
    if scene.others:
        played = played_trace(scene, wanted.struck, wanted.direction_rad)
    return _assembled(scene, ask, wanted, free, played)


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


def _assembled(scene: Setting, ask: LaneAsk, wanted: Plan, free: Trace, played: Trace) -> Lane:
    cue, conditions = scene.cue, scene.conditions
    radius, struck = conditions.cue_radius_mm, wanted.struck
    start = start_of_way(scene, free)
    way = way_of(scene, ask.label, free, start)
    told = free if scene.target is not None else played
    event = first_contact_event(told, cue.id, "" if scene.target is None else scene.target.id)
    contact = None if event is None else contact_of(told, cue.id, event, conditions)
    rooms = clearances(way.legs, scene.others, radius, conditions.ball_radius_mm)
    arrives, arrival_speed = _arrival(told, cue.id, event, radius)
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
        approach_mm=_approach(scene, free, start),
        path_mm=joined(way.legs),
        played_mm=_played_path(played, cue.id, scene.target),
        object_path_mm=_object_path(scene, free, start),
        first_cushion=way.first_cushion,
        first_cushion_mm=way.first_cushion_mm,
        bend_end_mm=None if start is None else bend_end(free, cue.id, start),
        spin_ratio_on_arrival=arrives,
        arrival_speed_m_s=arrival_speed,
        **_angles(told, cue.id, event, contact, radius),
        clear=start is not None and all(room.clearance_mm > 0.0 for room in rooms),
        clearances=rooms,
        first_touched=meets,
        object_potted=scene.target is not None and scene.target.id in played.potted,
        in_off=cue.id in played.potted,
        stops_mm=way.stops_mm,
        events=_told_twice(played),
        cautions=wanted.cautions + cautions(scene, wanted, free, played, start),
        contact=contact,
        aim_deg=math.degrees(wrapped_rad(wanted.direction_rad)),
        rests=tuple(played.rests().items()),
        legs_mm=way.legs,
        bounces=_bounces(free, cue.id, start),
    )


def _arrival(
    trace: Trace, cue_id: str, event: LaneEvent | None, radius_mm: float
) -> tuple[float, float]:
    """Spin ratio and speed (m/s) on arrival; nan when nothing is met."""
    if event is None:
        return math.nan, math.nan
    before = state_before(trace, cue_id, event)
    ratio = spin_ratio(before.velocity_m_s, before.spin_rad_s, radius_mm)
    return ratio, math.hypot(*before.velocity_m_s)


def _angles(
    trace: Trace,
    cue_id: str,
    event: LaneEvent | None,
    contact: LaneContact | None,
    radius_mm: float,
) -> dict[str, Any]:
    """The angles at contact by name; nan for what stands still or never happens."""
    if event is None or contact is None:
        return dict.fromkeys(
            ("first_angle_deg", "deflection_deg", "final_direction_deg", "throw_deg"), math.nan
        )
    before = state_before(trace, cue_id, event).velocity_m_s
    final = rolling_velocity(contact.cue_after_m_s, contact.cue_after_spin_rad_s, radius_mm)
    centres = math.radians(contact.centres_deg)
    along = (math.cos(centres), math.sin(centres))
    rolls = math.hypot(*final) > STANDS_M_S
    return {
        "first_angle_deg": angle_between_deg(contact.cue_after_m_s, along),
        "deflection_deg": angle_between_deg(before, final),
        "final_direction_deg": (
            math.degrees(math.atan2(final[1], final[0])) if rolls else math.nan
        ),
        "throw_deg": _throw_deg(before, contact),
    }


def _throw_deg(before: tuple[float, float], contact: LaneContact) -> float:
    """Throw: positive when the object ball is dragged the way the cue ball passes it."""
    vx, vy = contact.ball_after_m_s
    if math.hypot(vx, vy) < STANDS_M_S:
        return math.nan
    centres = math.radians(contact.centres_deg)
    turned = wrapped_rad(math.atan2(vy, vx) - centres)
    passing = math.cos(centres) * before[1] - math.sin(centres) * before[0]
    return math.degrees(turned if passing >= 0.0 else -turned)


def _approach(scene: Setting, trace: Trace, start_s: float | None) -> np.ndarray:
    if scene.target is None:
        return NO_PATH
    return trace.path_mm(scene.cue.id, 0.0, start_s, FLATTEN_MM)


def _object_path(scene: Setting, trace: Trace, start_s: float | None) -> np.ndarray:
    if scene.target is None or start_s is None:
        return NO_PATH
    return trace.path_mm(scene.target.id, start_s, None, FLATTEN_MM)


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


def _bounces(trace: Trace, cue_id: str, start_s: float | None) -> tuple[LaneBounce, ...]:
    if start_s is None:
        return ()
    return tuple(
        LaneBounce(
            event.other,
            event.t_s,
            event.at_mm,
            velocity_m_s(trace, cue_id, event.t_s - JUST_BEFORE_S),
            event.velocity_m_s,
        )
        for event in cushion_events(trace, cue_id, start_s)
    )
