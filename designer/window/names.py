"""Names of the window's parts, in one place for window, menus and tests."""

from __future__ import annotations

from designer.texts import mark

PROGRAM = "Baizewright"
#: Names the parts go by in the program; `tr` them where they are shown.
ANSWERS = mark("Answers")
PANELS = (mark("Balls"), mark("Shot"), mark("Gaps"), mark("Reach"), mark("Sheet"), mark("To do"))
#: Keys that lead to the tabs.
PANEL_KEYS = {
    "Balls": "F5",
    "Shot": "F6",
    "Gaps": "F7",
    "Reach": "Ctrl+M",
    "Sheet": "F8",
    "To do": "Ctrl+J",
}
