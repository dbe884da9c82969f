"""Opens the windows beside the table, each once; the work goes on behind them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtWidgets import QMenu

from designer.texts import tr
from designer.window.actions import Entry, fill_menu
from engine.errors import BaizewrightError

if TYPE_CHECKING:
    # They load the heavy parts of the engine, which the first painted window must not wait for.
    from designer.answers.advice import AdviceDialog
    from designer.answers.reach import ReachWindow
    from designer.answers.report import ReportDialog
    from designer.library.harder_dialog import HarderWindow
    from designer.library.library_window import LibraryWindow
    from designer.photo.photo_window import PhotoDialog
    from designer.plans.plan_window import PlanWindow
    from designer.practice.players import PlayersDialog
    from designer.practice.records_window import RecordsWindow
    from designer.tables.table_window import TableDialog
    from designer.widgets.side_window import SideWindow
    from designer.window.frame import MainFrame
    from engine.library import Library
    from engine.routine.values import Routine

    Kind = TypeVar("Kind", bound=SideWindow)


class OpenDialogs:
    """Knows which of a window's side windows are open, and passes on what they want."""

    def __init__(self, window: MainFrame) -> None:
        self._window, self._session = window, window.session
        self._open: dict[type[SideWindow], SideWindow] = {}
        self._last_plan: Path | None = None

    def fill(self, menu: QMenu) -> None:
        """The entries of the menu on the routine."""
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

    def fill_lessons(self, menu: QMenu) -> None:
        """The entries of the menu on what goes beyond one routine."""
        fill_menu(
            menu,
            self._window,
            [
                Entry(tr("Library…"), self.library, "F3", tr("Folders of routines, searched")),
                Entry(
                    tr("Lesson plan…"),
                    self.plan,
                    "Ctrl+Shift+D",
                    tr("Routines in order, minutes, the booklet"),
                ),
                Entry(
                    tr("Add this routine to the plan"),
                    self._add_this,
                    tip=tr("The routine has to be saved first"),
                ),
                None,
                Entry(
                    tr("Make harder or easier…"),
                    self.harder,
                    "Ctrl+Shift+H",
                    tr("Steps of another success chance"),
                ),
                None,
                Entry(
                    tr("Practice record…"),
                    self.records,
                    "Ctrl+Shift+R",
                    tr("Attempts and made, charts, reports"),
                ),
            ],
        )

    # Of the routine --------------------------------------------------------------------------

    def report(self) -> ReportDialog:
        """Show the report."""
        from designer.answers.report import ReportDialog

        return self._show(ReportDialog, lambda: ReportDialog(self._session, self._window))

    def reach(self, gap: str = "") -> ReachWindow:
        """Show the reach map of a gap, or of the one last looked at."""
        from designer.answers.reach import ReachWindow

        def make() -> ReachWindow:
            made = ReachWindow(self._session, self._window)
            made.panel.levels_wanted.connect(self.levels)
            return made

        made = self._show(ReachWindow, make)
        if gap:
            made.panel.choose_gap(gap)
        return made

    def advice(self) -> AdviceDialog:
        """Ask for advice on the gap whose reach map was last looked at."""
        from designer.answers.advice import AdviceDialog
        from designer.answers.reach import ReachWindow

        made = self._show(AdviceDialog, lambda: AdviceDialog(self._session, self._window))
        seen = self.opened(ReachWindow)
        gap = str(seen.panel.gap.currentData() or "") if seen is not None else ""
        made.look_at(gap, self._session.shown_shot)
        return made

    def table(self) -> TableDialog:
        """Show the table and the conditions."""
        from designer.tables.table_window import TableDialog

        return self._show(TableDialog, lambda: TableDialog(self._session, self._window))

    def photo(self) -> PhotoDialog:
        """Show a photograph beside its plan."""
        from designer.photo.photo_window import PhotoDialog

        return self._show(PhotoDialog, lambda: PhotoDialog(self._session, self._window))

    def levels(self) -> PlayersDialog:
        """Show the player levels."""
        from designer.practice.players import PlayersDialog

        return self._show(PlayersDialog, lambda: PlayersDialog(self._session, self._window))

    # Of lessons ------------------------------------------------------------------------------

    def library(self) -> LibraryWindow:
        """Show the library."""
        from designer.library.library_window import LibraryWindow

        def make() -> LibraryWindow:
            made = LibraryWindow(self._window.settings)
            made.open_wanted.connect(self._open_routine)
            made.plan_wanted.connect(self.add_to_plan)
            made.harder_wanted.connect(self._harder_of)
            made.alike_wanted.connect(self.alike)
            made.tags_wanted.connect(self.tag)
            return made

        return self._show(LibraryWindow, make)

    def alike(self, library: Library | None) -> None:
        """Compare the routines of a library anew."""
        from designer.library.alike_window import AlikeWindow

        old = self.opened(AlikeWindow)
        if library is None or (old is not None and not old.close()):
            return
        made = self._show(AlikeWindow, lambda: AlikeWindow(self._window.settings, library))
        made.open_wanted.connect(self._open_routine)

    def plan(self) -> PlanWindow:
        """Show the lesson plan."""
        from designer.plans.plan_window import PlanWindow

        def make() -> PlanWindow:
            made = PlanWindow(self._window.settings)
            made.finished.connect(lambda _code: self._remember(made.path))
            return made

        return self._show(PlanWindow, make)

    def add_to_plan(self, path: Path) -> None:
        """Add a routine's file to the plan on show, else to the one that was last closed."""
        from designer.plans.plan_window import PlanWindow

        last = self._last_plan if self.opened(PlanWindow) is None else None
        plan = self.plan()
        if last is None or plan.open_file(last):
            plan.add(path)

    def records(self) -> RecordsWindow | None:
        """Show the practice record; told why, when its file cannot be used."""
        from designer.practice.records_window import RecordsWindow

        try:
            found = self._show(RecordsWindow, lambda: RecordsWindow(self._window.settings))
        except BaizewrightError as error:
            self._session.messages.fail(
                tr("The practice record was not opened."), tr("It was left as it is."), error
            )
            return None
        found.suggest(self._session.routine.title)
        return found

    def harder(self) -> HarderWindow:
        """Make the routine on the table harder or easier."""
        document = self._session.document
        return self._harder(document.routine, document.path)

    def tag(self, path: Path, tags: list[str]) -> None:
        """Tags of the routine on the table are a step of its document, those of others a save."""
        from engine.routine.edits import set_tags

        document, library = self._session.document, self.library()
        if document.path is None or document.path.resolve() != path.resolve():
            library.write_tags(path, [tag.strip() for tag in tags])
            return
        try:
            document.apply(tr("Tags"), lambda routine: set_tags(routine, tags))
        except BaizewrightError as error:
            library.tell(str(error))
        else:
            library.tell(tr("This routine is open: its tags are kept when it is saved."))

    # All of them -----------------------------------------------------------------------------

    def opened(self, kind: type[Kind]) -> Kind | None:
        """The window of that kind, None while it is not open."""
        found = self._open.get(kind)
        return found if isinstance(found, kind) else None

    def keep(self) -> None:
        """Have every window keep apart what is not saved, now."""
        for window in self._open.values():
            window.keep()

    def may_leave(self) -> bool:
        """Whether all may go with their main window; each that holds unsaved work asks."""
        return all(window.may_leave() for window in list(self._open.values()))

    def close(self) -> None:
        """Close every window; each was asked before."""
        for window in list(self._open.values()):
            window.let_go()

    def _show(self, kind: type[Kind], make: Callable[[], Kind]) -> Kind:
        shown = self.opened(kind)
        if shown is None:
            shown = self._open[kind] = make()
            shown.over = self._window
            shown.finished.connect(lambda _code: self._open.pop(kind, None))
        shown.show()
        shown.raise_()
        shown.activateWindow()
        return shown

    # What they want --------------------------------------------------------------------------

    def _open_routine(self, path: Path) -> None:
        if self._window.files.open(path):
            self._window.raise_()
            self._window.activateWindow()

    def _add_this(self) -> None:
        document, files = self._session.document, self._window.files
        if (document.path is None or document.changed_since_save) and not files.save():
            return
        if document.path is not None:
            self.add_to_plan(document.path)

    def _remember(self, plan: Path | None) -> None:
        self._last_plan = plan or self._last_plan

    def _harder_of(self, path: Path) -> None:
        from engine.storage import load_routine

        try:
            self._harder(load_routine(path), path)
        except BaizewrightError as error:
            self.library().tell(str(error))

    def _harder(self, routine: Routine, path: Path | None) -> HarderWindow:
        from designer.library.harder_dialog import HarderWindow

        old = self.opened(HarderWindow)
        if old is not None and not old.close():
            # What it found is not saved, and the coach wants to keep it.
            return old
        settings, players = self._window.settings, self._session.levels.players
        made = self._show(HarderWindow, lambda: HarderWindow(settings, routine, path, players))
        made.made.connect(self._look_again)
        return made

    def _look_again(self) -> None:
        from designer.library.library_window import LibraryWindow

        library = self.opened(LibraryWindow)
        if library is not None:
            library.look()
