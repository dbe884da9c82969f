"""Names of the window's parts, in one place for window, menus and tests."""

from __future__ import annotations

from designer.texts import mark

PROGRAM = "Baizewright"
#: The column's pages; `tr` them where they are shown.
PANELS = (mark("Shot"), mark("Balls"), mark("Gaps"), mark("Words"), mark("To fix"))
#: Keys that lead to the pages.
PANEL_KEYS = {"Shot": "F5", "Balls": "F6", "Gaps": "F7", "Words": "F8", "To fix": "Ctrl+J"}
