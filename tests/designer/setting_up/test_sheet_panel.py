"""Words for the sheet: typed, handed over, taken back."""

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt

from engine.balls import Ball


@pytest.fixture
def panel(window):
    window.show_panel("Words")
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


def choose_table(panel, table_id):
    panel.table.setCurrentIndex(panel.table.findData(table_id))
    panel.table.activated.emit(panel.table.currentIndex())


def test_another_table_takes_the_balls_along(panel, session, told):
    before = session.routine
    choose_table(panel, "snooker-6ft")
    assert session.routine.table == "snooker-6ft"
    assert session.answer.problems == (), "no ball is left off the bed or in a pocket"
    assert session.document.undo_name.startswith("Move to Snooker, 6 ft")
    assert "lies on another table: Snooker, 6 ft" in told[-1].what
    assert "every ball keeps" in told[-1].what and "Undo takes the move back" in told[-1].todo
    session.undo()
    assert session.routine == before and session.answer.problems == ()


def test_the_same_table_again_is_no_step(panel, session, told):
    choose_table(panel, session.routine.table)
    assert not session.document.undo_name and not told


def test_what_no_longer_fits_is_told(panel, session, told):
    """As many reds in a row as the full-size table has room for."""
    row = tuple(Ball(f"row-{i}", "red", 30.0 + 52.5 * i, 2300.0) for i in range(33))
    session.document.replace(replace(session.routine, balls=(*session.routine.balls, *row)))
    panel.catch_up_now()
    choose_table(panel, "snooker-6ft")
    assert told[-1].weight == "warning" and "no longer fit: see the tab To do" in told[-1].todo
    assert {one.kind for one in session.answer.problems} == {"overlap"}


def test_the_table_dialog_moves_to_the_same_places(qtbot, window, panel, session):
    """One job, one outcome: by the field here, and by the dialog as it stands."""
    choose_table(panel, "pool-9ft")
    by_field = session.routine
    session.undo()
    page = window.menus.dialogs.table().move_page
    page.choose_table("pool-9ft")
    page.work.begin.click()
    qtbot.waitUntil(lambda: page.checked is not None, timeout=60_000)
    page.apply.click()
    assert session.routine == by_field
    assert session.document.undo_name.startswith("Move to Pool, 9 ft")


def test_a_text_being_typed_is_not_overwritten(qtbot, panel, session):
    field = panel.lines["coach"]
    field.setFocus()
    qtbot.keyClicks(field, " and Tamsin Hale")
    session.sheet.set_text("coach", "Someone else")
    panel.catch_up_now()
    assert "Tamsin Hale" in field.text()
