"""Marks on the cloth by mouse, keys and fields: put down, moved, described, taken away."""

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu

from designer.drawing.look import INK

LEFT, CTRL = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
HERE = (500.0, 2600.0)


@pytest.fixture
def cross(session):
    mark_id = session.marks.add("cross", HERE)
    session.point_at_ball("")
    return mark_id


def entry(menu, text):
    found = [a for a in menu.actions() if a.text() == text and a.menu() is None]
    return found[0] if found else next(a for a in menu.actions() if a.text() == text)


def menu_at(qtbot, canvas, at):
    qtbot.mouseClick(canvas, LEFT, pos=at)
    from PySide6.QtGui import QContextMenuEvent
    from PySide6.QtWidgets import QApplication

    QApplication.sendEvent(
        canvas, QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, canvas.mapToGlobal(at))
    )
    (menu,) = [one for one in canvas.findChildren(QMenu) if one.isVisible()]
    return menu


@pytest.mark.parametrize(("words", "kind"), [("Cross", "cross"), ("Dot", "dot"), ("Line", "line")])
def test_the_cloth_is_marked_from_its_menu_and_undone(
    qtbot, canvas, session, on_table, words, kind
):
    menu = menu_at(qtbot, canvas, on_table(*HERE))
    entry(menu, words).trigger()
    (mark,) = session.routine.cloth_marks
    assert mark.kind == kind and session.mark == mark
    middle = [sum(axis) / len(mark.places_mm) for axis in zip(*mark.places_mm, strict=True)]
    assert middle == pytest.approx(HERE, abs=3.0)
    menu.close()
    session.undo()
    assert not session.routine.cloth_marks and session.mark is None


def test_a_mark_is_dragged_as_one_step_and_escape_puts_it_back(
    qtbot, canvas, session, on_table, cross
):
    steps = len(session.document._done)
    qtbot.mousePress(canvas, LEFT, pos=on_table(*HERE))
    for x in (520.0, 600.0, 700.0):
        qtbot.mouseMove(canvas, on_table(x, 2500.0))
    qtbot.mouseRelease(canvas, LEFT, pos=on_table(700.0, 2500.0))
    mark = session.routine.cloth_mark(cross)
    assert (mark.x_mm, mark.y_mm) == pytest.approx((700.0, 2500.0), abs=4.0)
    assert len(session.document._done) == steps + 1
    assert session.document.undo_name == "Move cross 1"
    qtbot.mousePress(canvas, LEFT, pos=on_table(700.0, 2500.0))
    qtbot.mouseMove(canvas, on_table(900.0, 2900.0))
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    qtbot.mouseRelease(canvas, LEFT, pos=on_table(900.0, 2900.0))
    assert session.routine.cloth_mark(cross).places_mm == mark.places_mm


def test_a_line_is_taken_by_an_end_or_by_its_middle(qtbot, canvas, session, on_table):
    line = session.marks.add("line", (900.0, 2600.0))

    def drag(start, end):
        qtbot.mousePress(canvas, LEFT, pos=on_table(*start))
        qtbot.mouseMove(canvas, on_table((start[0] + end[0]) / 2, end[1]))
        qtbot.mouseMove(canvas, on_table(*end))
        qtbot.mouseRelease(canvas, LEFT, pos=on_table(*end))

    (ax, ay), (bx, by) = session.routine.cloth_mark(line).places_mm
    drag((bx, by), (bx, by + 300.0))
    start, end = session.routine.cloth_mark(line).places_mm
    assert start == (ax, ay) and end == pytest.approx((bx, by + 300.0), abs=4.0)
    middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
    drag(middle, (middle[0] + 200.0, middle[1]))
    moved = session.routine.cloth_mark(line).places_mm
    assert moved[0] == pytest.approx((start[0] + 200.0, start[1]), abs=4.0)
    assert moved[1][0] - moved[0][0] == pytest.approx(end[0] - start[0])


def test_keys_reach_nudge_and_remove_a_mark(qtbot, window, canvas, session, cross):
    canvas.setFocus()
    for _ in range(len(session.routine.balls) + 1):
        qtbot.keyClick(canvas, Qt.Key.Key_Tab)
    assert session.selected_mark == cross and session.ball is None
    qtbot.keyClick(canvas, Qt.Key.Key_Right)
    qtbot.keyClick(canvas, Qt.Key.Key_Up, SHIFT)
    # The table lies on its side: right is up the table, up is to the left.
    mark = session.routine.cloth_mark(cross)
    assert mark.places_mm == ((HERE[0] - 10.0, HERE[1] + 1.0),)
    assert window.menus.remove_ball.text() == "Remove mark"
    qtbot.keyClick(window, Qt.Key.Key_Delete, CTRL)
    assert not session.routine.cloth_marks
    qtbot.keyClick(window, Qt.Key.Key_O, CTRL | SHIFT)
    (dot,) = session.routine.cloth_marks
    assert dot.kind == "dot" and session.mark == dot and canvas.hasFocus()


