"""Opens the windows beside the table, each once; the work goes on behind them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from designer.app.actions import Entry, fill_menu
from designer.texts import tr

if TYPE_CHECKING:
    # They load the heavy parts of the engine, which the first painted window must not wait for.
    from designer.app.window import DesignerWindow
    from designer.dialogs import AdviceDialog, PhotoDialog, ReportDialog, TableDialog
    from designer.dialogs.aside import AsideDialog
    from designer.dialogs.players import PlayersDialog


class Asides:
    """Knows which of a window's dialogs are open."""

    def __init__(self, window: DesignerWindow) -> None:
        self._window = window
        self._open: dict[str, AsideDialog] = {}

    def fill(self, menu: QMenu) -> None:
        """The entries of the menu."""
        fill_menu(
            menu,
            self._window,
            [
                Entry(
                    tr("Report…"), self.report, "Ctrl+Shift+G", tr("Verdicts, chances, tolerances")
                ),
                Entry(
                    tr("Advice on a gap…"),
                    self.advice,
                    "Ctrl+Shift+A",
                    tr("What to move, and where"),
                ),
                None,
                Entry(
                    tr("Player levels…"),
                    self.levels,
                    "Ctrl+Shift+J",
                    tr("How far players’ strikes stray"),
                ),
                Entry(
                    tr("Table and conditions…"),
                    self.table,
                    "Ctrl+Shift+B",
                    tr("What lanes rest on"),
                ),
                Entry(
                    tr("Photograph of the table…"),
                    self.photo,
                    "Ctrl+Shift+P",
                    tr("Read a set-up off a photograph, draw lanes onto it"),
                ),
            ],
        )

    def report(self) -> ReportDialog:
        """Show the report."""
        from designer.dialogs import ReportDialog

        made = self._show("report", lambda: ReportDialog(self._window.session, self._window))
        assert isinstance(made, ReportDialog)
        return made

    def advice(self) -> AdviceDialog:
        """Ask for advice on the gap whose reach map was last looked at."""
        from designer.dialogs import AdviceDialog

        window = self._window
        made = self._show("advice", lambda: AdviceDialog(window.session, window))
        assert isinstance(made, AdviceDialog)
        gap = str(window.reach.gap.currentData() or "")
        made.look_at(gap, window.session.shown_shot)
        return made

    def table(self) -> TableDialog:
        """Show the table and the conditions."""
        from designer.dialogs import TableDialog

        made = self._show("table", lambda: TableDialog(self._window.session, self._window))
        assert isinstance(made, TableDialog)
        return made

    def photo(self) -> PhotoDialog:
        """Show a photograph beside its plan."""
        from designer.dialogs import PhotoDialog

        made = self._show("photo", lambda: PhotoDialog(self._window.session, self._window))
        assert isinstance(made, PhotoDialog)
        return made

    def levels(self) -> PlayersDialog:
        """Show the player levels."""
        from designer.dialogs.players import PlayersDialog

        made = self._show("levels", lambda: PlayersDialog(self._window.session, self._window))
        assert isinstance(made, PlayersDialog)
        return made

    def may_leave(self) -> bool:
        """Whether the dialogs may go with their window; each that holds unsaved work asks."""
        return all(dialog.may_leave() for dialog in list(self._open.values()))

    def _show(self, name: str, make: Callable[[], AsideDialog]) -> AsideDialog:
        if name not in self._open:
            made = make()
            self._open[name] = made
            made.finished.connect(lambda _code: self._open.pop(name, None))
        shown = self._open[name]
        shown.show()
        shown.raise_()
        shown.activateWindow()
        return shown
