"""Figures as a player can use them, each rounded by one rule; full figures stand in JSON alone.

Halves go away from zero everywhere. Lengths of the table in the coach's unit, to 1 mm or 1/16
inch; where the tip meets the ball in mm, always, to 1 mm; paces to a half; angles to a degree;
chances in tenths.
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from designer.texts import mark, tr
from engine.units import MM_PER_INCH, SIXTEENTHS, LengthUnit, length_text, rounded

length = length_text

#: An error of aim is told by how far it leads astray over this.
_METRE_MM, _YARD_MM = 1000.0, 914.4

#: Directions as seen from baulk, by eighths of a turn from +x on.
_WAYS = (
    mark("to the right"),
    mark("up the table to the right"),
    mark("up the table"),
    mark("up the table to the left"),
    mark("to the left"),
    mark("down the table to the left"),
    mark("down the table"),
    mark("down the table to the right"),
)


def direction(direction_deg: float) -> str:
    """A direction as seen from baulk.

    >>> direction(93.0), direction(-40.0)
    ('up the table', 'down the table to the right')
    """
    return tr(_WAYS[int(rounded(direction_deg / 45.0)) % len(_WAYS)])


def room(length_mm: float, unit: LengthUnit = "mm") -> str:
    """A clearance, overlap or miss; one that is there is never told as none.

    >>> room(78.5), room(0.3), room(0.3, "inch"), room(0.0)
    ('79 mm', 'under 1 mm', 'under 1/16"', '0 mm')
    """
    told = length(length_mm, unit)
    if length_mm and told == length(0.0, unit):
        return tr('under 1/16"') if unit == "inch" else tr("under 1 mm")
    return told


def at_most(length_mm: float, unit: LengthUnit = "mm") -> str:
    """A tolerance: never more than was found, so rounded down.

    >>> at_most(3.9), at_most(0.9), at_most(3.9, "inch")
    ('3 mm', 'under 1 mm', '1/8"')
    """
    step = MM_PER_INCH / SIXTEENTHS if unit == "inch" else 1.0
    count = math.floor(length_mm / step + 1e-9)
    return length(count * step, unit) if count else room(step / 4.0, unit)


def angle(angle_deg: float) -> str:
    """An angle to the degree; one that is there is never told as none.

    >>> angle(30.5), angle(0.2), angle(0.0)
    ('31°', 'under 1°', '0°')
    """
    if 0.0 < abs(angle_deg) < 0.5:
        return tr("under 1°")
    return f"{rounded(angle_deg):.0f}°"


def aim_error(angle_deg: float, unit: LengthUnit = "mm") -> str:
    """A small angle of aim by how far it leads astray over a metre, or over a yard.

    >>> aim_error(0.35), aim_error(0.35, "inch")
    ('6 mm in a metre', '1/4" in a yard')
    """
    astray = math.tan(math.radians(abs(angle_deg)))
    if unit == "inch":
        return tr("{length} in a yard", length=length(astray * _YARD_MM, unit))
    return tr("{length} in a metre", length=length(astray * _METRE_MM, unit))


def tip_place(offset_mm: float) -> str:
    """Where the tip meets the ball, up or down.

    >>> tip_place(6.56), tip_place(-13.1), tip_place(-0.4)
    ('7 mm above centre', '13 mm below centre', 'centre')
    """
    offset = rounded(offset_mm)
    if offset > 0.0:
        return tr("{offset} mm above centre", offset=f"{offset:.0f}")
    if offset < 0.0:
        return tr("{offset} mm below centre", offset=f"{-offset:.0f}")
    return tr("centre")


def tip_span(low_mm: float, high_mm: float) -> str:
    """From where to where the tip may be.

    >>> tip_span(-9.2, -5.0), tip_span(-5.0, -4.9), tip_span(-2.0, 3.4)
    ('9 to 5 mm below centre', '5 mm below centre', '2 mm below centre to 3 mm above centre')
    """
    low, high = rounded(low_mm), rounded(high_mm)
    if low == high:
        return tip_place(low)
    far, near = f"{max(abs(low), abs(high)):.0f}", f"{min(abs(low), abs(high)):.0f}"
    if high < 0.0:
        return tr("{far} to {near} mm below centre", far=far, near=near)
    if low > 0.0:
        return tr("{near} to {far} mm above centre", far=far, near=near)
    return tr("{low} to {high}", low=tip_place(low), high=tip_place(high))


def side_place(offset_mm: float) -> str:
    """How much side a strike has.

    >>> side_place(-3.3)
    '3 mm left side'
    """
    told = mark("{offset} mm right side") if offset_mm > 0.0 else mark("{offset} mm left side")
    return tr(told, offset=f"{abs(rounded(offset_mm)):.0f}")


def pace_figure(value: float) -> str:
    """A pace to the half.

    >>> pace_figure(4.0), pace_figure(4.25), pace_figure(9.68)
    ('4', '4.5', '9.5')
    """
    return f"{rounded(value, 0.5):g}"


def pace(value: float) -> str:
    """A pace on the coach's scale.

    >>> pace(4.2)
    'pace 4'
    """
    return tr("pace {pace}", pace=pace_figure(value))


def pace_span(low: float, high: float) -> str:
    """From which pace to which.

    >>> pace_span(3.6, 5.0), pace_span(3.9, 4.1)
    ('pace 3.5 to 5', 'pace 4')
    """
    if pace_figure(low) == pace_figure(high):
        return pace(low)
    return tr("pace {low} to {high}", low=pace_figure(low), high=pace_figure(high))


def speed(speed_m_s: float) -> str:
    """A speed off the tip, to a tenth of a metre a second.

    >>> speed(2.25)
    '2.3 m/s'
    """
    return tr("{speed} m/s", speed=f"{rounded(speed_m_s, 0.1):.1f}")


def chance(share: float) -> str:
    """How often of ten; always and never are only said of always and never.

    >>> chance(0.674), chance(0.998), chance(0.001), chance(1.0)
    ('7 in 10', 'over 9 in 10', 'under 1 in 10', '10 in 10')
    """
    if 0.95 <= share < 1.0:
        return tr("over 9 in 10")
    if 0.0 < share < 0.05:
        return tr("under 1 in 10")
    return tr("{count} in 10", count=f"{rounded(10.0 * share):.0f}")


def list_of(parts: Iterable[str]) -> str:
    """Facts one after another, told in one breath."""
    return ", ".join(part for part in parts if part)


def first_up(words: str) -> str:
    """With a capital, the rest as it was.

    >>> first_up("red R1")
    'Red R1'
    """
    return words[:1].upper() + words[1:]


def sentence(words: str) -> str:
    """With a capital and a full stop.

    >>> sentence("the pot is off"), sentence("")
    ('The pot is off.', '')
    """
    words = words.strip()
    return first_up(words) + ("" if words[-1] in ".!?:" else ".") if words else ""
