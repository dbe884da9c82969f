"""What was measured on the coach's own table, typed in the window."""

import contextlib
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from engine.routine.values import Routine
from engine.storage import load_measured_table, load_routine, save_measured_table
from engine.tables import MeasuredTable, load_table

LEFT = Qt.MouseButton.LeftButton
DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"


@pytest.fixture
def shown(window, session):
    session.document.replace(load_routine(next(DEMO.glob("05-*.json"))))
    dialog = window.menus.dialogs.table()
    dialog.parts.setCurrentWidget(dialog.measured)
    dialog.catch_up()
    yield dialog.measured
    with contextlib.suppress(RuntimeError):
        dialog.close()


def type_into(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClick(field, Qt.Key.Key_Delete)
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def test_a_measured_width_within_and_outside_the_tolerance(qtbot, shown, session):
    row = shown.rows["width_mm"]
    assert row.field.text() == "" and row.rule.text() == "1778 mm"
    assert row.tolerance.text() == "± 13 mm"
    type_into(qtbot, row.field, "1780")
    assert session.table.width_mm == 1780.0
    assert "within" in row.kept.text()
    assert session.document.undo_name == "Measured: Width between the cushion faces"
    type_into(qtbot, row.field, "1795")
    assert "outside" in row.kept.text() and "by 4 mm" in row.kept.text()
    type_into(qtbot, row.field, "")
    assert session.routine.measured_table is None and session.table.width_mm == 1778.0


@pytest.mark.slow
def test_inches_may_be_typed(qtbot, shown, session):
    type_into(qtbot, shown.rows["baulk_y_mm"].field, '29 1/4"')
    assert session.table.baulk_y_mm == pytest.approx(29.25 * 25.4)


def test_a_spot_and_a_pocket(qtbot, shown, session):
    type_into(qtbot, shown.rows["blue_spot_y_mm"].field, "1787")
    spot, rule = session.table.spot("blue"), load_table("snooker-12ft").spot("blue")
    assert (spot.x_mm, spot.y_mm) == (rule.x_mm, 1787.0)
    type_into(qtbot, shown.rows["top-left_opening_mm"].field, "90")
    assert session.routine.measured_table.pocket_openings_mm == {"top-left": 90.0}
    assert len(session.routine.measured_table.spots_mm) == 1


@pytest.mark.parametrize("typed", ["wide", "99999", "-4"])
def test_what_no_tape_can_read_changes_nothing(qtbot, shown, session, told, typed):
    before = session.routine
    type_into(qtbot, shown.rows["width_mm"].field, typed)
    assert session.routine is before
    assert shown.rows["width_mm"].field.text() == ""
    assert told[-1].weight != "note" and told[-1].what


def test_into_a_file_and_out_of_it(qtbot, shown, session, tmp_path):
    assert not shown.save.isEnabled() and not shown.title.isEnabled()
    type_into(qtbot, shown.rows["length_mm"].field, "3560")
    shown.refresh()
    type_into(qtbot, shown.title, "Table 2")
    assert session.routine.measured_table.title == "Table 2"
    kept = tmp_path / "table-2.json"
    shown.ask_target = lambda: kept
    qtbot.mouseClick(shown.save, LEFT)
    assert load_measured_table(kept) == ("snooker-12ft", session.routine.measured_table)
    qtbot.mouseClick(shown.forget, LEFT)
    assert session.routine.measured_table is None
    shown.ask_file = lambda: kept
    qtbot.mouseClick(shown.load, LEFT)
    assert session.table.length_mm == 3560.0
    session.undo()
    assert session.routine.measured_table is None


def test_a_file_of_another_kind_of_table_is_not_taken(qtbot, shown, session, tmp_path, told):
    other = tmp_path / "pool.json"
    save_measured_table("pool-9ft", MeasuredTable("pool", {"width_mm": 1272.0}), other)
    before = session.routine
    shown.ask_file = lambda: other
    qtbot.mouseClick(shown.load, LEFT)
    assert session.routine is before and "another kind of table" in told[-1].what


def test_rows_follow_the_table(shown, session):
    session.document.replace(Routine(table="carom"))
    shown.refresh()
    assert "baulk_y_mm" not in shown.rows and "width_mm" in shown.rows
    assert not any(name.endswith("-left_opening_mm") for name in shown.rows)


def test_another_kind_of_file_is_asked_about(qtbot, shown, session, tmp_path, monkeypatch):
    type_into(qtbot, shown.rows["length_mm"].field, "3560")
    shown.refresh()
    other, answers = tmp_path / "shopping.json", [False, True]
    other.write_text("milk, eggs")
    monkeypatch.setattr("designer.files.asking.agrees_to_replace", lambda *_: answers.pop(0))
    shown.ask_target = lambda: other
    qtbot.mouseClick(shown.save, LEFT)
    assert other.read_text() == "milk, eggs"
    qtbot.mouseClick(shown.save, LEFT)
    assert load_measured_table(other) == ("snooker-12ft", session.routine.measured_table)
    assert answers == []
