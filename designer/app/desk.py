"""The desk: all open windows of the program, and the engine they share."""

from __future__ import annotations

import sys
import traceback
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import QObject, QTimer

from designer.app.recovery import LeftWork, LeftWorkDialog, left_work, remove
from designer.app.window import DesignerWindow
from designer.session import Predictions, Session, Settings
from designer.texts import tr


class Desk(QObject):
    """Opens windows and keeps them; the engine is loaded once the first has been painted."""

    def __init__(self, settings: Settings, *, aside: bool = True) -> None:
        super().__init__()
        self._settings = settings
        self._aside = aside
        self.windows: list[DesignerWindow] = []

    def open_window(self, path: Path | None = None) -> DesignerWindow:
        """Show one more window, with a file if one is named."""
        session = Session(
            predictions=Predictions(aside=self._aside), view=self._settings.load_view()
        )
        window = DesignerWindow(session, self._settings)
        window.closed.connect(self._on_closed)
        window.new_window_wanted.connect(lambda: self.open_window())
        self.windows.append(window)
        window.show()
        if path is not None:
            window.open_at_start(path)
        # By the time this fires the window has been painted.
        QTimer.singleShot(30, session.predictions, session.predictions.prepare)
        return window

    def offer_left_work(self) -> LeftWorkDialog | None:
        """Offer what a program that ended badly has left; nothing is opened by itself."""
        works = left_work(self._settings.recovery_folder)
        if not works or not self.windows:
            return None
        dialog = LeftWorkDialog(works, self._take, self.windows[0])
        dialog.open()
        return dialog

    def _take(self, work: LeftWork) -> None:
        """Open left work as unsaved; its old file goes once the new window keeps it."""
        first = self.windows[0] if self.windows else self.open_window()
        fresh = first.session.document
        bare = not fresh.changed_since_save and fresh.path is None and not fresh.routine.balls
        window = first if bare else self.open_window()
        window.session.document.replace(work.routine, work.path, saved=False)
        if window.recovery.keep():
            remove(work.file)

    def on_error(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Tell of an error nobody foresaw, and go on: the routine is still in the window."""
        traceback.print_exception(kind, error, trace, file=sys.stderr)
        if issubclass(kind, KeyboardInterrupt):
            sys.exit(130)
        for window in self.windows:
            window.session.messages.fail(
                tr("Something in the program went wrong ({fault}).", fault=kind.__name__),
                tr("Your routine is still here: save it under another name, then start anew."),
            )

    def _on_closed(self, window: DesignerWindow) -> None:
        if window in self.windows:
            self.windows.remove(window)