def test_the_panel_shows_and_changes_the_selected_mark(qtbot, window, session, cross):
    window.show_panel("Balls")
    panel = window.balls
    rows = [panel.list.topLevelItem(i) for i in range(panel.list.topLevelItemCount())]
    assert rows[-1].text(0) == "cross 1"
    panel.list.setCurrentItem(rows[-1])
    assert session.selected_mark == cross
    assert panel.mark.isVisible() and not panel._box.isVisible()
    editor = panel.mark
    assert editor.fields[0].text() == "500" and not editor.fields[2].isVisible()
    editor.note.setFocus()
    qtbot.keyClicks(editor.note, "stop the cue ball here")
    qtbot.keyClick(editor.note, Qt.Key.Key_Return)
    assert session.mark.note == "stop the cue ball here"
    field = editor.fields[0]
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "250")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert session.mark.x_mm == 250.0 and session.mark.y_mm == HERE[1]
    editor.kind.setCurrentIndex(2)
    editor.kind.activated.emit(2)
    panel.catch_up_now()
    assert session.mark.kind == "line" and editor.fields[3].isVisible()
    qtbot.mouseClick(editor.remove, LEFT)
    assert not session.routine.cloth_marks


def test_marks_change_no_answer_and_an_answer_under_way_is_kept(qtbot, session, make_session):
    answered = []
    session.answered.connect(lambda: answered.append(True))
    before = session.answer
    session.marks.add("dot", HERE)
    assert session.answer is before and not answered
    # The full answer comes after the mark was put down: it still belongs to the set-up.
    session.predictions.ask_now(session.played)
    assert session.answer_is_full


def test_a_mark_stays_on_the_bed(session, cross):
    session.marks.move(cross, (-50.0, 99_999.0))
    assert session.routine.cloth_mark(cross).places_mm == ((0.0, session.table.length_mm),)


def test_marks_are_drawn_and_read_out(canvas, session, cross):
    assert "mark 1 on the cloth at 500 mm" in canvas.accessibleDescription()
    drawing = canvas._scenery.drawing(canvas.frame.px_per_mm)
    drawn = drawing.with_roles("cloth-mark")
    assert any(getattr(item, "colour", "") == INK for item in drawn)
    session.marks.set_note(cross, "chalk here")
    drawing = canvas._scenery.drawing(canvas.frame.px_per_mm)
    assert "chalk here" in [getattr(i, "text", "") for i in drawing.with_roles("cloth-mark")]


def test_new_marks_lie_off_balls_and_each_other(session):
    import math

    session.point_at_ball("")
    for _ in range(4):
        session.marks.add("dot")
        session.point_at_ball("")
    places = [mark.places_mm[0] for mark in session.routine.cloth_marks]
    others = [ball.centre_mm for ball in session.routine.balls]
    for index, place in enumerate(places):
        for other in (*others, *places[:index]):
            assert math.dist(place, other) > 2 * session.radius_mm


def test_a_mark_in_hand_is_drawn_once_a_frame(qtbot, canvas, session, cross, on_table, monkeypatch):
    """With measurements too, whose room the table is fitted to: in hand it stays where it is."""
    from dataclasses import replace

    from designer.table_view import table_picture as scenery

    layers = replace(session.view.layers, measurements=True)
    session.set_view(replace(session.view, layers=layers))
    canvas.grab()
    qtbot.mousePress(canvas, LEFT, pos=on_table(*HERE))
    qtbot.mouseMove(canvas, on_table(HERE[0] + 60.0, HERE[1] + 60.0))
    canvas.grab()
    drawn = []
    real = scenery.build_drawing
    monkeypatch.setattr(scenery, "build_drawing", lambda *a, **k: drawn.append(1) or real(*a, **k))
    for step in range(5):
        qtbot.mouseMove(canvas, on_table(HERE[0] + 80.0 + 20.0 * step, HERE[1] + 90.0))
        canvas.grab()
    assert canvas.hands.moving and len(drawn) == 5
    canvas.hands.release()
