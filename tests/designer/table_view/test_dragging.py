"""Balls moved by mouse and keys, as a coach does it."""

import math

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QMenu

LEFT = Qt.MouseButton.LeftButton
RADIUS = 26.25


@pytest.fixture
def drag(qtbot, canvas, on_table):
    """Press on a ball, move to a place in some steps, let go."""

    def do(ball, to_mm, let_go=True, steps=6):
        start = on_table(*canvas._session.routine.ball(ball).centre_mm)
        end = on_table(*to_mm)
        qtbot.mousePress(canvas, LEFT, pos=start)
        for step in range(1, steps + 1):
            qtbot.mouseMove(canvas, start + (end - start) * step / steps)
            qtbot.wait(1)
        if let_go:
            qtbot.mouseRelease(canvas, LEFT, pos=end)

    return do


def overlaps(routine):
    balls = routine.balls
    return [
        (a.id, b.id)
        for i, a in enumerate(balls)
        for b in balls[i + 1 :]
        if math.dist(a.centre_mm, b.centre_mm) < 2 * RADIUS - 1e-6
    ]


@pytest.mark.quick
def test_a_drag_moves_the_ball_and_the_answers_follow(drag, session, canvas):
    before = session.shot_answer.lanes[0].clearances
    drag("red-1", (700.0, 900.0))
    ball = session.routine.ball("red-1")
    assert ball.centre_mm == pytest.approx((700.0, 900.0), abs=1.5 / canvas.frame.px_per_mm)
    after = session.shot_answer.lanes[0].clearances
    room = {one.ball: one.clearance_mm for one in after}
    assert room["red-1"] != pytest.approx({one.ball: one.clearance_mm for one in before}["red-1"])
    assert session.selected_ball == "red-1"


def test_what_the_eye_is_not_on_waits_for_the_hand(drag, session, canvas, window):
    words, lag = canvas.accessibleDescription(), window.shot._lag
    drag("red-2", (500.0, 700.0), let_go=False)
    assert session.in_hand and canvas.accessibleDescription() == words
    window.shot.refresh_soon()
    assert lag.interval() == window.shot.HAND_LAG_MS
    canvas.hands.release()
    assert not session.in_hand
    session.balls.nudge("red-2", 5.0, 0.0)
    assert canvas.accessibleDescription() != words


def test_answers_change_while_the_ball_is_still_in_hand(drag, session, qtbot, canvas):
    seen = []
    session.answered.connect(lambda: seen.append(session.shot_answer.lanes[0]))
    drag("red-2", (500.0, 700.0), let_go=False)
    qtbot.waitUntil(lambda: len(seen) >= 3)
    assert canvas.hands.dragged == "red-2"
    canvas.hands.release()


def test_a_drag_is_one_step(drag, session):
    before = session.routine
    drag("red-1", (400.0, 800.0), steps=12)
    assert session.document.undo_name == "Move red R1"
    session.undo()
    assert session.routine == before
    assert session.document.undo_name == ""
    session.redo()
    assert session.routine.ball("red-1").x_mm == pytest.approx(400.0, abs=6)


def test_two_drags_are_two_steps(drag, session):
    drag("red-1", (400.0, 800.0))
    between = session.routine
    drag("red-1", (600.0, 900.0))
    session.undo()
    assert session.routine == between


def test_no_overlap_and_no_ball_off_the_bed(drag, session):
    blue = session.routine.ball("blue").centre_mm
    drag("red-1", (blue[0] + 10, blue[1] - 5))
    assert not overlaps(session.routine)
    drag("red-1", (-300.0, 1200.0))
    assert session.routine.ball("red-1").x_mm == pytest.approx(RADIUS, abs=1e-3)
    drag("red-2", (2400.0, 5000.0))
    assert not overlaps(session.routine)
    assert session.answer.problems == ()


def test_a_locked_ball_stays_and_the_coach_is_told(drag, session, told):
    session.balls.lock("red-1", True)
    before = session.routine
    drag("red-1", (400.0, 800.0))
    assert session.routine == before
    assert "locked" in told[-1].what


def test_a_small_shake_of_the_hand_moves_nothing(qtbot, canvas, session, on_table):
    at = on_table(*session.routine.ball("blue").centre_mm)
    before = session.routine
    qtbot.mousePress(canvas, LEFT, pos=at)
    qtbot.mouseMove(canvas, at + QPoint(2, 1))
    qtbot.mouseRelease(canvas, LEFT, pos=at + QPoint(2, 1))
    assert session.routine is before
    assert session.selected_ball == "blue"


def test_escape_puts_the_ball_back(drag, qtbot, canvas, session):
    before = session.routine
    drag("red-1", (400.0, 800.0), let_go=False)
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert session.routine == before
    assert session.document.undo_name == ""
    assert not canvas.hands.dragged


