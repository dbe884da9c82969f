"""Several balls at once: chosen by Shift and by a band, moved, mirrored, copied, locked, racked."""

import math

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QGuiApplication

from designer.setting_up.clipboard import copy_balls, paste_balls
from engine.balls import Ball
from engine.routine.mirror import mirrored

LEFT = Qt.MouseButton.LeftButton
SHIFT, CTRL = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.ControlModifier
RADIUS = 26.25


@pytest.fixture
def click(qtbot, canvas, on_table, session):
    def do(ball, keys=Qt.KeyboardModifier.NoModifier):
        at = on_table(*session.routine.ball(ball).centre_mm)
        qtbot.mouseClick(canvas, LEFT, keys, at)

    return do


def drag(qtbot, canvas, start, end):
    qtbot.mousePress(canvas, LEFT, pos=start)
    for step in range(1, 5):
        qtbot.mouseMove(canvas, start + (end - start) * step / 4)
        qtbot.wait(1)
    qtbot.mouseRelease(canvas, LEFT, pos=end)


def apart(routine):
    return all(
        math.dist(a.centre_mm, b.centre_mm) >= 2 * RADIUS - 1e-6
        for i, a in enumerate(routine.balls)
        for b in routine.balls[i + 1 :]
    )


def test_shift_click_chooses_more_and_less(click, session):
    click("red-1")
    click("red-2", SHIFT)
    assert session.chosen == ("red-1", "red-2")
    click("red-1", SHIFT)
    assert session.chosen == ("red-2",)
    click("blue")
    assert session.chosen == ("blue",)


def test_a_band_chooses_what_it_holds(qtbot, canvas, on_table, session):
    drag(qtbot, canvas, on_table(1080.0, 1100.0), on_table(1520.0, 1350.0))
    assert set(session.chosen) == {"red-1", "red-2"}
    assert canvas.hands.band is None
    qtbot.mouseClick(canvas, LEFT, pos=on_table(300.0, 2700.0))
    assert session.chosen == ()


def test_chosen_balls_are_dragged_together_as_one_step(qtbot, canvas, on_table, session):
    session.choose_balls(["red-1", "red-2"])
    before = session.routine
    start = on_table(1180.0, 1250.0)
    drag(qtbot, canvas, start, start + QPoint(-60, 30))
    ways = [
        tuple(b - a for a, b in zip(before.ball(o).centre_mm, session.routine.ball(o).centre_mm,
                                    strict=True))
        for o in ("red-1", "red-2")
    ]  # fmt: skip
    assert ways[0] == pytest.approx(ways[1]) and math.hypot(*ways[0]) > 100
    assert session.document.undo_name == "Move 2 balls"
    session.undo()
    assert session.routine == before and session.document.undo_name == ""


def test_a_group_stops_together_at_the_cushion(session):
    session.choose_balls(["red-1", "red-2"])
    starts = session.group.places()
    session.group.drag(starts, (900.0, 0.0), "test")
    one, two = session.routine.ball("red-1"), session.routine.ball("red-2")
    assert two.x_mm - one.x_mm == pytest.approx(240.0)
    assert 1778 - RADIUS - 1.0 < two.x_mm <= 1778 - RADIUS + 1e-6


def test_arrow_keys_nudge_all_chosen(qtbot, canvas, session):
    session.choose_balls(["red-1", "red-2"])
    xs = [session.routine.ball(o).centre_mm for o in session.chosen]
    qtbot.keyClick(canvas, Qt.Key.Key_Right)
    moved = [session.routine.ball(o).centre_mm for o in session.chosen]
    assert all(math.dist(a, b) == pytest.approx(1.0) for a, b in zip(xs, moved, strict=True))


def test_two_chosen_are_mirrored_alone(qtbot, window, canvas, session):
    session.choose_balls(["red-1", "red-2"])
    with qtbot.waitActive(window):
        window.activateWindow()
    qtbot.keyClick(canvas, Qt.Key.Key_M, CTRL | SHIFT)
    assert session.routine.ball("red-1").centre_mm == pytest.approx((598.0, 1250.0))
    assert session.routine.ball("blue").centre_mm == (889.0, 1784.5)
    assert session.shot.pocket == "top-right"


