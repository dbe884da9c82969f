"""Where a lane goes: the balls it clears or touches, its cushions, where the cue ball stops."""

from __future__ import annotations

import math

from designer.texts import mark, tr
from designer.words.facts import fact
from designer.words.figures import angle, room, speed
from designer.words.fullness import fullness
from designer.words.names import cushion_name, cushion_side
from designer.words.wording import Wording
from engine.results import Clearance, Fact, Lane, LaneDoubt, Point, PotAnswer

#: Balls farther than this from a lane are not worth a word, unless none is nearer.
NEAR_MM = 150.0
_MOST = 3


def clearance(wording: Wording, found: Clearance) -> str:
    """How a lane stands to one ball: "touches red R3 by 39 mm, after 2 cushions, quarter ball"."""
    told = fact(wording, found.fact)
    if found.clearance_mm >= 0.0:
        return told
    return tr("{told}, {fullness}", told=told, fullness=fullness(found.fullness))


def by_room(lane: Lane) -> list[Clearance]:
    """The balls of a lane, those it touches first, in the order it meets them; then by room."""
    touched = [one for one in lane.clearances if one.clearance_mm < 0.0]
    clear = [one for one in lane.clearances if one.clearance_mm >= 0.0]
    touched.sort(key=lambda one: (one.after_cushions, one.clearance_mm))
    return [*touched, *sorted(clear, key=lambda one: one.clearance_mm)]


def near_lane(lane: Lane) -> list[Clearance]:
    """The balls worth a word on paper: those it touches or passes near, a few at most."""
    ranked = by_room(lane)
    return [one for one in ranked if one.clearance_mm < NEAR_MM][:_MOST] or ranked[:1]


def lane_in_short(wording: Wording, lane: Lane) -> str:
    """Whether a lane is clear, and by how much of what, in one line."""
    if len(lane.path_mm) < 2 and lane.contact is None:
        return fact(wording, Fact("short-of-object-ball"))
    ranked = by_room(lane)
    touched = sum(one.clearance_mm < 0.0 for one in ranked)
    if not touched and lane.in_off:
        return fact(wording, Fact("goes-in-off"))
    if not ranked:
        return fact(wording, Fact("no-obstacle"))
    told = fact(wording, ranked[0].fact)
    return tr("{told}, and {more} more", told=told, more=touched - 1) if touched > 1 else told


def cushion_place(wording: Wording, cushion: str, at: Point) -> str:
    """Where on a cushion: how far along it from the nearer corner.

    >>> from engine.routine.values import Routine
    >>> cushion_place(Wording(Routine()), "right", (1751.75, 3000.0))
    'right cushion, 569 mm from the top'
    """
    across, along = _ends(wording, at)
    end, near = along if cushion in ("left", "right") else across
    told = {
        "left": mark("{cushion}, {length} from the left"),
        "right": mark("{cushion}, {length} from the right"),
        "bottom": mark("{cushion}, {length} from the bottom"),
        "top": mark("{cushion}, {length} from the top"),
    }[end]
    return tr(told, cushion=cushion_name(cushion), length=near)


def _ends(wording: Wording, at: Point) -> tuple[tuple[str, str], tuple[str, str]]:
    """The nearer long and the nearer end cushion of a place, and how far off they are."""
    table, (x, y) = wording.table, at
    right, top = x > table.width_mm - x, y > table.length_mm - y
    across = wording.length(table.width_mm - x if right else x)
    along = wording.length(table.length_mm - y if top else y)
    return ("right" if right else "left", across), ("top" if top else "bottom", along)


def bed_place(wording: Wording, at: Point) -> str:
    """Where on the bed, from the nearer long and the nearer end cushion."""
    (side, across), (end, along) = _ends(wording, at)
    return tr(
        "{across} from {side}, {along} from {end}",
        across=across, side=cushion_side(side), along=along, end=cushion_side(end),
    )  # fmt: skip


def ending(wording: Wording, lane: Lane) -> list[str]:
    """First cushion and where the cue ball really ends, a ball that it touches in play."""
    if not len(lane.path_mm):
        return [fact(wording, Fact("no-way"))]
    touched = [one for one in lane.clearances if one.clearance_mm < 0.0]
    found = []
    if lane.first_cushion and lane.first_cushion_mm is not None:
        if all(one.after_cushions for one in touched):
            place = cushion_place(wording, lane.first_cushion, lane.first_cushion_mm)
            found.append(tr("first cushion: {place}", place=place))
    elif not touched:
        found.append(tr("meets no cushion"))
    stops = _rest(wording, lane) if touched else lane.stops_mm
    if lane.in_off or stops is None:
        return [*found, tr("goes in-off")]
    told = mark("after the touch stops {place}") if touched else mark("stops {place}")
    return [*found, tr(told, place=bed_place(wording, stops))]


def _rest(wording: Wording, lane: Lane) -> Point | None:
    """Where the cue ball lies in the end, every ball in play; None in a pocket."""
    cue = wording.routine.cue_ball
    return dict(lane.rests).get(cue.id if cue is not None else "", lane.stops_mm)


def arrival(lane: Lane) -> str:
    """The speed and the spin a cue ball meets the object ball with."""
    spin, how = lane.spin_ratio_on_arrival, tr("with backspin")
    if abs(spin) < 0.03:
        how = tr("without spin")
    elif spin > 0.97:
        how = tr("rolling")
    elif spin > 0.0:
        how = tr("with forward spin")
    return tr("arrives {how} at {speed}", how=how, speed=speed(lane.arrival_speed_m_s))


def off_ninety(lane: Lane, pot: PotAnswer) -> str:
    """How far a lane ends off the 90-degree line, and to which side of it."""
    (ax, ay), (bx, by) = pot.ninety_line_mm
    (px, py), (qx, qy) = pot.potting_line_mm
    ninety = math.degrees(math.atan2(by - ay, bx - ax))
    forward = math.degrees(math.atan2(qy - py, qx - px))
    off = (lane.final_direction_deg - ninety + 180.0) % 360.0 - 180.0
    ahead = (forward - ninety + 180.0) % 360.0 - 180.0
    if abs(off) < 0.5:
        return tr("runs along the 90-degree line")
    told = mark("runs {angle} forward of the 90-degree line")
    if (off > 0.0) != (ahead > 0.0):
        told = mark("runs {angle} behind the 90-degree line")
    return tr(told, angle=angle(abs(off)))


def doubt(wording: Wording, found: LaneDoubt) -> str:
    """How far off to expect a lane, for what is not known of cloth, balls and cushions."""
    if math.isnan(found.direction_deg):
        return tr("not known well enough to say how far off to expect it")
    turned = angle(found.direction_deg)
    if math.isnan(found.off_first_cushion_mm):
        return tr("expect up to {angle} off", angle=turned)
    far = room(found.off_first_cushion_mm, wording.unit)
    return tr("expect up to {angle} off, {length} at the first cushion", angle=turned, length=far)
