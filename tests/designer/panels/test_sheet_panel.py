"""Words for the sheet: typed, handed over, taken back."""

import pytest
from PySide6.QtCore import Qt


@pytest.fixture
def panel(window):
    window.show_panel("Sheet")
    return window.sheet


def test_typing_a_title_is_one_step(qtbot, panel, session, window):
    field = panel.lines["title"]
    assert field.text() == "Blue to the top"
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "Round the houses")
    assert session.routine.title == "Blue to the top"
    qtbot.keyClick(field, Qt.Key.Key_Tab)
    assert session.routine.title == "Round the houses"
    assert "Round the houses" in window.windowTitle()
    session.undo()
    qtbot.waitUntil(lambda: field.text() == "Blue to the top")


def test_escape_takes_typing_back(qtbot, panel, session):
    field = panel.lines["club"]
    field.setFocus()
    qtbot.keyClicks(field, "Mill")
    qtbot.keyClick(field, Qt.Key.Key_Escape)
    assert field.text() == ""
    qtbot.keyClick(field, Qt.Key.Key_Tab)
    assert session.routine.club == ""


def test_notes_level_and_the_words_of_the_shot(qtbot, panel, session):
    panel.notes.setFocus()
    qtbot.keyClicks(panel.notes, "Slowly")
    panel.words["question"].setFocus()
    assert session.routine.notes == "Slowly"
    qtbot.keyClicks(panel.words["question"], "Where to?")
    panel.level.setFocus()
    assert session.shot.question == "Where to?"
    panel.level.setCurrentIndex(3)
    panel.level.activated.emit(3)
    assert session.routine.level == 4


def test_another_table_shows_what_no_longer_fits(panel, session):
    panel.table.setCurrentIndex(panel.table.findData("snooker-6ft"))
    panel.table.activated.emit(panel.table.currentIndex())
    assert session.routine.table == "snooker-6ft"
    assert session.document.undo_name.startswith("Table: Snooker, 6 ft")
    assert {one.kind for one in session.answer.problems} == {"off-bed", "in-pocket"}
    session.undo()
    assert session.answer.problems == ()


def test_a_text_being_typed_is_not_overwritten(qtbot, panel, session):
    field = panel.lines["coach"]
    field.setFocus()
    qtbot.keyClicks(field, " and Tamsin Hale")
    session.sheet.set_text("coach", "Someone else")
    panel.catch_up_now()
    assert "Tamsin Hale" in field.text()
