"""Opens the windows beside the table, each once; the work goes on behind them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QMenu

from designer.texts import tr
from designer.window.actions import Entry, fill_menu

if TYPE_CHECKING:
    # They load the heavy parts of the engine, which the first painted window must not wait for.
    from designer.answers.advice import AdviceDialog
    from designer.answers.reach import ReachWindow
    from designer.answers.report import ReportDialog
    from designer.photo.photo_window import PhotoDialog
    from designer.practice.players import PlayersDialog
    from designer.tables.table_window import TableDialog
    from designer.widgets.side_window import SideWindow
    from designer.window.main_window import DesignerWindow


class OpenDialogs:
    """Knows which of a window's dialogs are open."""

    def __init__(self, window: DesignerWindow) -> None:
        self._window = window
        self._open: dict[str, SideWindow] = {}

    def fill(self, menu: QMenu) -> None:
        """The entries of the menu."""
        fill_menu(
            menu,
            self._window,
            [
                Entry(tr("Reach map…"), self.reach, "Ctrl+M", tr("Every tip and pace at a glance")),
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
        from designer.answers.report import ReportDialog

        made = self._show("report", lambda: ReportDialog(self._window.session, self._window))
        assert isinstance(made, ReportDialog)
        return made

    def reach(self, gap: str = "") -> ReachWindow:
        """Show the reach map of a gap, or of the one last looked at."""
        from designer.answers.reach import ReachWindow

        def make() -> ReachWindow:
            made = ReachWindow(self._window.session, self._window)
            made.panel.levels_wanted.connect(self.levels)
            return made

        made = self._show("reach", make)
        assert isinstance(made, ReachWindow)
        if gap:
            made.panel.choose_gap(gap)
        return made

    def advice(self) -> AdviceDialog:
        """Ask for advice on the gap whose reach map was last looked at."""
        from designer.answers.advice import AdviceDialog
        from designer.answers.reach import ReachWindow

        window = self._window
        made = self._show("advice", lambda: AdviceDialog(window.session, window))
        assert isinstance(made, AdviceDialog)
        seen = self._open.get("reach")
        gap = str(seen.panel.gap.currentData() or "") if isinstance(seen, ReachWindow) else ""
        made.look_at(gap, window.session.shown_shot)
        return made

    def table(self) -> TableDialog:
        """Show the table and the conditions."""
        from designer.tables.table_window import TableDialog

        made = self._show("table", lambda: TableDialog(self._window.session, self._window))
        assert isinstance(made, TableDialog)
        return made

    def photo(self) -> PhotoDialog:
        """Show a photograph beside its plan."""
        from designer.photo.photo_window import PhotoDialog

        made = self._show("photo", lambda: PhotoDialog(self._window.session, self._window))
        assert isinstance(made, PhotoDialog)
        return made

    def levels(self) -> PlayersDialog:
        """Show the player levels."""
        from designer.practice.players import PlayersDialog

        made = self._show("levels", lambda: PlayersDialog(self._window.session, self._window))
        assert isinstance(made, PlayersDialog)
        return made

    def may_leave(self) -> bool:
        """Whether the dialogs may go with their window; each that holds unsaved work asks."""
        return all(dialog.may_leave() for dialog in list(self._open.values()))

    def _show(self, name: str, make: Callable[[], SideWindow]) -> SideWindow:
        if name not in self._open:
            made = make()
            self._open[name] = made
            made.finished.connect(lambda _code: self._open.pop(name, None))
        shown = self._open[name]
        shown.show()
        shown.raise_()
        shown.activateWindow()
        return shown
