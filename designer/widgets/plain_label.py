"""Words told in a window: plain, over several lines where they need it, to be selected."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

#: A place where a line may end, without a sign of its own.
_BREAK = "\u200b"


class PlainLabel(QLabel):
    """What happened last, or what a window is for; a path is broken at its folders."""

    def __init__(self, text: str = "", name: str = "") -> None:
        super().__init__()
        self.setWordWrap(True)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.setAccessibleName(name)
        self.setText(text)

    def setText(self, text: str) -> None:
        """Show words; a path in them must not make its window wider than the screen."""
        super().setText(text.replace("\\", "\\" + _BREAK))

    def text(self) -> str:
        """The words as they were given."""
        return super().text().replace(_BREAK, "")
