"""An empty table tells what to do first, offers examples, and keeps out of the way after."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from designer.window.menus import EXAMPLES
from designer.window.welcome import EXAMPLES_SHOWN, PLACE
from engine.balls import Ball
from engine.routine.values import Routine
from engine.storage import load_routine, save_routine

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def welcome(qtbot, window, session):
    session.document.replace(Routine())
    qtbot.waitUntil(lambda: len(window.welcome.tiles) == EXAMPLES_SHOWN)
    QApplication.processEvents()
    return window.welcome


def test_steps_go_away_one_by_one(welcome, session):
    assert len(welcome.steps_left()) == 3
    session.balls.add("cue")
    session.balls.add("blue")
    assert PLACE not in welcome.steps_left() and len(welcome.steps_left()) == 2
    session.shots.set_object_ball("blue")
    assert len(welcome.steps_left()) == 2, "a pocket belongs to it"
    session.shots.set_pocket("top-left")
    session.gaps.add_beside_cushion("blue", "left")
    assert not welcome.isVisible()
    session.undo()
    assert welcome.isVisible() and len(welcome.steps_left()) == 1


def test_an_example_is_opened_by_its_picture(qtbot, window, session, welcome):
    window.files.asker.change_answer = "drop"
    first = sorted(EXAMPLES.glob("*.json"))[0]
    button = welcome.tiles[0]
    assert button.accessibleName() == load_routine(first).title and not button.icon().isNull()
    qtbot.mouseClick(button, LEFT)
    assert session.document.path == first and not welcome.isVisible()


def test_a_routine_of_a_file_is_not_told_how_to_begin(window, session, welcome, tmp_path):
    window.files.asker.change_answer = "drop"
    file = tmp_path / "begun.json"
    save_routine(Routine(title="Begun", balls=(Ball("cue", "cue", 600.0, 600.0),)), file)
    assert window.files.open(file)
    assert not welcome.isVisible()


def test_once_there_is_a_ball_the_pointer_goes_through_to_the_table(welcome, session):
    transparent = Qt.WidgetAttribute.WA_TransparentForMouseEvents
    assert not welcome.testAttribute(transparent) and all(t.isVisible() for t in welcome.tiles)
    session.balls.add("cue")
    assert welcome.testAttribute(transparent) and not any(t.isVisible() for t in welcome.tiles)


@pytest.mark.parametrize("size", [(1366, 768), (1000, 560)])
def test_the_card_lies_within_the_canvas(qtbot, window, welcome, session, size):
    window.resize(*size)
    QApplication.processEvents()
    for add in (None, "cue"):
        if add:
            session.balls.add(add)
        QApplication.processEvents()
        assert window.canvas.rect().contains(welcome.geometry())


def test_recent_routines_and_examples_go_by_title_with_a_picture(window, tmp_path):
    file = tmp_path / "no-title-in-its-name.json"
    save_routine(Routine(title="Round the cup", balls=(Ball("cue", "cue", 600.0, 600.0),)), file)
    (tmp_path / "broken.json").write_text("{")
    window.settings.note_recent(tmp_path / "broken.json")
    window.settings.note_recent(file)
    window.recent.aboutToShow.emit()
    entries = window.recent.actions()
    assert [one.text() for one in entries[:2]] == ["Round the cup", "broken"]
    assert not entries[0].icon().isNull() and entries[1].icon().isNull()
    assert entries[0].toolTip() == str(file)
