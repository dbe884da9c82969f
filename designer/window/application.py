"""The desk: all open windows of the program, and the engine they share."""

from __future__ import annotations

import contextlib
import sys
import threading
import traceback
from collections.abc import Sequence
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

from designer.fault_report import signature, write_report
from designer.files.open_and_save import fresh_routine
from designer.open_routine import OpenRoutine, Predictions, Settings
from designer.open_routine.unforeseen import listen, unforeseen
from designer.texts import tr
from designer.window.left_work import LeftWork, LeftWorkDialog, left_work, remove
from designer.window.main_window import DesignerWindow
from engine.routine.document import Document

if TYPE_CHECKING:
    from designer.plans.left_plans import LeftPlan


class Application(QObject):
    """Opens windows and keeps them; the engine is loaded once the first has been painted."""

    _fault = Signal(object)

    def __init__(self, settings: Settings, *, aside: bool = True) -> None:
        super().__init__()
        self._settings = settings
        self._aside = aside
        self.windows: list[DesignerWindow] = []
        self._reported: dict[str, Path | None] = {}
        self._fault.connect(self._on_fault)

    def open_window(self, path: Path | None = None) -> DesignerWindow:
        """Show one more window, with a file if one is named."""
        session = OpenRoutine(
            Document(fresh_routine(self._settings)),
            predictions=Predictions(aside=self._aside),
            view=self._settings.load_view(),
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
        folder = self._settings.recovery_folder
        works: list[LeftWork | LeftPlan] = [*left_work(folder), *self._left_plans(folder)]
        if not works or not self.windows:
            return None
        dialog = LeftWorkDialog(works, self._take, self.windows[0])
        dialog.open()
        return dialog

    def _left_plans(self, folder: Path) -> Sequence[LeftPlan]:
        if not folder.is_dir():
            return ()
        from designer.plans.left_plans import left_plans

        return left_plans(self._settings)

    def _take(self, work: LeftWork | LeftPlan) -> None:
        """Open left work as unsaved; its old file goes once the new window keeps it."""
        if not isinstance(work, LeftWork):
            window = self.windows[0] if self.windows else self.open_window()
            window.menus.dialogs.plan().take_up(work)
            return
        first = self.windows[0] if self.windows else self.open_window()
        fresh = first.session.document
        bare = not fresh.changed_since_save and fresh.path is None and not fresh.routine.balls
        window = first if bare else self.open_window()
        window.files.take_up(work.routine, work.path, work.seen)
        if window.recovery.keep():
            remove(work.file)

    def watch_for_errors(self) -> None:
        """Hear of every error nobody foresaw, in the window's thread and in the others."""
        sys.excepthook = self.on_error
        threading.excepthook = lambda got: unforeseen(got.exc_value) if got.exc_value else None
        listen(self._fault.emit)

    def on_error(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """Tell of an error nobody foresaw, and go on: the routine is still in the window."""
        if issubclass(kind, KeyboardInterrupt):
            sys.exit(130)
        traceback.print_exception(kind, error, trace, file=sys.stderr)
        self._on_fault(error)

    def _on_fault(self, error: BaseException) -> None:
        """Keep the work of every window, write a report, and say so; never fail in turn."""
        for window in self.windows:
            for keep in (window.recovery.keep, window.menus.dialogs.keep):
                with contextlib.suppress(Exception):
                    keep()
        name = signature(error)
        if name not in self._reported:
            try:
                self._reported[name] = write_report(error, self._settings.report_folder)
            except Exception:
                self._reported[name] = None
        report = self._reported[name]
        todo = tr("Your routine is still here: save it under another name, then start anew.")
        if report is not None:
            where = tr(
                "A report without names or words of yours is in {path}; nothing was sent.",
                path=report,
            )
            todo = f"{todo} {where}"
        for window in self.windows:
            window.session.messages.fail(
                tr("Something in the program went wrong ({fault}).", fault=type(error).__name__),
                todo,
            )

    def _on_closed(self, window: DesignerWindow) -> None:
        if window in self.windows:
            self.windows.remove(window)
