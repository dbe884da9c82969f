"""The window: the frame with its menus, its row of commands, its side windows and its welcome."""

from __future__ import annotations

from PySide6.QtGui import QCloseEvent

from designer.answers.gap_lines import MAP
from designer.open_routine import OpenRoutine, Settings
from designer.texts import tr
from designer.widgets.style_sheet import wear
from designer.window.frame import MainFrame
from designer.window.menus import EXAMPLES, Menus
from designer.window.welcome import Welcome


class DesignerWindow(MainFrame):
    """What a coach works in."""

    def __init__(self, session: OpenRoutine, settings: Settings) -> None:
        super().__init__(session, settings)
        self.menus = Menus(self)
        self.welcome = Welcome(session, sorted(EXAMPLES.glob("*.json")), self.canvas)
        self.welcome.opened.connect(self.files.open)
        self.shot.gaps.more.connect(self._on_more)
        wear(self)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Close, unless work would be lost that the coach wants to keep."""
        may_close = (
            # First what is being typed beside the table: it may be part of the routine.
            self.menus.dialogs.may_leave()
            and self.files.may_leave(tr("Save them before the window closes?"))
        )
        if not may_close:
            event.ignore()
            return
        self.menus.dialogs.close()
        self.recovery.drop()
        self.files.release()
        self.settings.save_bytes("window", self.saveGeometry())
        self.settings.save_view(self.session.view)
        self.session.close()
        self.closed.emit(self)
        event.accept()

    def _on_more(self, gap: str, what: str) -> None:
        """The map or the report of a gap is asked for."""
        opened = self.menus.dialogs
        opened.reach(gap) if what == MAP else opened.report()
