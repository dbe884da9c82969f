"""Playing a lane: the strike worked out, the aim found, and the shot played by the engine."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import OutOfRangeError
from engine.lanes.aim import Aim, aimed, root_near, straight_aim
from engine.lanes.contact import first_contact_event
from engine.lanes.legs import legs_of
from engine.lanes.strikes import (
    STUN_RATIO,
    Struck,
    arrival,
    check_strike,
    speed_of,
    stun_tip,
)
from engine.lanes.way import Way
from engine.potting import cue_ball_of
from engine.potting.vectors import direction_rad, distance_mm, wrapped_rad
from engine.results import Fact, LaneEvent, PotAnswer
from engine.routine.values import STUN, LaneAsk, Shot
from engine.shot import Strike, Trace, play
from engine.tables.model import Table

STUN_TRIES = 12
#: A tip at least this share of the limit below centre is meant as screw.
SCREW_SHARE = 0.4


@dataclass(frozen=True, slots=True)
class Setting:
    """Everything about a shot that does not depend on the lane."""

    table: Table
    conditions: Conditions
    cue: Ball
    target: Ball | None
    others: tuple[Ball, ...]
    shot: Shot
    pot: PotAnswer | None

    @property
    def line_rad(self) -> float:
        """The direction of the potting line."""
        if self.pot is None:
            raise OutOfRangeError(f"shot {self.shot.id}", "without a pocket", "a pocket or aim_deg")
        return direction_rad(*self.pot.potting_line_mm)

    @property
    def balls(self) -> tuple[Ball, ...]:
        """All balls in play, the cue ball first."""
        played = (self.cue,) if self.target is None else (self.cue, self.target)
        return played + self.others


def setting(
    table: Table,
    conditions: Conditions,
    balls: Sequence[Ball],
    shot: Shot,
    pot_answer: PotAnswer | None,
) -> Setting:
    """The setting of a shot; `UnknownNameError` when the cue ball or object ball is not there."""
    cue = cue_ball_of(balls)
    rest = [ball for ball in balls if ball.id != cue.id]
    target = next((ball for ball in rest if ball.id == shot.object_ball), None)
    others = tuple(ball for ball in rest if target is None or ball.id != target.id)
    return Setting(table, conditions, cue, target, others, shot, pot_answer)


@dataclass(frozen=True, slots=True)
class Plan:
    """How a lane is played: its strike and direction, and what the coach should know of it."""

    struck: Struck
    direction_rad: float
    is_stun: bool
    cautions: tuple[Fact, ...]


def plan(scene: Setting, ask: LaneAsk) -> Plan:
    """The strike and direction of a lane; `OutOfRangeError` when it cannot be played."""
    check_strike(ask, scene.conditions)
    speed = speed_of(ask, scene.conditions)
    raised = math.radians(ask.elevation_deg)
    if ask.tip_height == STUN:
        return _stun_plan(scene, ask, speed, raised)
    struck = Struck(speed, float(ask.tip_height), ask.side, raised)
    aim = aim_for(scene, struck)
    return Plan(struck, aim.direction_rad, False, _gone(scene, struck, aim))


def aim_for(scene: Setting, struck: Struck) -> Aim:
    """Where the cue ball is sent for a strike: the stated direction, or the pot."""
    cue = scene.cue.centre_mm
    if scene.shot.aim_deg is not None:
        return Aim(math.radians(scene.shot.aim_deg), cue, math.radians(scene.shot.aim_deg))
    if scene.target is None:
        raise OutOfRangeError(
            f"shot {scene.shot.id}", "without an object ball", "an object ball or aim_deg"
        )
    line, conditions = scene.line_rad, scene.conditions
    first = aimed(struck, cue, scene.target.centre_mm, line, conditions, scene.shot.allow_for_throw)
    swerves = struck.side != 0.0 and struck.elevation_rad != 0.0
    return _played_aim(scene, struck, first) if swerves or conditions.nap_drift else first


def _played_aim(scene: Setting, struck: Struck, first: Aim) -> Aim:
    """The aim for a cue ball whose way bends: found by playing the shot."""
    assert scene.target is not None
    cue, ball, line = scene.cue, scene.target, scene.line_rad

    def strays(direction: float) -> float | None:
        trace = _play(scene, struck, direction, (cue, ball))
        event = first_contact_event(trace, cue.id)
        if event is None:
            return None
        centres = direction_rad(event.at_mm, ball.centre_mm)
        if not scene.shot.allow_for_throw:
            return wrapped_rad(centres - line)
        vx, vy = trace.velocities(ball.id, event.t_s)
        return wrapped_rad(math.atan2(float(vy), float(vx)) - line)

    # a turn of the aim moves the contact by the distance, and the line of centres by far more
    two = scene.conditions.touch_mm
    away = max(distance_mm(cue.centre_mm, first.contact_mm), 1.0)
    slope = -away / (two * max(math.cos(first.centres_rad - first.direction_rad), 0.05))
    found = root_near(strays, first.direction_rad, slope)
    return first if found is None else Aim(found, first.contact_mm, first.centres_rad)


def stun_height(scene: Setting, speed_mm_s: float, elevation_rad: float = 0.0) -> float | None:
    """The tip height that arrives at the object ball with no spin; None when out of reach."""
    found = _stun_search(scene, speed_mm_s, 0.0, elevation_rad)
    return None if found is None else found.tip_height


def _stun_search(
    scene: Setting, speed_mm_s: float, side: float, elevation_rad: float
) -> Struck | None:
    """Tip and contact depend a little on each other (throw): settle both."""
    if scene.target is None or scene.pot is None or scene.shot.aim_deg is not None:
        return None
    cue, ball = scene.cue.centre_mm, scene.target.centre_mm
    contact = straight_aim(cue, ball, scene.line_rad, scene.conditions.touch_mm).contact_mm
    tip: float | None = None
    for _ in range(STUN_TRIES):
        last = tip
        tip = stun_tip(distance_mm(cue, contact), speed_mm_s, elevation_rad, scene.conditions)
        if tip is None or math.hypot(tip, side) > scene.conditions.tip_limit:
            return None
        struck = Struck(speed_mm_s, tip, side, elevation_rad)
        if last is not None and abs(tip - last) < 1e-12:
            return struck
        contact = aim_for(scene, struck).contact_mm
    return struck


def _stun_plan(scene: Setting, ask: LaneAsk, speed: float, raised: float) -> Plan:
    if scene.target is None or scene.shot.aim_deg is not None:
        raise OutOfRangeError(
            f"tip height of lane {ask.label}",
            '"stun"',
            "a number on a shot without a pot",
            "Stun is worked out for the way to an object ball.",
        )
    found = _stun_search(scene, speed, ask.side, raised)
    if found is not None:
        return Plan(found, aim_for(scene, found).direction_rad, True, ())
    limit = scene.conditions.tip_limit
    lowest = -math.sqrt(max(limit * limit - ask.side * ask.side, 0.0))
    struck = Struck(speed, lowest, ask.side, raised)
    aim = aim_for(scene, struck)
    there = arrival(struck, distance_mm(scene.cue.centre_mm, aim.contact_mm), scene.conditions)
    if there is None:
        caution = Fact("no-stun-short")
    else:
        rolls = there.spin_ratio > 1.0 - 1e-9
        caution = Fact("no-stun-rolling" if rolls else "no-stun-forward", tip=lowest)
    return Plan(struck, aim.direction_rad, False, (caution,))


def _gone(scene: Setting, struck: Struck, aim: Aim) -> tuple[Fact, ...]:
    """A warning when screw has worn off before contact."""
    asked = struck.tip_height / scene.conditions.tip_limit
    if scene.target is None or scene.shot.aim_deg is not None or asked > -SCREW_SHARE:
        return ()
    there = arrival(struck, distance_mm(scene.cue.centre_mm, aim.contact_mm), scene.conditions)
    if there is None or there.spin_ratio <= STUN_RATIO:
        return ()
    return (Fact("backspin-gone"),)


def _play(scene: Setting, struck: Struck, direction: float, balls: Sequence[Ball]) -> Trace:
    strike = Strike(
        struck.speed_mm_s, struck.tip_height, struck.side, math.degrees(struck.elevation_rad)
    )
    return play(scene.table, scene.conditions, balls, strike, direction, cue_id=scene.cue.id)


def free_trace(scene: Setting, struck: Struck, direction: float) -> Trace:
    """The shot with the obstacles taken away."""
    balls = (scene.cue,) if scene.target is None else (scene.cue, scene.target)
    return _play(scene, struck, direction, balls)


def played_trace(scene: Setting, struck: Struck, direction: float) -> Trace:
    """The shot with every ball in play."""
    return _play(scene, struck, direction, scene.balls)


def cushion_events(trace: Trace, cue_id: str, start_s: float) -> tuple[LaneEvent, ...]:
    """The cushions and jaws the cue ball meets after a time, in order."""
    return tuple(
        event
        for event in trace.events
        if event.ball == cue_id and event.kind in ("cushion", "jaw") and event.t_s > start_s
    )


def way_of(scene: Setting, label: str, trace: Trace, start_s: float | None) -> Way:
    """The free way of a lane for the gaps; an empty one when it never meets the object ball."""
    if start_s is None:
        return Way(
            label,
            (),
            scene.others,
            scene.conditions.cue_radius_mm,
            ball_radius_mm=scene.conditions.ball_radius_mm,
        )
    potting = scene.target is not None and scene.shot.aim_deg is None
    cushion = next(iter(cushion_events(trace, scene.cue.id, start_s)), None)
    return Way(
        label=label,
        legs=legs_of(trace, scene.cue.id, start_s),
        obstacles=scene.others,
        radius_mm=scene.conditions.cue_radius_mm,
        ball_radius_mm=scene.conditions.ball_radius_mm,
        first_cushion="" if cushion is None else cushion.other,
        first_cushion_mm=None if cushion is None else cushion.at_mm,
        stops_mm=None
        if scene.cue.id in trace.potted
        else trace.instant(scene.cue.id, trace.duration_s).at_mm,
        pots=not potting or trace.potted.get(scene.shot.object_ball) == scene.shot.pocket,
    )


def start_of_way(scene: Setting, trace: Trace) -> float | None:
    """When a lane begins: at contact with the object ball, or at once without one."""
    if scene.target is None:
        return 0.0
    event = first_contact_event(trace, scene.cue.id, scene.target.id)
    return None if event is None else event.t_s
