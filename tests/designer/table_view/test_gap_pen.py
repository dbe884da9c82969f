"""Gaps drawn from edge to edge with the pointer."""

import pytest
from PySide6.QtCore import Qt

from designer.table_view.pointer_marks import POINTER
from tests.designer.pixels import count_of

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def draw(qtbot, canvas, on_table):
    def do(start_mm, end_mm, let_go=True):
        qtbot.keyClick(canvas, Qt.Key.Key_G)
        start, end = on_table(*start_mm), on_table(*end_mm)
        qtbot.mousePress(canvas, LEFT, pos=start)
        for step in range(1, 5):
            qtbot.mouseMove(canvas, start + (end - start) * step / 4)
        if let_go:
            qtbot.mouseRelease(canvas, LEFT, pos=end)

    return do


def test_from_ball_to_ball(draw, session, canvas):
    before = session.routine.balls
    draw((1180.0, 1250.0), (1420.0, 1180.0))
    (gap,) = session.routine.gaps
    assert gap.kind == "ball-ball" and set(gap.balls) == {"red-1", "red-2"}
    assert session.routine.balls == before and not canvas.hands.pen.on
    assert session.document.undo_name == "Add gap red R1 and red R2"


@pytest.mark.parametrize("backwards", [False, True])
def test_between_a_ball_and_a_cushion_either_way(draw, session, backwards):
    ends = [(1420.0, 1180.0), (1772.0, 1200.0)]
    draw(*(reversed(ends) if backwards else ends))
    (gap,) = session.routine.gaps
    assert (gap.kind, gap.balls, gap.cushion) == ("ball-cushion", ("red-2",), "right")


def test_along_a_cushion_it_is_a_stretch(draw, session):
    draw((600.0, 3560.0), (1100.0, 3575.0))
    (gap,) = session.routine.gaps
    assert (gap.kind, gap.cushion) == ("cushion-stretch", "top")
    assert (gap.from_mm, gap.to_mm) == pytest.approx((600.0, 1100.0), abs=6.0)


def test_the_line_is_seen_while_it_is_drawn(draw, canvas, window):
    plain = count_of(canvas, POINTER)
    draw((1180.0, 1250.0), (900.0, 700.0), let_go=False)
    assert count_of(canvas, POINTER) > plain + 50
    canvas.hands.give_up()


@pytest.mark.parametrize(
    ("ends", "words"),
    [
        (((300.0, 2700.0), (1180.0, 1250.0)), "begins at a ball"),
        (((1180.0, 1250.0), (300.0, 2700.0)), "one edge only"),
        (((1180.0, 1250.0), (1180.0, 1250.0)), "two different edges"),
        (((640.0, 1420.0), (1180.0, 1250.0)), "cue ball is no edge"),
        (((5.0, 1000.0), (900.0, 5.0)), "no gap"),
    ],
)
def test_what_is_no_gap_is_told_and_nothing_changes(draw, session, told, ends, words, canvas):
    draw(*ends)
    assert session.routine.gaps == () and words in told[-1].what
    assert canvas.hands.pen.on


def test_escape_ends_drawing_and_the_action_shows_it(qtbot, canvas, window, session):
    window.menus.draw_gap.trigger()
    assert canvas.hands.pen.on and window.menus.draw_gap.isChecked()
    qtbot.keyClick(canvas, Qt.Key.Key_Escape)
    assert not canvas.hands.pen.on and not window.menus.draw_gap.isChecked()
