"""The shelf of one designer window: opens its windows, each once, and passes on what they want."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from designer.open_routine import OpenRoutine, Settings
from designer.texts import tr
from engine.errors import BaizewrightError

if TYPE_CHECKING:
    # They load the heavy parts of the engine, which the first painted window must not wait for.
    from designer.library.harder_dialog import HarderWindow
    from designer.library.library_window import LibraryWindow
    from designer.plans.plan_window import PlanWindow
    from designer.practice.records_window import RecordsWindow
    from designer.widgets.own_window import OwnWindow


class Shelf(QObject):
    """`open_wanted(path)` when a routine is to be opened in the designer window."""

    open_wanted = Signal(Path)

    def __init__(
        self, session: OpenRoutine, settings: Settings, parent: QObject | None = None
    ) -> None:
        super().__init__(parent)
        self._session, self._settings = session, settings
        self._open: dict[str, OwnWindow] = {}

    def library(self) -> LibraryWindow:
        """Show the library."""
        from designer.library.library_window import LibraryWindow

        def make() -> LibraryWindow:
            made = LibraryWindow(self._settings)
            made.open_wanted.connect(self.open_wanted)
            made.plan_wanted.connect(lambda path: self.plan().add(path))
            made.harder_wanted.connect(self._harder_of)
            made.alike_wanted.connect(self._alike)
            made.tags_wanted.connect(self._tag)
            return made

        found = self._show("library", make)
        assert isinstance(found, LibraryWindow)
        return found

    def plan(self) -> PlanWindow:
        """Show the session plan."""
        from designer.plans.plan_window import PlanWindow

        found = self._show("plan", lambda: PlanWindow(self._settings))
        assert isinstance(found, PlanWindow)
        return found

    def records(self) -> RecordsWindow | None:
        """Show the practice record; told why, when its file cannot be used."""
        from designer.practice.records_window import RecordsWindow

        try:
            found = self._show("records", lambda: RecordsWindow(self._settings))
        except BaizewrightError as error:
            self._session.messages.fail(
                tr("The practice record was not opened."), tr("It was left as it is."), error
            )
            return None
        assert isinstance(found, RecordsWindow)
        found.suggest(self._session.routine.title)
        return found

    def harder(self) -> HarderWindow:
        """Make the routine on the table harder or easier."""
        document = self._session.document
        return self._harder(document.routine, document.path)

    def keep(self) -> None:
        """Have every window keep apart what is not saved, now."""
        for window in self._open.values():
            window.keep()

    def close(self) -> bool:
        """Close every window; False when one of them has to stay."""
        return all(window.close() for window in list(self._open.values()))

    def _harder_of(self, path: Path) -> None:
        from engine.storage import load_routine

        try:
            self._harder(load_routine(path), path)
        except BaizewrightError as error:
            window = self._open.get("library")
            if window is not None:
                window.tell(str(error))

    def _harder(self, routine: object, path: Path | None) -> HarderWindow:
        from designer.library.harder_dialog import HarderWindow
        from engine.routine.values import Routine

        assert isinstance(routine, Routine)
        old = self._open.get("harder")
        if old is not None and not old.close():
            # What it found is not saved, and the coach wants to keep it.
            assert isinstance(old, HarderWindow)
            return old
        players = self._session.levels.players
        found = self._show("harder", lambda: HarderWindow(self._settings, routine, path, players))
        assert isinstance(found, HarderWindow)
        found.made.connect(lambda _: self._look_again())
        return found

    def _alike(self, library: object) -> None:
        from designer.library.alike_window import AlikeWindow
        from engine.library import Library

        if not isinstance(library, Library):
            return
        old = self._open.get("alike")
        if old is not None:
            old.close()

        def make() -> AlikeWindow:
            made = AlikeWindow(self._settings, library)
            made.open_wanted.connect(self.open_wanted)
            return made

        self._show("alike", make)

    def _tag(self, path: Path, tags: list[str]) -> None:
        """Tags of the routine on the table are a step of its document, those of others a save."""
        from engine.routine.edits import set_tags

        document = self._session.document
        if document.path is not None and document.path.resolve() == path.resolve():
            try:
                document.apply(tr("Tags"), lambda routine: set_tags(routine, tags))
            except BaizewrightError as error:
                self._open["library"].tell(str(error))
                return
            self._open["library"].tell(
                tr("This routine is open: its tags are kept when it is saved.")
            )
            return
        self.library().write_tags(path, [tag.strip() for tag in tags])

    def _look_again(self) -> None:
        from designer.library.library_window import LibraryWindow

        window = self._open.get("library")
        if isinstance(window, LibraryWindow):
            window.look()

    def _show(self, name: str, make: Callable[[], OwnWindow]) -> OwnWindow:
        if name not in self._open:
            made = make()
            self._open[name] = made
            made.closed.connect(lambda: self._forget(name, made))
        shown = self._open[name]
        shown.show()
        shown.raise_()
        shown.activateWindow()
        return shown

    def _forget(self, name: str, window: OwnWindow) -> None:
        if self._open.get(name) is window:
            del self._open[name]
