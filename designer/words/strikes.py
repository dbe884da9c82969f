"""How a cue ball is struck: the word for it, tip, pace, side and a raised cue."""

from __future__ import annotations

from designer.texts import mark, tr
from designer.words.figures import angle, list_of, pace, side_place, speed, tip_place
from engine.conditions import Conditions
from engine.results import Lane

STRIKE_NAMES = {
    "full top": mark("full top"),
    "top": mark("strike|top"),
    "run-through": mark("run-through"),
    "centre": mark("centre ball"),
    "stun": mark("stun"),
    "screw": mark("screw"),
    "full screw": mark("full screw"),
}


def strike_word(name: str) -> str:
    """The coach's word for a strike the engine has named."""
    return tr(STRIKE_NAMES.get(name, name))


def tip_and_pace(tip_height: float, at_pace: float, conditions: Conditions) -> str:
    """Where the tip goes and how hard.

    >>> tip_and_pace(-0.25, 4.2, Conditions())
    'tip 7 mm below centre, pace 4 (2.0 m/s)'
    """
    return tr(
        "tip {place}, {pace} ({speed})",
        place=tip_place(tip_height * conditions.cue_radius_mm),
        pace=pace(at_pace),
        speed=speed(float(conditions.speed_mm_s(at_pace, tip_height)) / 1000.0),
    )


def strike(name: str, tip_height: float, at_pace: float, conditions: Conditions) -> str:
    """A strike in one breath.

    >>> strike("screw", -0.25, 4.2, Conditions())
    'screw, tip 7 mm below centre, pace 4 (2.0 m/s)'
    """
    return list_of([strike_word(name), tip_and_pace(tip_height, at_pace, conditions)])


def lane_strike(lane: Lane) -> str:
    """A lane's strike as its coach calls it, else as the engine has named it."""
    return lane.title or strike_word(lane.strike_name)


def lane_strike_parts(lane: Lane, conditions: Conditions) -> list[str]:
    """How a lane is struck: tip, pace and speed, and side and a raised cue where there are any."""
    radius = conditions.cue_radius_mm
    told = [
        tip_place(lane.tip_height * radius),
        tr("{pace}, {speed}", pace=pace(lane.pace), speed=speed(lane.speed_m_s)),
    ]
    if abs(lane.side) > 1e-9:
        told.append(side_place(lane.side * radius))
    if lane.elevation_deg > 1e-9:
        told.append(tr("cue raised {angle}", angle=angle(lane.elevation_deg)))
    return told
