"""An error nobody foresaw: the work is kept, a report without personal data is written."""

import getpass
import platform
import subprocess
import sys
import threading
from dataclasses import replace
from pathlib import Path

import pytest

from designer.fault_report import MOST_REPORTS, report_text, signature, write_report
from designer.open_routine.task import Task
from designer.open_routine.unforeseen import listen, unforeseen
from designer.window.application import Application
from engine.storage import load_routine

SECRETS = ("Wren Ashgrove", "Millrace", "Blue to the top", "/home/wren", "secret-note")


def failing(depth=2):
    """An error with names and folders in its words, its values and its cause."""
    note = "secret-note of Wren Ashgrove"
    if depth:
        return failing(depth - 1)
    try:
        Path("/home/wren/Millrace/Blue to the top.json").read_text()
    except OSError as error:
        raise ValueError(f"{note}: {error}") from error


def caught():
    try:
        failing()
    except ValueError as error:
        return error


def test_the_report_tells_the_way_and_nothing_about_a_person():
    text = report_text(caught())
    assert "error: ValueError" in text and "after: FileNotFoundError" in text
    assert text.count("failing") >= 3 and "line " in text
    assert platform.python_version() in text and "numpy" in text
    for secret in (*SECRETS, getpass.getuser(), platform.node(), "/"):
        assert secret not in text.replace("tests/", ""), secret


def test_places_are_told_as_modules():
    from engine.errors import BaizewrightError
    from engine.storage import parse_routine

    try:
        parse_routine("secret-note")
    except BaizewrightError as error:
        text = report_text(error)
    assert "engine.storage.text, line" in text and "engine.errors.RoutineFileError" in text
    assert "secret-note" not in text
    code = "import json\ntry:\n json.loads('secret-note')\nexcept ValueError as e:\n error = e\n"
    where = {}
    exec(compile(code, "/home/wren/own script.py", "exec"), where)
    text = report_text(where["error"])
    assert "elsewhere, line 3" in text and "json.decoder, line" in text
    assert "wren" not in text and "own script" not in text


def test_a_circle_of_causes_ends():
    error = caught()
    error.__cause__.__context__ = error
    assert report_text(error).count("after:") == 1


def test_only_the_newest_reports_are_kept(tmp_path):
    for number in range(MOST_REPORTS + 5):
        (tmp_path / f"report-20200101-0000{number:02}-x.txt").write_text("old")
    newest = write_report(caught(), tmp_path)
    assert newest.exists() and len(list(tmp_path.glob("report-*"))) == MOST_REPORTS


@pytest.fixture
def desk(qtbot, settings):
    made = Application(settings, aside=False)
    yield made
    listen(None)
    for window in list(made.windows):
        window.session.document.mark_saved()
        window.close()


@pytest.mark.slow
def test_the_work_is_kept_and_the_report_is_named(desk, settings, routine, capsys):
    window = desk.open_window()
    window.session.apply("all", lambda _: replace(routine, notes="secret-note"))
    desk.on_error(ValueError, caught(), caught().__traceback__)
    assert load_routine(window.recovery.file).notes == "secret-note", "kept at once"
    (report,) = settings.report_folder.glob("*.txt")
    message = window.messages.message
    assert "ValueError" in message.what and str(report) in message.todo
    assert window.session.routine.notes == "secret-note"
    assert not any(secret in report.read_text() for secret in SECRETS)
    for _ in range(3):
        desk.on_error(ValueError, caught(), None)
    assert len(list(settings.report_folder.glob("*.txt"))) <= 2, "one for each kind of fault"
    assert signature(caught()) == signature(caught())
    capsys.readouterr()


def test_a_folder_that_cannot_be_written_stops_nothing(desk, settings, tmp_path, capsys):
    window = desk.open_window()
    settings.report_folder.write_text("a file where the folder should be")
    desk.on_error(ValueError, caught(), None)
    assert "still here" in window.messages.message.todo
    assert "report" not in window.messages.message.todo
    capsys.readouterr()


def test_errors_of_threads_and_of_long_work_take_the_same_way(
    qtbot, desk, settings, capsys, monkeypatch
):
    monkeypatch.setattr(sys, "excepthook", sys.excepthook)
    monkeypatch.setattr(threading, "excepthook", threading.excepthook)
    desk.watch_for_errors()
    window = desk.open_window()
    thread = threading.Thread(target=failing)
    thread.start()
    thread.join()
    qtbot.waitUntil(lambda: len(list(settings.report_folder.glob("*.txt"))) == 1)
    assert "ValueError" in window.messages.message.what
    task = Task(window)
    with qtbot.waitSignal(task.failed):
        task.start(lambda tell: 1 // 0)
    assert len(list(settings.report_folder.glob("*.txt"))) == 2
    assert "ZeroDivisionError" in window.messages.message.what
    task.close()
    capsys.readouterr()


def test_nobody_listening_is_no_fault(capsys):
    unforeseen(caught())
    assert "ValueError" in capsys.readouterr().err


@pytest.mark.slow
def test_an_error_in_a_slot_reaches_the_coach():
    """In a whole program of its own: Qt hands the error of a slot on."""
    code = (
        "import sys, tempfile\nfrom pathlib import Path\nfrom PySide6.QtCore import QTimer\n"
        "from designer.window.start import application\n"
        "from designer.window.application import Application\n"
        "from designer.open_routine import Settings\n"
        "app = application()\nfolder = Path(tempfile.mkdtemp())\n"
        "desk = Application(Settings(folder / 's.ini'), aside=False)\ndesk.watch_for_errors()\n"
        "window = desk.open_window()\nQTimer.singleShot(50, lambda: 1 // 0)\n"
        "QTimer.singleShot(400, app.quit)\napp.exec()\nprint(window.messages.message.what)\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True)
    assert "ZeroDivisionError" in done.stdout, done.stderr
