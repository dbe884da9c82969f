"""Unsaved work survives a crash, apart from the coach's files, and is offered, not forced."""

import os
import subprocess
import sys
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from designer.window.application import Application
from designer.window.left_work import left_work
from engine.storage import load_routine, save_routine

LEFT = Qt.MouseButton.LeftButton

_CRASH = """
import os, sys
from pathlib import Path
from designer.window.start import application
from designer.window.application import Application
from designer.open_routine import Settings
application()
desk = Application(Settings(Path(sys.argv[1])), aside=False)
window = desk.open_window(Path(sys.argv[2]))
window.session.balls.nudge("red-1", 5.0, 0.0)
assert window.recovery.keep()
assert desk.offer_left_work() is None, "a running program's work is no left work"
sys.stdout.flush()
os._exit(9)
"""


@pytest.fixture
def crashed(settings, tmp_path, routine):
    """A program that ended without a word, with a nudged ball not saved."""
    file = tmp_path / "blue.json"
    save_routine(routine, file)
    done = subprocess.run(
        [sys.executable, "-c", _CRASH, str(tmp_path / "settings.ini"), str(file)],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"}, capture_output=True, text=True,
    )  # fmt: skip
    assert done.returncode == 9, done.stderr
    return file


@pytest.mark.slow
def test_work_after_a_crash_is_offered_and_opened_as_unsaved(qtbot, settings, crashed, routine):
    desk = Application(settings, aside=False)
    window = desk.open_window()
    dialog = desk.offer_left_work()
    assert window.session.routine.balls == (), "nothing is opened by itself"
    assert "Blue to the top" in dialog.list.item(0).text()
    qtbot.mouseClick(dialog.open_button, LEFT)
    document = window.session.document
    assert document.routine.ball("red-1").x_mm == 1185.0
    assert document.path == crashed and document.changed_since_save
    assert load_routine(crashed) == routine, "the coach’s own file is as it was saved"
    # It is kept again at once, by this program now.
    assert left_work(settings.recovery_folder) == () and window.recovery.file.exists()
    assert window.files.save()
    assert load_routine(crashed) == document.routine and document.routine.extra == {}
    assert not window.recovery.file.exists()
    window.close()


@pytest.mark.slow
def test_later_keeps_it_and_discard_lets_it_go(qtbot, settings, crashed):
    desk = Application(settings, aside=False)
    window = desk.open_window()
    desk.offer_left_work().reject()
    assert len(left_work(settings.recovery_folder)) == 1
    dialog = desk.offer_left_work()
    qtbot.mouseClick(dialog.discard_button, LEFT)
    assert left_work(settings.recovery_folder) == ()
    assert desk.offer_left_work() is None
    window.close()


def test_work_is_kept_when_the_edits_rest(qtbot, window, session, settings):
    session.balls.nudge("red-1", 3.0, 0.0)
    assert not window.recovery.file.exists()
    qtbot.waitUntil(window.recovery.file.exists)
    assert load_routine(window.recovery.file).ball("red-1").x_mm == 1183.0
    session.undo()
    assert not window.recovery.file.exists(), "nothing would be lost any more"


def test_no_recovery_file_stays_after_a_window_was_closed(window, session):
    session.balls.nudge("red-1", 3.0, 0.0)
    assert window.recovery.keep()
    window.files.asker.change_answer = "drop"
    file = window.recovery.file
    window.close()
    assert not file.exists() and not list(file.parent.glob("*"))


def test_a_folder_that_cannot_be_written_never_disturbs_the_work(window, session, told, tmp_path):
    window.recovery._folder = tmp_path / "settings.ini" / "no-folder"
    session.apply("title", lambda r: replace(r, title="Other"))
    (tmp_path / "settings.ini").write_text("")
    assert not window.recovery.keep()
    assert session.routine.title == "Other"


def test_a_spoilt_file_is_passed_over(settings):
    settings.recovery_folder.mkdir()
    (settings.recovery_folder / "1-a.json").write_text("{")
    assert left_work(settings.recovery_folder) == ()


@pytest.mark.slow
def test_enter_goes_on_with_the_work_and_never_lets_it_go(qtbot, settings, crashed):
    desk = Application(settings, aside=False)
    window = desk.open_window()
    dialog = desk.offer_left_work()
    qtbot.waitExposed(dialog)
    assert dialog.open_button.isDefault() and not dialog.discard_button.isDefault()
    qtbot.keyClick(dialog, Qt.Key.Key_Return)
    assert window.session.routine.ball("red-1").x_mm == 1185.0
    window.session.document.mark_saved()
    window.close()
