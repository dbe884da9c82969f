"""Every side window fits a small screen, in the light and the dark and in longer languages, and
does all by keyboard."""

import os
import subprocess
import sys
from collections import Counter
from threading import Event

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QShortcut
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSlider,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QScrollBar,
    QTabBar,
    QTextBrowser,
    QWidget,
)

from designer.lesson.lesson import Lesson
from designer.window.main_window import DesignerWindow
from tests.designer.every_window import every_window
from tests.designer.windows_looked_at import screen_of
from tests.shares import share

CONTROLS = (
    QAbstractButton, QAbstractItemView, QAbstractSlider, QAbstractSpinBox, QComboBox, QLineEdit,
    QPlainTextEdit, QTabBar, QTextBrowser,
)  # fmt: skip
#: Tested by itself: it fills a screen and is led by keys alone.
OTHERS = (Lesson,)


@pytest.mark.parametrize(
    ("scale", "look", "longer"),
    share(
        [("1.5", "dark", "1"), ("1", "light", "1"), ("1.5", "dark", "0"), ("2", "light", "1")], 1
    ),
)
@pytest.mark.slow
def test_every_window_fits_the_smallest_screen_and_cuts_no_text(tmp_path, scale, look, longer):
    done = subprocess.run(
        [sys.executable, "-m", "tests.designer.windows_looked_at", "", scale, look, longer],
        env={**os.environ, **screen_of(float(scale), tmp_path)}, capture_output=True, text=True,
    )  # fmt: skip
    *faults, last = done.stdout.splitlines() or [""]
    assert done.returncode == 0 and last.endswith(" windows"), done.stderr
    assert int(last.split()[0]) > 20
    assert not faults, "\n".join(faults)


def own(window, kind):
    """The parts of a window itself, none of those of windows that lie above it."""
    return [one for one in window.findChildren(kind) if one.window() is window]


def controls_of(window):
    """What can be pressed, typed into or chosen from in a window, as it is shown now."""
    for control in own(window, QWidget):
        if not (isinstance(control, CONTROLS) and control.isVisible() and control.isEnabled()):
            continue
        inner = isinstance(control.parent(), QAbstractSpinBox | QComboBox | QLineEdit | QTabBar)
        if inner or isinstance(control, QScrollBar | QHeaderView):
            continue
        if not control.objectName().startswith("qt_"):
            yield control


@pytest.mark.slow
def test_every_control_is_reached_by_tab_and_shows_it(qtbot, window, settings, tmp_path):
    lost, unseen, seen = [], [], 0
    for shown in every_window(window, settings, tmp_path):
        if isinstance(shown, OTHERS):
            continue
        shown.activateWindow()
        qtbot.waitUntil(lambda shown=shown: QApplication.activeWindow() is shown)
        for control in controls_of(shown):
            name = (type(shown).__name__, type(control).__name__, control.accessibleName())
            seen += 1
            if not control.focusPolicy() & Qt.FocusPolicy.TabFocus:
                lost.append(name)
                continue
            control.clearFocus()
            before = control.grab().toImage()
            control.setFocus(Qt.FocusReason.TabFocusReason)
            # What Qt notes at a Tab that was pressed.
            shown.setAttribute(Qt.WidgetAttribute.WA_KeyboardFocusChange)
            if control.grab().toImage() == before:
                unseen.append(name)
    assert seen > 150
    assert not lost
    assert not set(unseen)


@pytest.mark.slow
def test_no_window_claims_a_key_or_a_letter_twice(window, settings, tmp_path):
    told = set()
    for shown in every_window(window, settings, tmp_path):
        keys = [key.toString() for one in own_actions(shown) for key in set(one.shortcuts())]
        keys += [one.key().toString() for one in own_shortcuts(shown)]
        keys += [one.shortcut().toString() for one in own(shown, QAbstractButton)]
        keys += [f"Alt+{letter}" for letter in letters_of(shown)]
        twice = {key for key, count in Counter(filter(None, keys)).items() if count > 1}
        told |= {(type(shown).__name__, key) for key in twice}
    assert not told


def own_actions(shown):
    return [one for one in shown.findChildren(QAction) if _window_of(one) is shown]


def own_shortcuts(shown):
    wide = (Qt.ShortcutContext.WindowShortcut, Qt.ShortcutContext.ApplicationShortcut)
    return [
        one
        for one in shown.findChildren(QShortcut)
        if _window_of(one) is shown and one.context() in wide and one.isEnabled()
    ]


def _window_of(one):
    while one is not None and not isinstance(one, QWidget):
        one = one.parent()
    return one.window() if one is not None else None


def letters_of(shown):
    """Letters that lead to a part of the window, of menus, labels and tabs."""
    texts = [one.text() for one in own(shown, QLabel) if one.buddy() and one.isVisible()]
    texts += [bar.tabText(n) for bar in own(shown, QTabBar) for n in range(bar.count())]
    if isinstance(shown, DesignerWindow):
        texts += [one.text() for one in shown.menuBar().actions()]
    for text in texts:
        at = text.replace("&&", "").find("&")
        if at >= 0:
            yield text.replace("&&", "")[at + 1].upper()


def test_a_window_opens_over_the_middle_of_its_own(qtbot, window):
    screen = window.screen().availableGeometry()
    window.resize(500, 400)
    window.move(screen.center() - window.rect().center())
    made = window.menus.dialogs.levels()
    qtbot.waitExposed(made)
    gap = made.geometry().center() - window.geometry().center()
    # The frame is reckoned with before its size is known.
    assert abs(gap.x()) < 40 and abs(gap.y()) < 40
    assert screen.contains(made.geometry())


def test_adding_to_a_plan_that_was_closed_goes_on_with_it(window, tmp_path):
    from engine.storage import save_routine

    asides = window.menus.dialogs
    files = [tmp_path / "one.json", tmp_path / "two.json", tmp_path / "three.json"]
    for file in files:
        save_routine(window.session.routine, file)
    plan = asides.plan()
    assert plan.add(*files[:2])
    assert "two.json" in plan.lesson.plan.items[1].file
    plan.asker.file_to_write = lambda *_: tmp_path / "plan.json"
    assert plan.save() and plan.close()
    asides.add_to_plan(files[2])
    again = asides.plan()
    assert again is not plan and again.path == tmp_path / "plan.json"
    assert [len(item.file) > 0 for item in again.lesson.plan.items] == [True] * 3
    again.unsaved = False


def test_a_bar_is_seen_only_while_at_work_and_nothing_moves(qtbot, window):
    waiting = Event()
    report = window.menus.dialogs.report()
    report.parts.setCurrentIndex(1)
    bar, places = report.work, lambda: [one.geometry() for one in (report.work, report.balls)]
    before = places()
    assert not bar.bar.isVisible() and not bar.cancel.isVisible()
    bar.task.finished.disconnect(report._on_found)
    bar.start(lambda progress: [progress(0.5), waiting.wait()])
    assert bar.bar.isVisible() and bar.cancel.isVisible() and places() == before
    waiting.set()
    qtbot.waitUntil(lambda: not bar.task.running)
    assert not bar.bar.isVisible() and places() == before


@pytest.mark.parametrize("slash", ["/", "\\"])
def test_a_long_path_makes_no_window_wider_than_the_screen(qtbot, window, slash):
    made = window.menus.dialogs.plan()
    told = f"Saved as C:{slash}{slash.join(['a folder of routines'.replace(' ', '-')] * 12)}.json."
    made.tell(told)
    assert made.note.text() == told
    assert made.minimumSizeHint().width() < 900
