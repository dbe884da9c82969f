"""Fields that keep their value when the wheel passes over them: it scrolls and zooms.

Scrolling through a panel would otherwise change the table or the pace under the pointer unseen.
Nor does the wheel give a field the keys: whatever is being typed elsewhere goes on.
"""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QComboBox, QDateEdit, QDoubleSpinBox, QSlider, QSpinBox


class _PastTheWheel:
    """Passes the wheel on to what lies around the field."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # type: ignore[attr-defined]
        # In a row with others some styles would cut the feet of its letters.
        self.ensurePolished()  # type: ignore[attr-defined]
        self.setMinimumHeight(self.fontMetrics().height() + 6)  # type: ignore[attr-defined]

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave it to what lies around."""
        event.ignore()


class ChoiceField(_PastTheWheel, QComboBox):
    """One of several."""


class CountField(_PastTheWheel, QSpinBox):
    """A whole number."""


class NumberField(_PastTheWheel, QDoubleSpinBox):
    """A number with decimals."""


class DayField(_PastTheWheel, QDateEdit):
    """A day."""


class SlideField(_PastTheWheel, QSlider):
    """A place between two ends."""
