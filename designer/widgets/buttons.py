"""A push button for a window beside the table: what it says and what it does."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtWidgets import QPushButton


def action_button(text: str, do: Callable[[], object]) -> QPushButton:
    """A button that does something when pressed, and is never pressed by Enter in a field."""
    made = QPushButton(text)
    made.setAutoDefault(False)
    made.clicked.connect(lambda _checked=False: do())
    return made