@pytest.mark.parametrize(
    ("turned", "key", "moved"),
    [
        (True, Qt.Key.Key_Right, (0.0, 1.0)),
        (True, Qt.Key.Key_Up, (-1.0, 0.0)),
        (False, Qt.Key.Key_Right, (1.0, 0.0)),
        (False, Qt.Key.Key_Down, (0.0, -1.0)),
    ],
)
def test_arrow_keys_nudge_as_the_screen_shows_it(qtbot, window, session, turned, key, moved):
    if session.view.turned != turned:
        window.turn()
    canvas = window.canvas
    canvas.grab()
    session.point_at_ball("red-1")
    x, y = session.routine.ball("red-1").centre_mm
    qtbot.keyClick(canvas, key)
    assert session.routine.ball("red-1").centre_mm == pytest.approx((x + moved[0], y + moved[1]))
    qtbot.keyClick(canvas, key, Qt.KeyboardModifier.ShiftModifier)
    far = (x + 11 * moved[0], y + 11 * moved[1])
    assert session.routine.ball("red-1").centre_mm == pytest.approx(far)


def test_tab_goes_from_ball_to_ball_and_then_on(qtbot, canvas, session):
    seen = []
    for _ in session.routine.balls:
        qtbot.keyClick(canvas, Qt.Key.Key_Tab)
        seen.append(session.selected_ball)
    assert seen == [ball.id for ball in session.routine.balls]
    qtbot.keyClick(canvas, Qt.Key.Key_Tab)
    assert not canvas.hasFocus()


def test_the_wheel_zooms_and_dragging_the_cloth_moves_the_table(qtbot, canvas, session, on_table):
    at = QPointF(on_table(889.0, 2400.0))
    wheel = QWheelEvent(
        at, canvas.mapToGlobal(at), QPoint(), QPoint(0, 480), Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(canvas, wheel)
    assert canvas.frame.zoom == pytest.approx(1.25**4)
    held = canvas.frame.to_table(at)
    start = at.toPoint()
    qtbot.mousePress(canvas, LEFT, pos=start)
    qtbot.mouseMove(canvas, start + QPoint(40, 25))
    qtbot.mouseRelease(canvas, LEFT, pos=start + QPoint(40, 25))
    assert canvas.frame.to_table(at + QPointF(40, 25)) == pytest.approx(held)
    qtbot.keyClick(canvas, Qt.Key.Key_0)
    assert canvas.frame.zoom == 1.0


def test_double_click_chooses_object_ball_and_pocket(qtbot, canvas, session, on_table):
    qtbot.mouseDClick(canvas, LEFT, pos=on_table(*session.routine.ball("black").centre_mm))
    assert session.shot.object_ball == "black"
    qtbot.mouseDClick(canvas, LEFT, pos=on_table(*session.table.pocket("top-left").fall_mm))
    assert session.shot.pocket == "top-left"
    assert session.shot_answer.pot.object_ball == "black"


def test_the_menu_of_a_ball_and_of_the_cloth(canvas, session):
    from designer.table_view.menu import menu_for

    def entry(menu, text):
        found = [a for m in [menu, *menu.findChildren(QMenu)] for a in m.actions()]
        return next(a for a in found if a.text() == text)

    menu = menu_for(canvas, session, "red-1", "", (0, 0))
    entry(menu, "Make it the object ball").trigger()
    assert session.shot.object_ball == "red-1"
    entry(menu, "the brown spot").trigger()
    assert session.routine.ball("red-1").centre_mm == (889.0, 737.0)
    entry(menu, "Lock it where it is").trigger()
    assert session.routine.ball("red-1").locked
    menu = menu_for(canvas, session, "", "", (300.0, 2000.0))
    assert not entry(menu, "Cue ball").isEnabled()
    entry(menu, "Pink").trigger()
    assert session.routine.ball("pink").centre_mm == (300.0, 2000.0)


def test_letters_stay_put_in_a_drag_and_find_the_best_places_after_it(drag, session, canvas):
    """In hand the drawing rests on the one before; let go it is as if drawn at once."""
    from designer.drawing import build_drawing
    from designer.table_view.table_picture import look_at

    scale = canvas.frame.px_per_mm
    canvas.grab()
    drag("red-1", (960.0, 1500.0), let_go=False)
    canvas.grab()
    held = canvas._scenery.drawing(scale, moving=True)
    drag_on = canvas._scenery.drawing(scale, moving=True)
    assert held is drag_on, "drawn anew though nothing changed"
    canvas.hands.release()
    canvas.grab()
    view = session.view
    fresh = build_drawing(
        session.routine,
        session.reach.answer_to_draw(),
        view.layers,
        view.unit,
        look=look_at(scale, view.turned, view.far),
        shot=session.shown_shot or None,
        lanes=session.lanes_to_draw(),
    )
    assert canvas._scenery.drawing(scale).offsets == fresh.offsets


@pytest.mark.slow
def test_the_readings_of_a_ball_in_hand_cover_no_other_ball(drag, canvas, session, on_table):
    """Dragged all round red-2, whose own colour stays in sight beside its letter."""
    from PySide6.QtGui import QColor

    hidden = []
    for dx in range(-450, 160, 50):
        drag("red-1", (1420.0 + dx, 880.0))
        picture = canvas.grab().toImage()
        at = on_table(*session.routine.ball("red-2").centre_mm)
        reach = round(20.0 * canvas.frame.px_per_mm)
        sides = ((-reach, 0), (reach, 0), (0, -reach), (0, reach))
        seen = [QColor(picture.pixel(at + QPoint(x, y))) for x, y in sides]
        if not any(one.red() > 120 > 80 > max(one.green(), one.blue()) for one in seen):
            hidden.append(dx)
    assert not hidden
