"""The style sheet of the program's windows, put on each when it is built.

The application itself wears none: with one, Qt styles every part anew each time it is put into
another, and building a window took twice as long.
"""

from __future__ import annotations

from PySide6.QtWidgets import QApplication, QWidget

_KEPT = "sheet of the windows"


def set_sheet(app: QApplication, sheet: str) -> None:
    """Have all windows wear this sheet, those that are open and those to come."""
    app.setProperty(_KEPT, sheet)
    for window in app.topLevelWidgets():
        if window.property(_KEPT):
            window.setStyleSheet(sheet)


def wear(window: QWidget) -> None:
    """Put the sheet on a window that is built; one within or above another wears that one's."""
    app = QApplication.instance()
    if app is not None and window.parentWidget() is None and not window.property(_KEPT):
        window.setProperty(_KEPT, True)
        window.setStyleSheet(app.property(_KEPT) or "")
