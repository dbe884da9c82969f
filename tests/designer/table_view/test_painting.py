"""What the canvas paints: the drawing to scale, the table kept, the ball pointed at."""

import pytest
from PySide6.QtGui import QColor

from designer.drawing.look import BALL_INKS
from designer.table_view.pointer_marks import POINTER
from designer.table_view.table_picture import STILL, TablePicture, look_at
from tests.designer.pixels import count_near


def colour_at(canvas, point):
    picture = canvas.grab()
    ratio = picture.devicePixelRatio()
    return picture.toImage().pixelColor(point * ratio).name()


def count_of(canvas, name):
    image = canvas.grab().toImage()
    wanted = QColor(name).rgb()
    return sum(
        image.pixel(x, y) == wanted for x in range(image.width()) for y in range(image.height())
    )


def test_a_ball_is_painted_where_it_stands(canvas, session, on_table):
    session.set_view(session.view.with_layer("ball_letters", False))
    for ball_id in ("blue", "black", "red-2"):
        ball = session.routine.ball(ball_id)
        assert colour_at(canvas, on_table(*ball.centre_mm)) == BALL_INKS[ball.kind].fill


@pytest.mark.slow
def test_the_selected_ball_is_ringed(canvas, session):
    assert count_of(canvas, POINTER) == 0
    session.point_at_ball("red-1")
    assert count_of(canvas, POINTER) > 20


def test_readings_show_while_a_ball_is_in_hand(canvas, session):
    session.point_at_ball("red-1")
    ring = count_near(canvas, POINTER)
    canvas.hands.dragged = "red-1"
    assert count_near(canvas, POINTER) > ring + 200
    canvas.hands.dragged = ""


def test_the_drawing_is_rebuilt_only_when_something_changed(session):
    scenery = TablePicture(session)
    first = scenery.drawing(0.3)
    assert scenery.drawing(0.3) is first
    session.balls.nudge("red-1", 1.0, 0.0)
    second = scenery.drawing(0.3)
    assert second is not first
    session.set_view(session.view.with_layer("lanes", False))
    assert scenery.drawing(0.3) is not second
    assert [i for i in first.items if i.role in STILL] == [
        i for i in scenery.drawing(0.3).items if i.role in STILL
    ]


@pytest.mark.parametrize("px_per_mm", [0.12, 0.25, 0.5])
def test_letters_keep_a_readable_size_at_any_zoom(px_per_mm):
    look = look_at(px_per_mm, True)
    assert look.text_mm * px_per_mm >= 10.5
    assert look.line_mm * px_per_mm >= 0.9


def test_an_unknown_table_is_told_instead_of_painted(make_session, qtbot):
    from dataclasses import replace

    from designer.table_view import TableCanvas

    session = make_session()
    session.document.replace(replace(session.routine, table="billiard-hall"))
    canvas = TableCanvas(session)
    qtbot.addWidget(canvas)
    canvas.resize(600, 400)
    assert not canvas.grab().isNull()
