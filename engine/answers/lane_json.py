"""One lane as JSON: every figure with its unit in its key."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from engine.answers.plain import Words, figures, length_mm, number, plain, speed
from engine.results import Lane, LaneBounce, LaneContact, LaneEvent

#: Fields of a lane that are told elsewhere in it, or not at all.
_ELSEWHERE = dict.fromkeys(
    (
        "approach_mm", "arrival_speed_m_s", "spin_ratio_on_arrival", "first_angle_deg",
        "deflection_deg", "final_direction_deg", "throw_deg", "legs_mm", "bounces", "rests",
    ),
    "",
)  # fmt: skip


def lane_json(
    lane: Lane, cue_id: str, radius_mm: float, tip_limit: float, words: Words
) -> dict[str, Any]:
    """A lane: its strike, arrival, contact, way, clearances, events and rests."""
    keys = {"tip_height": "tip_height_ratio", "side": "side_ratio", "played_mm": "played_path_mm"}
    doubt = {"first_cushion_mm": "first_cushion_spread_mm", "rest_mm": "rest_spread_mm", "legs": ""}
    return {
        **figures(lane, **keys, **_ELSEWHERE),
        "tip_height_mm": number(lane.tip_height * radius_mm),
        "tip_height_share_of_limit": number(lane.tip_height / tip_limit),
        "approach": _approach(lane, cue_id, radius_mm),
        "contact": None if lane.contact is None else _contact(lane, lane.contact),
        "path_length_mm": number(length_mm(lane.path_mm)),
        "object_path_length_mm": number(length_mm(lane.object_path_mm)),
        "first_cushion": lane.first_cushion or None,
        "cushions": [_bounce(bounce) for bounce in lane.bounces],
        "first_touched": lane.first_touched or None,
        "met_instead": lane.met_instead or None,
        "rests_mm": plain(dict(lane.rests)),
        "events": [_event(event) for event in lane.events],
        "cautions": [words(caution) for caution in lane.cautions],
        "doubt": None if lane.doubt is None else figures(lane.doubt, **doubt),
    }


def _approach(lane: Lane, cue_id: str, radius_mm: float) -> dict[str, Any]:
    """The way to the object ball, or all of it without one; where the first slide ends."""
    time, place, pace = _slide_end(lane.events, cue_id, radius_mm)
    return {
        "path_mm": plain(lane.approach_mm),
        "path_length_mm": number(length_mm(lane.approach_mm)),
        "slide_end_s": number(time),
        "slide_end_mm": plain(place),
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
    keys = {
        "t_s": "time_s", "at_mm": "contact_mm", "centres_deg": "line_of_centres_deg",
        "cue_after_m_s": "cue_velocity_m_s", "cue_after_spin_rad_s": "cue_spin_rad_s",
        "ball_after_m_s": "object_velocity_m_s",
    }  # fmt: skip
    return {
        **figures(contact, **keys),
        "cue_speed_m_s": speed(contact.cue_after_m_s),
        "object_speed_m_s": speed(contact.ball_after_m_s),
        "first_angle_deg": number(lane.first_angle_deg),
        "deflection_deg": number(lane.deflection_deg),
        "final_direction_deg": number(lane.final_direction_deg),
        "throw_deg": number(lane.throw_deg),
    }


def _bounce(bounce: LaneBounce) -> dict[str, Any]:
    keys = {"t_s": "time_s", "at_mm": "position_mm"}
    speeds = {"before_m_s": "velocity_before_m_s", "after_m_s": "velocity_after_m_s"}
    return {
        **figures(bounce, **keys, **speeds),
        "speed_before_m_s": speed(bounce.before_m_s),
        "speed_after_m_s": speed(bounce.after_m_s),
    }


def _event(event: LaneEvent) -> dict[str, Any]:
    return {
        **figures(event, t_s="time_s", at_mm="position_mm"),
        "other": event.other or None,
        "speed_m_s": speed(event.velocity_m_s),
    }
