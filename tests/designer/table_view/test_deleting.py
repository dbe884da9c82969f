"""Delete and Backspace take away what is selected, where a coach is working, and nothing else."""

import pytest
from PySide6.QtCore import Qt

from engine.routine import edits
from engine.routine.values import Claim, ClothMark, Gap

CTRL = Qt.KeyboardModifier.ControlModifier
KEYS = [Qt.Key.Key_Delete, Qt.Key.Key_Backspace]


@pytest.fixture
def focused(qtbot, window, canvas):
    with qtbot.waitActive(window):
        window.activateWindow()
    canvas.setFocus()
    return canvas


def ids(session):
    return [ball.id for ball in session.routine.balls]


@pytest.mark.parametrize("key", KEYS)
def test_the_selected_ball_goes_in_one_step_and_it_is_told(qtbot, focused, session, told, key):
    before = session.routine
    session.point_at_ball("red-1")
    qtbot.keyClick(focused, key)
    assert ids(session) == ["cue", "blue", "red-2", "black"]
    assert session.document.undo_name == "Remove red R1"
    assert "red R1" in told[-1].what and "Undo" in told[-1].todo
    session.undo()
    assert session.routine is before


@pytest.mark.parametrize("key", KEYS)
def test_several_chosen_balls_go_in_one_step(qtbot, focused, session, told, key):
    before = session.routine
    session.choose_balls(["red-1", "cue", "red-2"])
    qtbot.keyClick(focused, key)
    assert ids(session) == ["blue", "black"]
    assert "3 balls" in told[-1].what
    session.undo()
    assert session.routine is before


@pytest.mark.parametrize("key", KEYS)
def test_a_selected_mark_goes_and_the_balls_stay(qtbot, focused, session, told, key):
    mark = ClothMark("mark-1", "cross", 500.0, 900.0)
    session.apply("mark", lambda r: edits.add_mark(r, mark))
    session.point_at_mark("mark-1")
    qtbot.keyClick(focused, key)
    assert session.routine.cloth_marks == () and len(ids(session)) == 5
    assert "cross" in told[-1].what


@pytest.mark.parametrize("key", KEYS)
def test_with_nothing_selected_nothing_goes(qtbot, focused, session, key):
    session.point_at_ball("")
    before = session.routine
    qtbot.keyClick(focused, key)
    assert session.routine is before and session.document.undo_name == ""


@pytest.mark.parametrize("key", KEYS)
@pytest.mark.parametrize("panel", ["Balls", "Sheet", "Shot"])
def test_a_field_being_typed_in_keeps_its_keys(qtbot, window, session, panel, key):
    window.show_panel(panel)
    session.point_at_ball("red-1")
    field = {
        "Balls": window.balls.letter, "Sheet": window.sheet.notes,
        "Shot": window.shot.strike.pace,
    }[panel]  # fmt: skip
    with qtbot.waitActive(window):
        window.activateWindow()
    field.setFocus()
    for _ in range(4):
        qtbot.keyClick(field, key)
    assert len(ids(session)) == 5


def test_a_ball_in_hand_is_not_thrown_away(qtbot, focused, session, on_table):
    """Backspace takes a typed figure back while a ball is in hand; Delete does nothing then."""
    ball = session.routine.ball("red-1")
    start = on_table(*ball.centre_mm)
    qtbot.mousePress(focused, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(focused, start + (on_table(1300.0, 1500.0) - start))
    focused.hands.catch_up()
    for key in KEYS:
        qtbot.keyClick(focused, key)
    qtbot.mouseRelease(focused, Qt.MouseButton.LeftButton, pos=on_table(1300.0, 1500.0))
    assert "red-1" in ids(session)


def test_the_lists_beside_the_table_do_the_same(qtbot, window, session):
    gap = Gap("between", "ball-ball", ("red-1", "red-2"))
    session.apply("gap", lambda r: edits.add_gap(r, gap))
    session.apply("claim", lambda r: edits.add_claim(r, Claim("pot-on", "shot-1")))
    with qtbot.waitActive(window):
        window.activateWindow()
    window.show_panel("Gaps")
    window.gaps.catch_up_now()
    window.gaps.point_at(claim=0)
    window.gaps.claims.setFocus()
    qtbot.keyClick(window.gaps.claims, Qt.Key.Key_Delete)
    assert session.routine.claims == () and len(session.routine.gaps) == 1
    window.gaps.list.setFocus()
    qtbot.keyClick(window.gaps.list, Qt.Key.Key_Delete)
    assert session.routine.gaps == () and session.document.undo_name.startswith("Remove gap")
    window.show_panel("Shot")
    window.shot.catch_up_now()
    session.point_at_lane("B")
    window.shot.lanes.setFocus()
    qtbot.keyClick(window.shot.lanes, Qt.Key.Key_Delete)
    assert [lane.label for lane in session.shot.lanes] == ["A", "C"]
    window.show_panel("Balls")
    session.point_at_ball("red-2")
    window.balls.catch_up_now()
    window.balls.list.setFocus()
    qtbot.keyClick(window.balls.list, Qt.Key.Key_Delete)
    assert "red-2" not in ids(session) and len(ids(session)) == 4
