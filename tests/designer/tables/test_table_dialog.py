"""Table and conditions beside the table: read, type, presets, calibration, paces, moving."""

import contextlib
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from designer.words.tables import value_name
from engine.conditions import CONDITION_FACTS, usual_conditions
from engine.errors import OutOfRangeError
from engine.moving import Target, move, report
from engine.shot.lengths import lengths_of_scale
from engine.storage import OwnConditions, load_routine, save_conditions, save_measured_table
from engine.tables import MeasuredTable, load_table, table_ids

LEFT = Qt.MouseButton.LeftButton
DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"


@pytest.fixture
def dialog(qtbot, window, session):
    session.document.replace(load_routine(next(DEMO.glob("05-*.json"))))
    dialog = window.menus.dialogs.table()
    yield dialog
    # the test may have closed it
    with contextlib.suppress(RuntimeError):
        dialog.close()


def page(dialog, name):
    dialog.parts.setCurrentWidget(getattr(dialog, name))
    dialog.catch_up()
    return dialog.parts.currentWidget()


def type_into(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def choose(box, key):
    index = box.findData(key)
    assert index >= 0, key
    box.setCurrentIndex(index)


@pytest.mark.slow
def test_every_value_of_every_table_is_shown_with_confidence_and_source(dialog):
    shown = page(dialog, "table")
    for name in table_ids():
        choose(shown.table, name)
        table = load_table(name)
        assert table.rule in shown.rule.text()
        rows = {
            shown.values.topLevelItem(i).text(0): shown.values.topLevelItem(i)
            for i in range(shown.values.topLevelItemCount())
        }
        assert rows[value_name("width_mm")].text(1) == f"{table.width_mm:g} mm"
        assert all(row.text(3) for row in rows.values())
    choose(shown.table, "snooker-12ft")
    row = next(
        shown.values.topLevelItem(i)
        for i in range(shown.values.topLevelItemCount())
        if shown.values.topLevelItem(i).text(0) == value_name("corner_opening_mm")
    )
    shown.values.setCurrentItem(row)
    assert "memory" in row.text(3) and "not public" in shown.source.text()


def test_a_typed_condition_is_one_step_and_can_be_taken_back(qtbot, dialog, session):
    shown = page(dialog, "conditions")
    shown.figures.setChecked(True)
    row = shown.rows["rolling_resistance"]
    before = session.routine
    assert not row.back.isEnabled() and row.likely.text() == "0.008 to 0.016"
    type_into(qtbot, row.field, "0,02")
    assert session.conditions.rolling_resistance == 0.02
    assert session.document.undo_name == "Condition: rolling resistance"
    dialog.catch_up()
    assert "outside" in row.likely.text() and "stated" in row.source.text()
    qtbot.mouseClick(row.back, LEFT)
    assert session.routine.conditions == before.conditions
    dialog.catch_up()
    assert row.field.text() == "0.0127" and "outside" not in row.likely.text()


@pytest.mark.parametrize(("typed", "told"), [("soft", "no number"), ("7", "0.001 to 0.1")])
def test_what_cannot_be_a_condition_changes_nothing(qtbot, dialog, session, typed, told):
    shown = page(dialog, "conditions")
    shown.figures.setChecked(True)
    before = session.routine
    type_into(qtbot, shown.rows["rolling_resistance"].field, typed)
    assert session.routine is before
    assert told in dialog.note.text()
    assert shown.rows["rolling_resistance"].field.text() == "0.0127"


def test_every_condition_has_its_row_with_source(dialog):
    shown = page(dialog, "conditions")
    assert set(shown.rows) == set(CONDITION_FACTS)
    assert all(row.source.text() for row in shown.rows.values())


def pick(choice, key):
    """Choose as a hand does."""
    choice.setCurrentIndex(choice.findData(key))
    choice.activated.emit(choice.currentIndex())


def test_a_coachs_words_and_back_to_the_tables_own(qtbot, dialog, session):
    shown = page(dialog, "conditions")
    assert {what: choice.currentData() for what, choice in shown.words.items()} == {
        "cloth": "usual", "cushions": "usual", "balls": "usual",
    }  # fmt: skip
    pick(shown.words["cloth"], "old club cloth")
    pick(shown.words["cushions"], "dead")
    usual = usual_conditions(session.table)
    assert session.conditions.rolling_resistance == pytest.approx(0.016)
    assert session.conditions.cushion_restitution < 0.9 < usual.cushion_restitution
    assert session.document.undo_name == "Cushions: dead"
    dialog.catch_up()
    assert shown.words["cloth"].currentData() == "old club cloth"
    shown.rows["sliding_friction"].field.committed.emit("0.2")
    dialog.catch_up()
    assert shown.words["cloth"].currentData() == "", "figures of one's own have no word"
    qtbot.mouseClick(shown.reset, LEFT)
    assert session.conditions == usual


def test_the_figures_stand_behind_the_words(qtbot, dialog):
    shown = page(dialog, "conditions")
    assert not shown.list.isVisibleTo(shown)
    qtbot.mouseClick(shown.figures, LEFT)
    assert shown.list.isVisibleTo(shown)


@pytest.mark.slow
def test_a_calibration_is_taken_over_and_a_faulty_one_is_not(
    qtbot, dialog, session, tmp_path, told
):
    shown = page(dialog, "conditions")
    good = tmp_path / "table-4.json"
    found = OwnConditions({"rolling_resistance": 0.0141}, "table 4", "snooker-12ft")
    save_conditions(found, good)
    shown.ask_file = lambda: good
    qtbot.mouseClick(shown.load, LEFT)
    assert session.conditions.rolling_resistance == 0.0141
    assert session.document.undo_name == "Conditions of table 4"
    bad = tmp_path / "bad.json"
    stated = '"conditions": {"rolling_resistance": 5}'
    bad.write_text(f'{{"format": "baizewright-conditions", "version": 1, {stated}}}')
    before = session.routine
    shown.ask_file = lambda: bad
    qtbot.mouseClick(shown.load, LEFT)
    assert session.routine is before
    assert told[-1].weight == "error" and told[-1].details
    shown.ask_file = lambda: None
    qtbot.mouseClick(shown.load, LEFT)
    assert session.routine is before


@pytest.mark.slow
def test_a_calibration_of_another_table_is_warned_of(qtbot, dialog, session, tmp_path, told):
    shown = page(dialog, "conditions")
    other = tmp_path / "other.json"
    save_conditions(OwnConditions({"sliding_friction": 0.2}, "pool room", "pool-9ft"), other)
    shown.ask_file = lambda: other
    qtbot.mouseClick(shown.load, LEFT)
    assert told[-1].weight == "warning" and "another table" in told[-1].what


def test_the_pace_scale_with_speeds_and_lengths(qtbot, dialog, session):
    shown = page(dialog, "pace")
    lengths = list(lengths_of_scale(session.table, session.conditions))
    assert [label.text() for label in shown.lengths] == [f"{one:.1f}" for one in lengths]
    # a faster ball runs farther, and one of 1.5 m/s from a fifth of the table about one length
    assert lengths == sorted(lengths)
    type_into(qtbot, shown.fields[4], "2.7")
    assert session.conditions.pace_speeds_m_s[4] == 2.7
    dialog.catch_up()
    assert float(shown.lengths[4].text()) >= round(lengths[4], 1)
    before = session.routine
    type_into(qtbot, shown.fields[4], "9")
    assert session.routine is before and "rising" in dialog.note.text()
    qtbot.mouseClick(shown.reset, LEFT)
    assert session.conditions.pace_speeds_m_s[4] == 2.5


@pytest.mark.slow
def test_moving_shows_what_survives_before_anything_changes(qtbot, dialog, session):
    first = page(dialog, "table")
    choose(first.table, "snooker-9ft")
    qtbot.mouseClick(first.move_here, LEFT)
    shown = dialog.parts.currentWidget()
    dialog.catch_up()
    assert shown.table.currentData() == "snooker-9ft" and not shown.apply.isEnabled()
    choose(shown.way, "proportion")
    before = session.routine
    qtbot.mouseClick(shown.check, LEFT)
    qtbot.waitUntil(lambda: shown.checked is not None)
    assert session.routine is before
    moved = move(before, Target("snooker-9ft"), "proportion")
    found = report(before, moved)
    text = shown.report.text()
    held = [claim for claim in found.claims if claim.before.holds]
    kept = sum(claim.after.holds for claim in held)
    assert f"{kept} of the {len(held)} claims" in text
    for claim in found.claims:
        assert claim.became in text.lower()
    choose(shown.way, "cushions")
    assert not shown.apply.isEnabled()
    choose(shown.way, "proportion")
    qtbot.mouseClick(shown.apply, LEFT)
    assert session.routine == moved.routine
    assert session.document.undo_name.startswith("Move to Snooker, 9 ft")
    session.undo()
    assert session.routine == before


@pytest.mark.slow
def test_a_check_is_old_once_a_ball_has_moved(qtbot, dialog, session):
    shown = page(dialog, "move_page")
    qtbot.mouseClick(shown.check, LEFT)
    qtbot.waitUntil(lambda: shown.checked is not None)
    assert shown.apply.isEnabled()
    session.balls.nudge("cue", 1.0, 0.0)
    dialog.catch_up()
    assert not shown.apply.isEnabled() and "check again" in shown.report.text()


def test_why_a_routine_cannot_be_moved_stays_until_something_else_is_asked(
    qtbot, dialog, session, monkeypatch
):
    def refuse(*_asked):
        raise OutOfRangeError("the way", "blocked", "free")

    monkeypatch.setattr("engine.moving.move", refuse)
    shown = page(dialog, "move_page")
    with qtbot.waitSignal(shown.work.task.failed):
        qtbot.mouseClick(shown.check, LEFT)
    for _ in range(2):
        shown.refresh()
        assert "cannot be moved so" in shown.report.text() and "blocked" in shown.report.text()
        assert not shown.apply.isEnabled() and shown.check.isEnabled()
    session.balls.nudge("cue", 1.0, 0.0)
    shown.refresh()
    assert "cannot be moved so" not in shown.report.text()


@pytest.mark.slow
def test_moving_to_a_table_of_ones_own(qtbot, dialog, session, tmp_path):
    shown = page(dialog, "move_page")
    own = tmp_path / "club.json"
    save_measured_table("snooker-12ft", MeasuredTable("Table 2", {"width_mm": 1770.0}), own)
    shown.ask_file = lambda: own
    qtbot.mouseClick(shown.own, LEFT)
    assert shown.table.currentText().startswith("Table 2")
    qtbot.mouseClick(shown.check, LEFT)
    qtbot.waitUntil(lambda: shown.checked is not None)
    qtbot.mouseClick(shown.apply, LEFT)
    assert session.table.width_mm == 1770.0 and session.table.measured == "Table 2"
    assert "Table 2" in (page(dialog, "table"), dialog.table.note.text())[1]


@pytest.mark.slow
def test_enter_hands_a_field_over_and_leaves_the_window_open(qtbot, dialog):
    shown = page(dialog, "pace")
    type_into(qtbot, shown.fields[3], "2.4")
    qtbot.keyClick(shown.fields[3], Qt.Key.Key_Return)
    assert dialog.isVisible()


def test_a_closed_dialog_hears_of_nothing_any_more(qtbot, window, session):
    dialog = window.menus.dialogs.table()
    dialog.close()
    qtbot.wait(50)
    session.balls.nudge("red-1", 1.0, 0.0)
    assert session.document.undo_name
