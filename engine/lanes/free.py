"""What a lane owes to cue ball and object ball alone: strike, aim, free way, contact.

None of it changes while only obstacles are moved, so the last few are kept and given again.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from engine.balls import Ball
from engine.judging.way import Way, way_of
from engine.playing.aiming import play_strike
from engine.playing.contact import (
    JUST_BEFORE_S,
    angle_between_deg,
    contact_of,
    first_contact_event,
    rolling_velocity,
    spin_ratio,
    state_before,
    velocity_m_s,
)
from engine.playing.laid_out import LaidOutShot
from engine.playing.legs import NO_PATH, Legs, legs_of
from engine.playing.plan import Plan, cushion_events, plan, start_of_way
from engine.potting.vectors import wrapped_rad
from engine.results import LaneBounce, LaneContact, LaneEvent
from engine.routine.values import LaneAsk, Shot
from engine.shot import Trace

#: Slower than this a ball has no direction to speak of (m/s).
STANDS_M_S = 1e-6
#: Lanes kept: those of a few shots.
MOST_KEPT = 32


@dataclass(frozen=True, slots=True)
class Told:
    """The first contact as a trace tells it: the contact, spin ratio and speed (m/s) on arrival,
    and the angles by name."""

    contact: LaneContact | None
    arrival: tuple[float, float]
    angles: dict[str, Any]


@dataclass(frozen=True, slots=True)
class FreePart:
    """A lane with the obstacles taken away. `way` has no obstacles; `told` is None for a shot
    without an object ball, whose first contact is with whatever lies in the way."""

    plan: Plan
    trace: Trace
    start_s: float | None
    way: Way
    legs: Legs
    approach_mm: np.ndarray
    told: Told | None


@dataclass(frozen=True, slots=True)
class _Asked:
    """What a free part depends on."""

    table: object
    conditions: object
    shot: Shot
    ask: LaneAsk
    cue: Ball
    target: Ball | None
    line: object

    def same_as(self, other: _Asked) -> bool:
        """Whether the answer is the same; the large parts by identity, as they never change."""
        return (
            self.table is other.table
            and self.conditions is other.conditions
            and self.shot is other.shot
            and self.ask is other.ask
            and self.cue == other.cue
            and self.target == other.target
            and self.line == other.line
        )


_kept: dict[tuple[str, str], tuple[_Asked, FreePart]] = {}


def free_part(scene: LaidOutShot, ask: LaneAsk) -> FreePart:
    """The free part of one lane; `OutOfRangeError` when it cannot be played."""
    line = None if scene.pot is None else scene.pot.potting_line_mm
    asked = _Asked(
        scene.table, scene.conditions, scene.shot, ask, scene.cue_ball, scene.object_ball, line
    )
    name = (scene.shot.id, ask.label)
    known = _kept.get(name)
    if known is not None and known[0].same_as(asked):
        return known[1]
    found = _free_part(scene, ask)
    if len(_kept) >= MOST_KEPT:
        _kept.clear()
    _kept[name] = (asked, found)
    return found


def _free_part(scene: LaidOutShot, ask: LaneAsk) -> FreePart:
    wanted, cue = plan(scene, ask), scene.cue_ball.id
    trace = play_strike(scene, wanted.struck, wanted.direction_rad, free=True)
    start = start_of_way(scene, trace)
    return FreePart(
        plan=wanted,
        trace=trace,
        start_s=start,
        way=way_of(scene, ask.label, trace),
        legs=() if start is None else legs_of(trace, cue, start),
        approach_mm=NO_PATH if scene.object_ball is None else trace.path_mm(cue, 0.0, start),
        told=None if scene.object_ball is None else told_by(scene, trace),
    )


def told_by(scene: LaidOutShot, trace: Trace) -> Told:
    """The cue ball's first contact in a trace: with the object ball, or with any without one."""
    cue, radius, ball = scene.cue_ball.id, scene.conditions.cue_radius_mm, scene.object_ball
    event = first_contact_event(trace, cue, "" if ball is None else ball.id)
    contact = None if event is None else contact_of(trace, cue, event, scene.conditions)
    return Told(
        contact, _arrival(trace, cue, event, radius), _angles(trace, cue, event, contact, radius)
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


def bounces_of(trace: Trace, cue_id: str, start_s: float | None) -> tuple[LaneBounce, ...]:
    """The cushions the cue ball meets after a time, with its velocities."""
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
