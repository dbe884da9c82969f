"""Conversions at the edges: millimetres and inches, mm/s and m/s.

The inch is 25.4 mm exactly (international yard and pound agreement, 1959).
"""

from __future__ import annotations

import math
from typing import Literal

LengthUnit = Literal["mm", "inch"]

MM_PER_INCH = 25.4
SIXTEENTHS = 16


def inch_from_mm(length_mm: float) -> float:
    """Length in inches, exact.

    >>> inch_from_mm(254.0)
    10.0
    """
    return length_mm / MM_PER_INCH


def mm_from_inch(length_inch: float) -> float:
    """Length in millimetres, exact.

    >>> mm_from_inch(12.75)
    323.84999999999997
    """
    return length_inch * MM_PER_INCH


def rounded(value: float, step: float = 1.0) -> float:
    """The nearest whole step, halves away from zero: the one rule of rounding for all that is read.

    >>> rounded(2.5), rounded(-2.5), rounded(0.3, 0.5), rounded(-0.2)
    (3.0, -3.0, 0.5, 0.0)
    """
    count = math.floor(abs(value) / step + 0.5)
    return math.copysign(count * step, value) if count else 0.0


def inch_text(length_mm: float) -> str:
    """Read a length as a tape measure does: whole inches and the nearest sixteenth.

    >>> inch_text(737)
    '29"'
    >>> inch_text(324)
    '12 3/4"'
    >>> inch_text(-1.6)
    '-1/16"'
    """
    count = round(abs(rounded(length_mm / MM_PER_INCH * SIXTEENTHS)))
    whole, part = divmod(count, SIXTEENTHS)
    sign = "-" if length_mm < 0 and count else ""
    if not part:
        return f'{sign}{whole}"'
    shared = math.gcd(part, SIXTEENTHS)
    fraction = f"{part // shared}/{SIXTEENTHS // shared}"
    return f'{sign}{whole} {fraction}"' if whole else f'{sign}{fraction}"'


def mm_text(length_mm: float) -> str:
    """Read a length to the whole millimetre, halves away from zero.

    >>> mm_text(1784.5), mm_text(-0.2)
    ('1785 mm', '0 mm')
    """
    return f"{rounded(length_mm):.0f} mm"


def length_text(length_mm: float, unit: LengthUnit = "mm") -> str:
    """Read a length in the coach's unit."""
    return inch_text(length_mm) if unit == "inch" else mm_text(length_mm)
