"""Conditions found from observations in the window, with the lanes before and after."""

import contextlib
import math
from pathlib import Path

import pytest
from PySide6.QtCore import Qt

from designer.drawing import roles
from designer.table_view.table_picture import TablePicture
from designer.tables.calibration_page import DOTTED_AFTER, DOTTED_BEFORE
from engine.storage import load_routine
from tests.designer.pdf_pages import page_texts

LEFT = Qt.MouseButton.LeftButton
DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"
RESISTANCE, GRAVITY = 0.0145, 9810.0


def rolled(runs_on_mm, distance_mm=1500.0):
    """Seconds over a distance for a ball slowed evenly, from how far it runs on after it."""
    slowing = RESISTANCE * GRAVITY
    last = math.sqrt(2.0 * slowing * runs_on_mm)
    return (math.sqrt(last * last + 2.0 * slowing * distance_mm) - last) / slowing


@pytest.fixture
def observations(tmp_path):
    file = tmp_path / "table-4.csv"
    rows = [f"roll,1500,{rolled(on):.2f},{on}" for on in range(300, 1500, 100)]
    file.write_text("\n".join(["kind,distance_mm,time_s,then_mm", *rows]) + "\n")
    return file


@pytest.fixture
def shown(window, session):
    session.document.replace(load_routine(next(DEMO.glob("05-*.json"))))
    dialog = window.menus.dialogs.table()
    dialog.parts.setCurrentWidget(dialog.calibration)
    dialog.catch_up()
    yield dialog.calibration
    with contextlib.suppress(RuntimeError):
        dialog.close()


def work_out(qtbot, shown, file):
    shown.ask_file = lambda: file
    task = shown.work.task
    with qtbot.waitSignal(task.finished):
        qtbot.mouseClick(shown.work.begin, LEFT)


def lanes_beneath(session):
    drawing = TablePicture(session).drawing(0.3)
    return [item for item in drawing.items if item.role == roles.BENEATH]


def test_found_compared_and_taken_over(qtbot, shown, session, observations):
    before = session.routine
    assert not shown.take.isEnabled() and not lanes_beneath(session)
    work_out(qtbot, shown, observations)
    assert session.routine is before
    assert "12 of 12 observations used" in shown.report.text()
    found = next(
        one for one in shown.found.calibration.findings if one.name == "rolling_resistance"
    )
    assert found.low <= RESISTANCE <= found.high and found.decided
    assert shown.dotted.text() == DOTTED_AFTER
    dotted_after = lanes_beneath(session)
    assert dotted_after

    qtbot.mouseClick(shown.take, LEFT)
    assert session.document.undo_name == "Conditions of table-4"
    assert session.conditions.rolling_resistance == pytest.approx(found.value, rel=1e-3)
    assert shown.dotted.text() == DOTTED_BEFORE and not shown.take.isEnabled()
    # beneath are now the lanes as they were: another cloth, other lanes
    assert lanes_beneath(session) and lanes_beneath(session) != dotted_after

    qtbot.mouseClick(shown.compare, LEFT)
    assert not lanes_beneath(session)
    session.undo()
    assert session.routine == before


@pytest.mark.slow
def test_slow_balls_on_the_cushion_are_looked_for_apart(qtbot, shown, session, observations):
    shown.by_speed.setChecked(True)
    work_out(qtbot, shown, observations)
    names = [one.name for one in shown.found.calibration.findings]
    assert "cushion_restitution_slow" in names
    assert "slow ball" in shown.report.text()


@pytest.mark.slow
def test_lanes_beneath_are_those_of_the_conditions(qtbot, shown, session, observations):
    work_out(qtbot, shown, observations)
    own = [lane.stops_mm for lane in session.shot_answer.lanes]
    there = [lane.stops_mm for lane in session.comparison.shot_answer().lanes]
    qtbot.mouseClick(shown.take, LEFT)
    assert [lane.stops_mm for lane in session.shot_answer.lanes] == there
    assert [lane.stops_mm for lane in session.comparison.shot_answer().lanes] == own
    shown.close_down()
    assert session.comparison.shot_answer() is None


