"""Balls drawn to spots, lines, cushions and each other; distances typed with a ball in hand."""

import math

import pytest
from PySide6.QtCore import Qt

from designer.open_routine.snapping import snapped
from tests.designer.pixels import pixels_of

LEFT = Qt.MouseButton.LeftButton
CTRL = Qt.KeyboardModifier.ControlModifier
RADIUS = 26.25


@pytest.fixture
def carry(qtbot, canvas, on_table, session):
    """Drag a ball to a place and keep it in hand, or let it go."""

    def do(ball, to_mm, let_go=True, keys=Qt.KeyboardModifier.NoModifier):
        start = on_table(*session.routine.ball(ball).centre_mm)
        end = on_table(*to_mm)
        qtbot.mousePress(canvas, LEFT, pos=start)
        for step in range(1, 7):
            _move(canvas, start + (end - start) * step / 6, keys)
            qtbot.wait(1)
        canvas.hands.catch_up()
        if let_go:
            qtbot.mouseRelease(canvas, LEFT, pos=end)

    return do


def _move(canvas, at, keys):
    from PySide6.QtCore import QEvent, QPointF
    from PySide6.QtGui import QMouseEvent
    from PySide6.QtWidgets import QApplication

    event = QMouseEvent(
        QEvent.Type.MouseMove, QPointF(at), canvas.mapToGlobal(QPointF(at)), LEFT, LEFT, keys
    )
    QApplication.sendEvent(canvas, event)


@pytest.mark.parametrize(
    ("near", "place", "words"),
    [
        ((896.0, 742.0), (889.0, 737.0), "brown spot"),
        ((880.0, 1100.0), (889.0, None), "long middle line"),
        ((300.0, 742.0), (None, 737.0), "baulk line"),
        ((500.0, 1790.0), (None, 1784.5), "cross line"),
        ((35.0, 2500.0), (RADIUS, None), "touching the left cushion"),
        ((1745.0, 3535.0), (1778 - RADIUS, 3569 - RADIUS), "left"),
    ],
)
def test_a_ball_near_a_mark_is_drawn_to_it(carry, session, near, place, words):
    if words == "left":  # in a corner stands a pocket: no ball can lie there
        carry("red-1", near)
        assert session.answer.problems == ()
        return
    carry("red-1", near, let_go=False)
    x, y = session.routine.ball("red-1").centre_mm
    assert place[0] is None or x == pytest.approx(place[0], abs=1e-6)
    assert place[1] is None or y == pytest.approx(place[1], abs=1e-6)


def test_what_it_is_drawn_to_is_told_on_the_canvas(carry, canvas):
    carry("red-1", (300.0, 742.0), let_go=False)
    assert "baulk line" in canvas.hands.snap.words
    told = (pixels_of(canvas) == (0x1B, 0x23, 0x27)).all(axis=2).sum()
    canvas.hands.snap = None
    assert told > (pixels_of(canvas) == (0x1B, 0x23, 0x27)).all(axis=2).sum() + 300


def test_control_keeps_it_free(carry, session, canvas):
    carry("red-1", (300.0, 742.0), keys=CTRL)
    assert abs(session.routine.ball("red-1").y_mm - 737.0) > 1.0
    assert canvas.hands.snap is None


def test_a_ball_is_drawn_to_touch_another(carry, session, canvas):
    blue = session.routine.ball("blue").centre_mm
    carry("red-1", (blue[0] + 40.0, blue[1] + 40.0), let_go=False)
    ball = session.routine.ball("red-1")
    assert math.dist(ball.centre_mm, blue) == pytest.approx(2 * RADIUS, abs=1e-4)
    assert "touching blue" in canvas.hands.snap.words
    assert session.answer.problems == ()


def test_two_things_at_once_win_over_one(session):
    routine, table = session.routine, session.table
    wanted = (889.0 + 3.0, 1784.5 + 2 * RADIUS + 4.0)
    snap = snapped(routine, table, RADIUS, "red-1", wanted, 15.0, {"blue": "blue"})
    assert snap.fixed == 2 and "touching blue" in snap.words and "middle line" in snap.words
    assert snap.place_mm == pytest.approx((889.0, 1784.5 + 2 * RADIUS), abs=1e-3)


def test_no_snap_leads_into_another_ball(session):
    # The blue lies on its spot: nothing else can be drawn onto that.
    snap = snapped(session.routine, session.table, RADIUS, "red-1", (890.0, 1785.0), 60.0, {})
    assert snap is None or math.dist(snap.place_mm, (889.0, 1784.5)) >= 2 * RADIUS


def test_a_typed_distance_is_held_from_the_nearest_cushion(qtbot, carry, session, canvas):
    carry("red-1", (700.0, 1300.0), let_go=False)
    qtbot.keyClicks(canvas, "250")
    assert canvas.hands.holding.words() == "250 mm from the left cushion"
    assert session.routine.ball("red-1").x_mm == pytest.approx(250.0)
    carry_on = session.routine.ball("red-1").y_mm
    qtbot.keyClick(canvas, Qt.Key.Key_Backspace)
    assert session.routine.ball("red-1").x_mm == pytest.approx(RADIUS, abs=1e-3)
    qtbot.keyClicks(canvas, "0")
    assert session.routine.ball("red-1").x_mm == pytest.approx(250.0)
    assert session.routine.ball("red-1").y_mm == pytest.approx(carry_on)
    qtbot.keyClick(canvas, Qt.Key.Key_Return)
    qtbot.keyClicks(canvas, "1000.5")
    qtbot.mouseRelease(canvas, LEFT)
    assert session.routine.ball("red-1").centre_mm == pytest.approx((250.0, 1000.5))
    assert session.document.undo_name == "Move red R1"
    session.undo()
    assert session.document.undo_name == ""


def test_typed_from_the_far_side_and_in_inches(qtbot, carry, session, canvas):
    session.set_unit("inch")
    carry("red-1", (1500.0, 1260.0), let_go=False)
    qtbot.keyClicks(canvas, "10")
    assert session.routine.ball("red-1").x_mm == pytest.approx(1778.0 - 254.0)
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert session.routine.ball("red-1").centre_mm == (1180.0, 1250.0)


def test_figures_without_a_ball_in_hand_do_what_they_did(qtbot, canvas, session):
    canvas.frame.zoom_at(canvas.rect().center().toPointF(), 2.0)
    qtbot.keyClicks(canvas, "0")
    assert canvas.frame.zoom == 1.0
    assert session.document.undo_name == ""
