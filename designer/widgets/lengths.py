"""Lengths as a coach types them: millimetres, or inches with sixteenths."""

from __future__ import annotations

import math
import re

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from designer.widgets.text_fields import TextField
from engine.units import LengthUnit, inch_text, mm_from_inch

_FRACTION = re.compile(r"(?:(\d+)(?:\s+|-))?(\d+)\s*/\s*(\d+)")
_INCH_MARKS = re.compile(r"(\"|″|”|in(ch(es)?)?\.?)\s*$", re.IGNORECASE)
_MM_MARK = re.compile(r"mm\.?\s*$", re.IGNORECASE)


def parse_length(text: str, unit: LengthUnit) -> float | None:
    """The length in mm that was typed, None if it is none; a mark of its own beats `unit`.

    >>> parse_length("324", "mm"), parse_length("12 3/4", "inch"), parse_length('29"', "mm")
    (324.0, 323.84999999999997, 736.5999999999999)
    >>> parse_length("324,5 mm", "inch"), parse_length("a foot", "mm")
    (324.5, None)
    """
    words = text.strip()
    if _INCH_MARKS.search(words):
        unit, words = "inch", _INCH_MARKS.sub("", words).strip()
    elif _MM_MARK.search(words):
        unit, words = "mm", _MM_MARK.sub("", words).strip()
    number = _number(words)
    if number is None:
        return None
    return mm_from_inch(number) if unit == "inch" else number


def _number(words: str) -> float | None:
    fraction = _FRACTION.fullmatch(words)
    if fraction:
        whole, part, of = (int(group or 0) for group in fraction.groups())
        return whole + part / of if of else None
    try:
        found = float(words.replace(",", "."))
    except ValueError:
        return None
    return found if abs(found) < 1e5 else None


def typed_text(length_mm: float, unit: LengthUnit) -> str:
    """The length as it stands in a field: to a tenth of a millimetre, or in sixteenths.

    >>> typed_text(324.0, "mm"), typed_text(26.25, "mm"), typed_text(323.85, "inch")
    ('324', '26.3', '12 3/4"')
    """
    if unit == "inch":
        return inch_text(length_mm)
    # Halves up, as a tape is read and as `mm_text` does.
    return f"{math.floor(10.0 * length_mm + 0.5) / 10.0:.1f}".removesuffix(".0")


class LengthField(TextField):
    """A field for one length; `typed` tells the new one in mm, `refused` what was no length."""

    typed = Signal(float)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit: LengthUnit = "mm"
        self.setMaximumWidth(110)
        self.committed.connect(self._on_committed)

    def show_length(self, length_mm: float, unit: LengthUnit) -> None:
        """Show a length, unless another is being typed."""
        self._unit = unit
        self.show_text(typed_text(length_mm, unit))

    def _on_committed(self, text: str) -> None:
        length = parse_length(text, self._unit)
        if length is None:
            self.refused.emit(text)
        else:
            self.typed.emit(length)