@pytest.mark.parametrize("axis", ["long", "cross"])
def test_the_whole_routine_mirrored_predicts_the_mirror_image(
    make_session, routine_with_gaps, axis
):
    session = make_session(routine_with_gaps)
    table = session.table
    before = session.shot_answer
    session.group.mirror(axis)
    after = session.shot_answer
    assert after.pot.on == before.pot.on
    assert after.pot.fullness == pytest.approx(before.pot.fullness, abs=1e-6)
    for old, new in zip(before.lanes, after.lanes, strict=True):
        x, y = old.path_mm[len(old.path_mm) // 2]
        image = (table.width_mm - x, y) if axis == "long" else (x, table.length_mm - y)
        away = min(math.dist(image, point) for point in new.path_mm.tolist())
        assert away < 60.0 and new.clear == old.clear
    assert session.routine.gap("beside").cushion == ("left" if axis == "long" else "right")
    assert mirrored(session.routine, table, axis) == routine_with_gaps


def test_a_mirror_image_that_overlaps_is_refused(session, told):
    session.balls.add("plain", (1778.0 - 1180.0, 1250.0))
    session.choose_balls(["red-1", "red-2"])
    before = session.routine
    session.group.mirror("long")
    assert session.routine is before and "overlap" in told[-1].what


def test_duplicates_lie_beside_and_are_chosen(session):
    session.choose_balls(["red-1", "red-2"])
    session.group.duplicate()
    assert session.chosen == ("red-3", "red-4")
    assert apart(session.routine) and len(session.routine.balls) == 7
    session.undo()
    assert len(session.routine.balls) == 5


def test_locking_and_removing_several_is_one_step(session):
    session.choose_balls(["red-1", "red-2"])
    session.group.lock(True)
    assert all(ball.locked for ball in session.group.balls)
    session.group.nudge(5.0, 0.0)
    assert session.routine.ball("red-1").x_mm == 1180.0
    session.undo()
    session.group.remove()
    assert len(session.routine.balls) == 3
    session.undo()
    assert len(session.routine.balls) == 5


def test_the_triangle_stands_behind_the_pink_spot(session):
    session.balls.remove("black")
    session.group.rack_reds()
    reds = [ball for ball in session.routine.balls if ball.kind == "red"]
    assert len(reds) == 15 and apart(session.routine)
    pink = session.table.spot("pink")
    apex = min(reds, key=lambda ball: ball.y_mm)
    # Rules of Snooker, section 3: the apex on the centre line, as near the pink as possible
    # without touching it (from memory).
    assert apex.x_mm == pytest.approx(pink.x_mm)
    assert 0.0 < apex.y_mm - pink.y_mm - 2 * RADIUS <= 2.0
    rows = sorted({round(ball.y_mm, 3) for ball in reds})
    assert [sum(abs(b.y_mm - y) < 0.01 for b in reds) for y in rows] == [1, 2, 3, 4, 5]
    session.undo()
    assert sum(ball.kind == "red" for ball in session.routine.balls) == 2


def test_a_triangle_with_a_ball_in_its_way_is_refused(session, told):
    x, y = session.group.triangle_mm()[7]
    session.apply("plain", lambda r: _with(r, Ball("plain-1", "plain", x, y)))
    before = session.routine
    session.group.rack_reds()
    assert session.routine is before and "overlap" in told[-1].what


def _with(routine, ball):
    from engine.routine.edits import place_ball

    return place_ball(routine, ball)


def test_copied_balls_are_pasted_into_another_window(session, make_session):
    session.choose_balls(["blue", "red-1"])
    assert copy_balls(session)
    assert "blue: 889.0 mm from the left" in QGuiApplication.clipboard().text()
    other = make_session()
    assert set(paste_balls(other)) == {"blue", "red-1"}
    assert other.routine.ball("red-1").centre_mm == (1180.0, 1250.0)
    assert paste_balls(session) != ()
    assert apart(session.routine) and len(session.routine.balls) == 7


def test_a_second_cue_ball_is_not_pasted_and_nonsense_is_told(session, told):
    session.choose_balls(["cue"])
    copy_balls(session)
    assert paste_balls(session) == ()
    QGuiApplication.clipboard().setText("{nonsense")
    assert paste_balls(session) == ()
    assert "no balls on the clipboard" in told[-1].what
