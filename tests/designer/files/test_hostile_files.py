"""Files that are none, or full of faults, opened in the window: told, and the work goes on."""

import json
import os
import sqlite3
import sys
from datetime import date

import pytest
from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

from designer.setting_up.clipboard import KIND, paste_balls
from designer.window.faults import FaultsDialog
from engine.records import Practice, Records


def test_the_first_faults_are_listed_and_the_rest_counted(window, session, told, tmp_path):
    path = tmp_path / "many.json"
    shots = [{"id": ""}] * 4_000
    path.write_text(json.dumps({"format": "baizewright-routine", "version": 1, "shots": shots}))
    before = session.routine
    assert not window.files.open(path)
    assert session.routine == before
    assert "4000 faults found in it" in told[-1].what.replace(",", "")
    (dialog,) = [one for one in window.findChildren(FaultsDialog) if one.isVisible()]
    assert dialog.list.count() == 51 and dialog.list.item(50).text() == "and 3,950 more"


@pytest.mark.skipif(sys.platform == "win32", reason="pipes and devices as POSIX has them")
def test_a_pipe_or_a_device_is_refused_and_not_waited_for(window, session, told, tmp_path):
    os.mkfifo(tmp_path / "pipe.json")
    before = session.routine
    for path, words in ((tmp_path / "pipe.json", "a pipe"), ("/dev/zero", "a device")):
        assert not window.files.open(type(tmp_path)(path))
        assert words in told[-1].details[0]
    assert session.routine == before


def test_a_clipboard_of_other_bytes_holds_no_balls(session, told):
    data = QMimeData()
    data.setData(KIND, b"\xff\xfe{")
    QGuiApplication.clipboard().setMimeData(data)
    assert paste_balls(session) == ()
    assert "no balls on the clipboard" in told[-1].what


def test_a_player_whose_lines_are_damaged_is_told_and_the_others_are_shown(
    qtbot, settings, tmp_path
):
    from designer.practice.records_window import RecordsWindow

    file = tmp_path / "practice.sqlite"
    with Records(file) as records:
        for player in ("AB", "QZ"):
            records.add(Practice(player, "Blue", date(2026, 3, 1), 5, 3))
    connection = sqlite3.connect(file)
    connection.execute("UPDATE practice SET day = 'soon' WHERE id = 2")
    connection.commit()
    connection.close()
    shown = RecordsWindow(settings, file)
    qtbot.addWidget(shown)
    assert shown.shown_player == "AB" and shown.lines.topLevelItemCount() == 1
    shown.player.setCurrentIndex(1)
    assert shown.lines.topLevelItemCount() == 0
    assert "line 2 cannot be read, its day is 'soon'" in shown.note.text()
    shown.player.setCurrentIndex(0)
    assert shown.lines.topLevelItemCount() == 1
