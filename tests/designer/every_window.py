"""Every window and dialog of the program, opened one after another as a coach would."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime

from PySide6.QtWidgets import QDialog, QMainWindow, QTabWidget, QWidget

import designer
from designer.files.library_settings import LibrarySettings
from designer.window.names import PANELS
from engine.routine.values import ClothMark
from engine.storage import save_routine
from tests.engine.library.generated_routines import write_library

#: Bases that are never shown themselves.
_BASES = {"MainFrame", "SideWindow", "RoutineWindow", "WorkingWindow", "OwnWindow"}


def kinds_of_window() -> set[str]:
    """The names of all classes of the designer that are windows of their own."""
    for module in pkgutil.walk_packages(designer.__path__, "designer."):
        if not module.name.endswith("__main__"):
            importlib.import_module(module.name)
    from designer.lesson.coach_window import CoachWindow
    from designer.lesson.lesson import Lesson

    waiting: list[type] = [QDialog, QMainWindow, Lesson, CoachWindow]
    found: set[str] = set()
    while waiting:
        kind = waiting.pop()
        waiting += kind.__subclasses__()
        if kind.__module__.startswith("designer"):
            found.add(kind.__name__)
    return found - _BASES


def every_window(window, settings, tmp_path) -> Iterator[QWidget]:
    """Show every window of the program, with something in it to be changed; each is closed after.

    A window with tabs comes once for each of them. At the end all kinds of window have come.
    """
    seen = set()
    for shown in _opened(window, settings, tmp_path):
        seen.add(type(shown).__name__)
        yield shown
    missing = kinds_of_window() - seen
    assert not missing, f"add these to every_window: {missing}"


def _opened(window, settings, tmp_path) -> Iterator[QWidget]:
    from designer.exporting.film import FilmProgress
    from designer.exporting.handout_dialog import HandoutDialog
    from designer.library.alike_window import AlikeWindow
    from designer.open_routine import Message
    from designer.window.faults import FaultsDialog
    from designer.window.guide_window import GuideWindow
    from designer.window.help import show_about, show_keys
    from designer.window.left_work import LeftWork, LeftWorkDialog

    session = window.session
    folder = tmp_path / "routines"
    write_library(folder, 4)
    LibrarySettings(settings).keep_folders([folder])
    window.show_panel("Balls")
    session.apply("mark", lambda r: replace(r, cloth_marks=(ClothMark("m", "cross", 900, 900),)))
    session.player.open()
    for panel in PANELS:
        window.show_panel(panel)
        window.tabs.currentWidget().widget().catch_up_now()
        for ball, selected in (("red-1", ""), ("", "m")):
            session.point_at_ball(ball)
            if selected:
                session.point_at_mark(selected)
            window.tabs.currentWidget().widget().catch_up_now()
            yield window
    session.player.close()
    asides = window.menus.dialogs
    for show in (
        asides.reach, asides.report, asides.advice, asides.levels, asides.table, asides.photo,
    ):  # fmt: skip
        yield from _each_tab(show())
    saved = folder / "of-the-window.json"
    save_routine(session.routine, saved)
    library = asides.library()
    yield from _each_tab(library, close=False)
    left = LeftWork(saved, session.routine, None, datetime(2026, 2, 3, 4, 5))
    yield from _each_tab(AlikeWindow(settings, library.library))
    library.close()
    plan = asides.plan()
    plan.add(saved)
    plan.unsaved = False
    yield from _each_tab(plan)
    yield from _each_tab(asides.records())
    yield from _each_tab(asides.harder())
    for dialog in (
        show_keys(window), show_about(window),
        HandoutDialog(session, lambda: None, list, window),
        FaultsDialog(Message("one", "two", ("three",)), window),
        LeftWorkDialog((left,), lambda work: None, window),
        GuideWindow(window), FilmProgress(window),
    ):  # fmt: skip
        yield from _each_tab(dialog)
    lesson = window.begin_lesson()
    yield lesson
    # Shown where there is a second screen.
    lesson.coach.show_screens()
    lesson.coach.show()
    yield lesson.coach
    lesson.close()


def _each_tab(shown: QWidget, *, close: bool = True) -> Iterator[QWidget]:
    shown.show()
    tabs = shown.findChildren(QTabWidget)
    for index in range(max((each.count() for each in tabs), default=1)):
        for each in tabs:
            each.setCurrentIndex(min(index, each.count() - 1))
        if hasattr(shown, "catch_up"):
            shown.catch_up()
        yield shown
    if close:
        shown.close()
