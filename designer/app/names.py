"""Names of the window's parts, in one place for window, menus and tests."""

PROGRAM = "Baizewright"
ANSWERS = "Answers"
PANELS = ("Balls", "Shot", "Gaps", "Reach", "Sheet", "To do")
#: Keys that lead to the tabs.
PANEL_KEYS = {
    "Balls": "F5",
    "Shot": "F6",
    "Gaps": "F7",
    "Reach": "Ctrl+M",
    "Sheet": "F8",
    "To do": "Ctrl+J",
}
