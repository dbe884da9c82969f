"""The list of balls: adding, choosing, typing places, locking, lettering."""

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication

from designer.widgets.badges import BALL_MIME
from designer.widgets.lengths import parse_length, typed_text

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def panel(window):
    window.show_panel("Balls")
    return window.balls


def type_into(qtbot, field, text):
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


def rows(panel):
    items = [panel.list.topLevelItem(i) for i in range(panel.list.topLevelItemCount())]
    return [tuple(item.text(column) for column in range(3)) for item in items]


def test_the_list_reads_like_a_tape(panel):
    assert ("black", "889 mm left", "324 mm top") in rows(panel)
    assert ("red R2", "358 mm right", "1180 mm bottom") in rows(panel)


def test_adding_by_a_click_in_the_tray(qtbot, window, panel, session):
    buttons = window.menus.bar.tray.buttons
    qtbot.mouseClick(buttons["pink"], LEFT)
    assert session.selected_ball == "pink"
    qtbot.waitUntil(lambda: any(row[0] == "pink" for row in rows(panel)))
    assert not buttons["cue"].isEnabled()


def test_a_ball_dragged_from_the_tray_lies_where_it_is_let_go(window, session):
    canvas = window.canvas
    at = canvas.frame.transform().map(QPointF(400.0, 2900.0))
    data = QMimeData()
    data.setData(BALL_MIME, b"green")
    event = QDropEvent(
        at, Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    entering = QDragEnterEvent(
        at.toPoint(), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    QApplication.sendEvent(canvas, entering)
    assert entering.isAccepted()
    QApplication.sendEvent(canvas, event)
    assert session.routine.ball("green").centre_mm == pytest.approx((400.0, 2900.0), abs=0.5)
    data.setData(BALL_MIME, b"no such ball")
    before = session.routine
    QApplication.sendEvent(canvas, event)
    assert session.routine is before


def test_choosing_in_the_list_and_on_the_table_agree(panel, session):
    panel.list.setCurrentItem(panel.list.topLevelItem(3))
    assert session.selected_ball == "red-2"
    session.point_at_ball("black")
    assert panel.list.currentItem().text(0) == "black"
    assert panel.name.text() == "Black"


def test_a_typed_place_moves_the_ball(qtbot, panel, session):
    session.point_at_ball("red-2")
    type_into(qtbot, panel.place.across, "300")
    assert session.routine.ball("red-2").x_mm == pytest.approx(1778 - 300)
    type_into(qtbot, panel.place.along, "1000,5")
    assert session.routine.ball("red-2").y_mm == pytest.approx(1000.5)
    assert session.document.undo_name == "Place red R2"


def test_from_the_other_cushion(qtbot, panel, session):
    session.point_at_ball("red-2")
    box = panel.place.across_from
    box.setCurrentIndex(box.findData("left"))
    box.activated.emit(box.currentIndex())
    assert panel.place.across.text() == "1420"
    type_into(qtbot, panel.place.across, "200")
    assert session.routine.ball("red-2").x_mm == pytest.approx(200)


def test_inches_are_typed_and_shown_as_a_tape_shows_them(qtbot, panel, session):
    session.set_unit("inch")
    session.point_at_ball("black")
    assert panel.place.along.text() == '12 3/4"'
    type_into(qtbot, panel.place.along, "14 1/2")
    assert session.routine.ball("black").y_mm == pytest.approx(3569 - 14.5 * 25.4)


def test_nonsense_leaves_the_ball_and_is_told(qtbot, panel, session, told):
    session.point_at_ball("red-2")
    before = session.routine
    type_into(qtbot, panel.place.across, "a hand")
    assert session.routine is before
    assert "not a length" in told[-1].what and "324" in told[-1].todo
    assert panel.place.across.text() == "358"


def test_undo_in_a_field_takes_back_typing_first_then_the_step(qtbot, window, panel, session):
    session.point_at_ball("red-2")
    before = session.routine
    type_into(qtbot, panel.place.across, "300")
    qtbot.keyClicks(panel.place.across, "7")
    qtbot.keyClick(panel.place.across, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert session.routine != before
    assert panel.place.across.text() == "300"
    qtbot.keyClick(panel.place.across, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert session.routine == before


def test_lock_letter_spot_and_taking_off(qtbot, panel, session):
    session.point_at_ball("red-2")
    type_into(qtbot, panel.letter, "7")
    assert session.routine.ball("red-2").label == "7"
    spots = panel.place.spot
    spots.setCurrentIndex(spots.findData("pink"))
    spots.activated.emit(spots.currentIndex())
    assert session.routine.ball("red-2").centre_mm == (889.0, 2676.75)
    panel.lock.click()
    assert session.routine.ball("red-2").locked
    qtbot.waitUntil(lambda: not panel.place.isEnabled())
    qtbot.mouseClick(panel.remove, LEFT)
    assert "red-2" not in [ball.id for ball in session.routine.balls]


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("250", "mm", 250.0),
        (" 250.5 mm ", "inch", 250.5),
        ("1/2", "inch", 12.7),
        ('29 1/16"', "mm", 738.1875),
        ("12.75 in", "mm", 323.85),
        ("-3", "mm", -3.0),
        ("", "mm", None),
        ("1/0", "inch", None),
        ("12 3", "inch", None),
        ("nan", "mm", None),
        ("inf", "mm", None),
    ],
)
def test_lengths_as_typed(text, unit, mm):
    found = parse_length(text, unit)
    assert found is None if mm is None else found == pytest.approx(mm)


@pytest.mark.parametrize("mm", [0.0, 26.25, 324.0, 1784.5])
def test_what_a_field_shows_it_can_read(mm):
    assert parse_length(typed_text(mm, "mm"), "mm") == pytest.approx(mm, abs=0.051)
    assert parse_length(typed_text(mm, "inch"), "inch") == pytest.approx(mm, abs=25.4 / 32 + 1e-9)
