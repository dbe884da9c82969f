"""Names of the window's parts, in one place for window, menus and tests."""

PROGRAM = "Baizewright"
ANSWERS = "Answers"
PANELS = ("Balls", "Shot", "Gaps", "Sheet")