def test_a_faulty_file_says_where_and_changes_nothing(qtbot, shown, session, tmp_path):
    bad = tmp_path / "bad.csv"
    bad.write_text("kind,distance_mm,time_s\nroll,1500,two\n")
    before = session.routine
    shown.ask_file = lambda: bad
    with qtbot.waitSignal(shown.work.task.failed):
        qtbot.mouseClick(shown.work.begin, LEFT)
    assert "line 2, column time_s" in shown.report.text()
    assert session.routine is before and not shown.take.isEnabled()


@pytest.mark.slow
def test_what_is_wrong_with_a_file_stays_until_another_is_chosen(
    qtbot, shown, session, tmp_path, observations
):
    """Whatever else happens in the window meanwhile."""
    bad = tmp_path / "bad.csv"
    bad.write_text("kind,distance_mm,time_s\nroll,1500,two\n")
    shown.ask_file = lambda: bad
    with qtbot.waitSignal(shown.work.task.failed):
        qtbot.mouseClick(shown.work.begin, LEFT)
    session.balls.nudge("cue", 1.0, 0.0)
    shown.refresh()
    assert "line 2, column time_s" in shown.report.text()
    work_out(qtbot, shown, observations)
    shown.refresh()
    assert "line 2" not in shown.report.text() and shown.take.isEnabled()


@pytest.mark.slow
def test_findings_are_not_offered_for_another_table(qtbot, shown, session, observations):
    from engine.routine import edits

    work_out(qtbot, shown, observations)
    session.apply("Own", lambda r: edits.set_measured_size(r, "length_mm", 3560.0))
    shown.refresh()
    assert not shown.take.isEnabled() and "another table" in shown.report.text()


def test_the_form_is_written_to_print_and_to_fill_in(qtbot, shown, tmp_path):
    printed, typed = tmp_path / "form.pdf", tmp_path / "form.csv"
    shown.ask_target = lambda ending: (tmp_path / "form").with_suffix(ending)
    for button in (shown.form, shown.list):
        qtbot.mouseClick(button, LEFT)
    assert shown.window().links.file == typed
    assert "rolling ball" in page_texts(printed)[0].lower()
    assert "kind," in typed.read_text()


def type_readings(qtbot, form, **read):
    for name, value in read.items():
        form.fields[name].setFocus()
        form.fields[name].clear()
        qtbot.keyClicks(form.fields[name], value)


def test_three_strokes_without_a_file(qtbot, shown, session):
    assert not shown.test.isVisible()
    qtbot.mouseClick(shown.short, LEFT)
    assert shown.test.isVisible()
    assert "710" in shown.test.told[0].text()
    seconds = f"{rolled(0.0, 1000.0):.2f}".replace(".", ",")
    first = {"stretch_mm": "1000", "stretch_s": seconds}
    type_readings(qtbot, shown.test, **first, free_mm="2850", ramp_mm="1140", back_mm="590")
    with qtbot.waitSignal(shown.work.task.finished):
        qtbot.mouseClick(shown.test.begin, LEFT)
    assert "2 of 2 observations used" in shown.report.text()
    found = {one.name: one for one in shown.found.calibration.findings}
    rolling = found["rolling_resistance"]
    assert rolling.decided and rolling.low <= RESISTANCE <= rolling.high
    qtbot.mouseClick(shown.take, LEFT)
    assert session.conditions.rolling_resistance == pytest.approx(rolling.value, rel=1e-3)
    assert session.document.undo_name == "Conditions of Two-minute test"


def test_readings_that_are_none_or_half_a_stroke_are_told(qtbot, shown, session):
    before, told = session.routine, []
    session.messages.told.connect(told.append)
    qtbot.mouseClick(shown.short, LEFT)
    type_readings(qtbot, shown.test, stretch_mm="a yard")
    qtbot.mouseClick(shown.test.begin, LEFT)
    assert "a yard" in told[-1].what
    type_readings(qtbot, shown.test, stretch_mm="1000")
    with qtbot.waitSignal(shown.work.task.failed):
        qtbot.mouseClick(shown.test.begin, LEFT)
    assert "stretch_s" in shown.report.text() and session.routine is before
