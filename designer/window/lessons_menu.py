"""The menu of what goes beyond one routine: library, session plan, practice record."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from designer.texts import tr
from designer.window.actions import Entry, fill_menu
from designer.window.own_windows import Shelf

if TYPE_CHECKING:
    from designer.window.main_window import DesignerWindow


class LessonsMenu:
    """Fills a menu; its windows go with the designer window."""

    def __init__(self, window: DesignerWindow, menu: QMenu) -> None:
        self._window = window
        self.shelf = Shelf(window.session, window.settings, window)
        self.shelf.open_wanted.connect(self._open)
        fill_menu(
            menu,
            window,
            [
                Entry(
                    tr("Library…"), self.shelf.library, "F3", tr("Folders of routines, searched")
                ),
                Entry(
                    tr("Session plan…"),
                    self.shelf.plan,
                    "Ctrl+Shift+D",
                    tr("Routines in order, minutes, the booklet"),
                ),
                Entry(
                    tr("Add this routine to the plan"),
                    self._add_to_plan,
                    tip=tr("The routine has to be saved first"),
                ),
                None,
                Entry(
                    tr("Make harder or easier…"),
                    self.shelf.harder,
                    "Ctrl+Shift+H",
                    tr("Steps of another success chance"),
                ),
                None,
                Entry(
                    tr("Practice record…"),
                    self.shelf.records,
                    "Ctrl+Shift+R",
                    tr("Attempts and made, charts, reports"),
                ),
            ],
        )

    def close(self) -> bool:
        """Close the shelf's windows; False when one of them has to stay."""
        return self.shelf.close()

    def _open(self, path: Path) -> None:
        if self._window.files.open(path):
            self._window.raise_()
            self._window.activateWindow()

    def _add_to_plan(self) -> None:
        window = self._window
        document = window.session.document
        if (document.path is None or document.changed_since_save) and not window.files.save():
            return
        if document.path is not None:
            self.shelf.plan().add(document.path)
