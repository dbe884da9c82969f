"""One lane as JSON: every figure with its unit in its key."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from engine.answers.plain import Words, length_mm, number, pair, polyline, speed
from engine.results import Clearance, Lane, LaneBounce, LaneContact, LaneDoubt, LaneEvent


def lane_json(
    lane: Lane, cue_id: str, radius_mm: float, tip_limit: float, words: Words
) -> dict[str, Any]:
    """A lane: its strike, arrival, contact, way, clearances, events and rests."""
    return {
        "label": lane.label,
        "title": lane.title,
        "strike_name": lane.strike_name,
        "is_stun": lane.is_stun,
        "tip_height_ratio": number(lane.tip_height),
        "tip_height_mm": number(lane.tip_height * radius_mm),
        "tip_height_share_of_limit": number(lane.tip_height / tip_limit),
        "side_ratio": number(lane.side),
        "elevation_deg": number(lane.elevation_deg),
        "pace": number(lane.pace),
        "speed_m_s": number(lane.speed_m_s),
        "aim_deg": number(lane.aim_deg),
        "approach": _approach(lane, cue_id, radius_mm),
        "contact": None if lane.contact is None else _contact(lane, lane.contact),
        "path_mm": polyline(lane.path_mm),
        "path_length_mm": number(length_mm(lane.path_mm)),
        "played_path_mm": polyline(lane.played_mm),
        "object_path_mm": polyline(lane.object_path_mm),
        "object_path_length_mm": number(length_mm(lane.object_path_mm)),
        "bend_end_mm": pair(lane.bend_end_mm),
        "first_cushion": lane.first_cushion or None,
        "first_cushion_mm": pair(lane.first_cushion_mm),
        "cushions": [_bounce(bounce) for bounce in lane.bounces],
        "stops_mm": pair(lane.stops_mm),
        "clear": lane.clear,
        "clearances": [_clearance(room) for room in lane.clearances],
        "first_touched": lane.first_touched or None,
        "met_instead": lane.met_instead or None,
        "object_potted": lane.object_potted,
        "in_off": lane.in_off,
        "rests_mm": {ball: pair(place) for ball, place in lane.rests},
        "events": [_event(event) for event in lane.events],
        "cautions": [words(caution) for caution in lane.cautions],
        "doubt": None if lane.doubt is None else _doubt(lane.doubt),
    }


def _doubt(doubt: LaneDoubt) -> dict[str, Any]:
    """The band of a lane over the likely ranges of its conditions."""
    return {
        "outlines_mm": [polyline(outline) for outline in doubt.outlines_mm],
        "first_cushion_spread_mm": number(doubt.first_cushion_mm),
        "rest_spread_mm": number(doubt.rest_mm),
        "samples": doubt.samples,
    }


def _approach(lane: Lane, cue_id: str, radius_mm: float) -> dict[str, Any]:
    """The way to the object ball, or all of it without one; where the first slide ends."""
    time, place, pace = _slide_end(lane.events, cue_id, radius_mm)
    return {
        "path_mm": polyline(lane.approach_mm),
        "path_length_mm": number(length_mm(lane.approach_mm)),
        "slide_end_s": number(time),
        "slide_end_mm": pair(place),
        "slide_end_speed_m_s": number(pace),
        "arrival_speed_m_s": number(lane.arrival_speed_m_s),
        "arrival_spin_ratio": number(lane.spin_ratio_on_arrival),
    }


def _slide_end(
    events: Iterable[LaneEvent], cue_id: str, radius_mm: float
) -> tuple[float | None, tuple[float, float] | None, float | None]:
    """Time, place and speed where the struck ball starts to roll, if nothing ends it first."""
    own = [event for event in events if event.ball == cue_id]
    if not own:
        return None, None, None
    struck = own[0]
    (vx, vy), (wx, wy, _) = struck.velocity_m_s, struck.spin_rad_s
    slip = math.hypot(vx - radius_mm / 1000.0 * wy, vy + radius_mm / 1000.0 * wx)
    if slip <= 1e-9 * math.hypot(vx, vy):
        return struck.t_s, struck.at_mm, math.hypot(vx, vy)
    if len(own) > 1 and own[1].kind == "rolling":
        return own[1].t_s, own[1].at_mm, math.hypot(*own[1].velocity_m_s)
    return None, None, None


def _contact(lane: Lane, contact: LaneContact) -> dict[str, Any]:
    return {
        "ball": contact.ball,
        "time_s": number(contact.t_s),
        "contact_mm": pair(contact.at_mm),
        "ball_mm": pair(contact.ball_mm),
        "line_of_centres_deg": number(contact.centres_deg),
        "cut_deg": number(contact.cut_deg),
        "fullness": number(contact.fullness),
        "cue_velocity_m_s": pair(contact.cue_after_m_s),
        "cue_speed_m_s": speed(contact.cue_after_m_s),
        "cue_spin_rad_s": pair(contact.cue_after_spin_rad_s),
        "object_velocity_m_s": pair(contact.ball_after_m_s),
        "object_speed_m_s": speed(contact.ball_after_m_s),
        "first_angle_deg": number(lane.first_angle_deg),
        "separation_deg": number(contact.separation_deg),
        "deflection_deg": number(lane.deflection_deg),
        "final_direction_deg": number(lane.final_direction_deg),
        "throw_deg": number(lane.throw_deg),
        "bend_s": number(contact.bend_s),
        "bend_end_speed_m_s": number(contact.bend_end_speed_m_s),
    }


def _bounce(bounce: LaneBounce) -> dict[str, Any]:
    return {
        "cushion": bounce.cushion,
        "time_s": number(bounce.t_s),
        "position_mm": pair(bounce.at_mm),
        "velocity_before_m_s": pair(bounce.before_m_s),
        "speed_before_m_s": speed(bounce.before_m_s),
        "velocity_after_m_s": pair(bounce.after_m_s),
        "speed_after_m_s": speed(bounce.after_m_s),
    }


def _clearance(room: Clearance) -> dict[str, Any]:
    return {
        "ball": room.ball,
        "clearance_mm": number(room.clearance_mm),
        "side": room.side,
        "fullness": number(room.fullness),
        "at_mm": pair(room.at_mm),
        "after_cushions": room.after_cushions,
    }


def _event(event: LaneEvent) -> dict[str, Any]:
    return {
        "time_s": number(event.t_s),
        "kind": event.kind,
        "ball": event.ball,
        "other": event.other or None,
        "position_mm": pair(event.at_mm),
        "velocity_m_s": pair(event.velocity_m_s),
        "speed_m_s": speed(event.velocity_m_s),
        "spin_rad_s": pair(event.spin_rad_s),
    }
