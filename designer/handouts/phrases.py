"""Facts of an answer in a coach's words: tips, paces, places on the cushion, clearances."""

from __future__ import annotations

from collections.abc import Mapping

from engine.conditions.model import Conditions
from engine.results import Clearance, Lane, Point
from engine.tables import Table
from engine.units import LengthUnit, length_text

#: Balls farther than this from a lane are not worth a word, unless none is nearer.
NEAR_MM = 150.0
_MOST = 3


def tip_words(tip_height: float, conditions: Conditions) -> str:
    """A tip height over the radius, in mm and as a share of the most that does not miscue.

    >>> tip_words(-0.25, Conditions())
    '6.6 mm below centre, 50\\xa0% of maximum'
    """
    height = tip_height * conditions.cue_radius_mm
    share = abs(tip_height) / conditions.tip_limit * 100.0
    if abs(height) < 0.05:
        return "centre ball"
    side = "above" if height > 0 else "below"
    return f"{abs(height):.1f} mm {side} centre, {share:.0f}\N{NO-BREAK SPACE}% of maximum"


def pace_words(lane: Lane) -> str:
    """Pace on the coach's scale with the cue ball's speed off the tip."""
    return f"pace {lane.pace:.1f}".removesuffix(".0") + f", {lane.speed_m_s:.2f} m/s"


def strike_words(lane: Lane, conditions: Conditions) -> list[str]:
    """How a lane is struck: tip height, pace, and side and a raised cue where there are any."""
    told = [tip_words(lane.tip_height, conditions), pace_words(lane)]
    if abs(lane.side) > 1e-9:
        side = lane.side * conditions.cue_radius_mm
        told.append(f"{abs(side):.1f} mm {'right' if side > 0 else 'left'} side")
    if lane.elevation_deg > 1e-9:
        told.append(f"cue raised {lane.elevation_deg:.0f}°")
    return told


def cushion_place(cushion: str, at: Point, table: Table, unit: LengthUnit) -> str:
    """Where on a cushion: how far along it from the nearer corner.

    >>> from engine.tables import load_table
    >>> cushion_place("right", (1751.75, 3000.0), load_table("snooker-12ft"), "mm")
    'right cushion, 569 mm from the top'
    """
    along, size, ends = (
        (at[1], table.length_mm, ("bottom", "top"))
        if cushion in ("left", "right")
        else (at[0], table.width_mm, ("left", "right"))
    )
    near = min(along, size - along)
    end = ends[0] if along <= size - along else ends[1]
    return f"{cushion} cushion, {length_text(near, unit)} from the {end}"


def bed_place(at: Point, table: Table, unit: LengthUnit) -> str:
    """Where on the bed, from the nearer long and the nearer end cushion."""
    x, y = at
    across = min(x, table.width_mm - x)
    along = min(y, table.length_mm - y)
    side = "left" if x <= table.width_mm - x else "right"
    end = "bottom" if y <= table.length_mm - y else "top"
    return f"{length_text(across, unit)} from {side}, {length_text(along, unit)} from {end}"


def clearance_words(lane: Lane, names: Mapping[str, str], unit: LengthUnit) -> list[str]:
    """One phrase for each ball that the lane touches or passes near, the nearest first."""
    ranked = sorted(lane.clearances, key=lambda c: c.clearance_mm)
    near = [c for c in ranked if c.clearance_mm < NEAR_MM][:_MOST] or ranked[:1]
    return [_clearance(c, names, unit) for c in near]


def _clearance(clearance: Clearance, names: Mapping[str, str], unit: LengthUnit) -> str:
    name = names.get(clearance.ball, clearance.ball)
    room = length_text(abs(clearance.clearance_mm), unit)
    if clearance.clearance_mm < 0.0:
        return f"touches {name}: short of clearing by {room}"
    return f"clears {name} by {room}"


def end_words(lane: Lane, table: Table, unit: LengthUnit) -> list[str]:
    """First cushion and where the cue ball ends."""
    found = []
    if lane.first_cushion and lane.first_cushion_mm is not None:
        place = cushion_place(lane.first_cushion, lane.first_cushion_mm, table, unit)
        found.append(f"first cushion: {place}")
    else:
        found.append("meets no cushion")
    if lane.in_off:
        found.append("goes in-off")
    elif lane.stops_mm is not None:
        found.append(f"stops {bed_place(lane.stops_mm, table, unit)}")
    return found
