"""Lanes: where the cue ball goes for each strike a shot asks about.

A lane is played twice: as it lies, with every ball in play, and free, with only the cue ball and
the object ball on the cloth, which tells by how much the first ball in its way is overlapped.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.balls import Ball
from engine.conditions import Conditions
from engine.judging.clearance import as_played, clearances
from engine.judging.passes import gap_pass
from engine.judging.rules import is_clear
from engine.judging.way import Way, way_of
from engine.lanes.cautions import cautions
from engine.lanes.free import bounces_of, free_part, told_by
from engine.playing.aiming import play_strike
from engine.playing.contact import bend_end, first_contact_event
from engine.playing.laid_out import LaidOutShot, laid_out
from engine.playing.legs import NO_PATH, joined, legs_of
from engine.playing.plan import start_of_way
from engine.playing.strikes import strike_name
from engine.potting.vectors import wrapped_rad
from engine.results import GapPass, Lane, LaneEvent, PotAnswer
from engine.routine.values import Gap, LaneAsk, Shot
from engine.shot import Trace
from engine.tables.model import Table


@dataclass(frozen=True, slots=True)
class PlayedLane:
    """A lane with its ways for the gaps: as it is played, and without the obstacles in it."""

    lane: Lane
    true: Way
    free: Way

    def passes(
        self, table: Table, gaps: Sequence[Gap], balls: Sequence[Ball], name: str = ""
    ) -> GapPass:
        """How it stands to a gap, or to several in order; errors as of `judging.passes`."""
        return gap_pass(table, gaps, balls, self.true, self.free, name)


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
    return played_lane(laid_out(table, conditions, balls, shot, (), pot_answer), ask).lane


def played_lane(scene: LaidOutShot, ask: LaneAsk) -> PlayedLane:
    """One lane of a shot that is laid out, with its ways; errors as of `lane`."""
    cue, conditions = scene.cue_ball.id, scene.conditions
    free = free_part(scene, ask)
    wanted, played, struck = free.plan, free.trace, free.plan.struck
    if scene.others:
        played = play_strike(scene, struck, wanted.direction_rad)
    start = start_of_way(scene, played)
    # where another ball is met in place of the object ball, the way it was meant to take is shown
    shown, start = (played, start) if start is not None else (free.trace, free.start_s)
    alone = clearances(free.legs, scene.others, conditions.cue_radius_mm, conditions.ball_radius_mm)
    legs, rooms = free.legs, alone
    if start is not None and shown is not free.trace and _touches(shown, cue, start):
        legs = legs_of(shown, cue, start)
        rooms = clearances(legs, scene.others, conditions.cue_radius_mm, conditions.ball_radius_mm)
        rooms = as_played(rooms, alone, scene, shown, start)
    told = free.told or told_by(scene, played)
    bounces = bounces_of(shown, cue, start)
    arrives, arrival_speed = told.arrival
    true = way_of(scene, ask.label, played) if scene.others else free.way
    found = Lane(
        label=ask.label,
        title=ask.title,
        strike_name=strike_name(struck.tip_height, conditions.tip_limit, wanted.is_stun, arrives),
        tip_height=struck.tip_height,
        is_stun=wanted.is_stun,
        pace=ask.pace
        if ask.speed_m_s is None
        else conditions.pace_at(struck.speed_mm_s, struck.tip_height, struck.side),
        speed_m_s=struck.speed_mm_s / 1000.0,
        side=struck.side,
        elevation_deg=ask.elevation_deg,
        approach_mm=free.approach_mm,
        path_mm=joined(legs),
        played_mm=_played_path(played, cue, scene.object_ball),
        object_path_mm=NO_PATH
        if scene.object_ball is None or start is None
        else shown.path_mm(scene.object_ball.id, start),
        first_cushion=bounces[0].cushion if bounces else "",
        first_cushion_mm=bounces[0].at_mm if bounces else None,
        bend_end_mm=None if start is None else bend_end(shown, cue, start),
        spin_ratio_on_arrival=arrives,
        arrival_speed_m_s=arrival_speed,
        **told.angles,
        clear=start is not None and all(is_clear(room.clearance_mm) for room in rooms),
        clearances=rooms,
        first_touched=_met(played, cue, scene.object_ball),
        object_potted=scene.object_ball is not None and scene.object_ball.id in played.potted,
        in_off=cue in played.potted,
        stops_mm=None if start is None else shown.rest_mm(cue),
        events=_told_twice(played),
        cautions=wanted.cautions + cautions(scene, wanted, free.trace, played, free.start_s),
        contact=told.contact,
        aim_deg=math.degrees(wrapped_rad(wanted.direction_rad)),
        rests=tuple(played.rests().items()),
        legs_mm=legs,
        bounces=bounces,
        met_instead=true.instead,
    )
    return PlayedLane(found, true, replace(free.way, obstacles=scene.others))


def _touches(trace: Trace, cue_id: str, start_s: float) -> bool:
    """Whether the cue ball touches any ball after a time."""
    return any(
        event.kind == "ball" and cue_id in (event.ball, event.other) and event.t_s > start_s
        for event in trace.events
    )


def _played_path(trace: Trace, cue_id: str, target: Ball | None) -> np.ndarray:
    """The cue ball's way with every ball in play, from its first contact.

    From the start when the shot is not for an object ball.
    """
    event = first_contact_event(trace, cue_id)
    if target is None:
        return trace.path_mm(cue_id)
    return NO_PATH if event is None else trace.path_mm(cue_id, event.t_s)


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
