"""Marks on the cloth: edited, mirrored, moved to another table, read off a tape."""

from dataclasses import replace

import pytest

from engine.errors import OutOfRangeError, UnknownNameError
from engine.moving import WAYS, Target, move
from engine.placement import mark_placements
from engine.routine import edits
from engine.routine.context import table_of
from engine.routine.document import Document
from engine.routine.mirror import mirrored
from engine.routine.values import ClothMark, Routine

CROSS = ClothMark("mark-1", "cross", 300.0, 3000.0, note="chalk here")
LINE = ClothMark("mark-2", "line", 200.0, 900.0, 500.0, 1000.0)
ROUTINE = Routine(title="Marked", cloth_marks=(CROSS, LINE))


def test_marks_are_added_changed_and_taken_away_as_steps():
    document = Document(Routine())
    assert edits.free_mark_id(document.routine) == "mark-1"
    document.apply("add", lambda r: edits.add_mark(r, CROSS))
    document.apply("add", lambda r: edits.add_mark(r, LINE, at=0))
    assert document.routine.cloth_marks == (LINE, CROSS)
    assert edits.free_mark_id(document.routine) == "mark-3"
    document.apply("note", lambda r: edits.set_mark(r, "mark-1", replace(CROSS, note="stop here")))
    assert document.routine.cloth_mark("mark-1").note == "stop here"
    document.apply("remove", lambda r: edits.remove_mark(r, "mark-2"))
    assert [mark.id for mark in document.routine.cloth_marks] == ["mark-1"]
    for _ in range(4):
        document.undo()
    assert document.routine == Routine()


@pytest.mark.parametrize(
    ("mark", "told"),
    [
        (replace(CROSS, kind="star"), "one of: cross, dot, line"),
        (replace(CROSS, x_mm=float("nan")), "x_mm of cloth mark mark-1"),
        (replace(CROSS, to_x_mm=1.0), "left out"),
        (replace(LINE, to_y_mm=None), "a number of millimetres"),
    ],
)
def test_marks_no_routine_may_hold_are_refused(mark, told):
    with pytest.raises(OutOfRangeError, match=told):
        edits.add_mark(Routine(), mark)
    with pytest.raises(UnknownNameError, match="cloth mark"):
        edits.remove_mark(Routine(), mark.id)


@pytest.mark.parametrize("axis", ["long", "cross"])
def test_mirrored_marks_lie_on_the_other_side_and_twice_where_they_were(axis):
    table = table_of(ROUTINE)
    once = mirrored(ROUTINE, table, axis)
    line = once.cloth_mark("mark-2")
    if axis == "long":
        assert line.places_mm == ((table.width_mm - 200.0, 900.0), (table.width_mm - 500.0, 1000.0))
    else:
        assert line.places_mm[0] == (200.0, table.length_mm - 900.0)
    assert mirrored(once, table, axis).cloth_marks == ROUTINE.cloth_marks


@pytest.mark.parametrize("by", WAYS)
def test_marks_go_along_to_another_table(by):
    moved = move(ROUTINE, Target("snooker-10ft"), by).routine
    table = table_of(moved)
    for mark in moved.cloth_marks:
        assert all(0 < x < table.width_mm and 0 < y < table.length_mm for x, y in mark.places_mm)
    cross = moved.cloth_mark("mark-1")
    if by == "cushions":
        # Nearest the left and the top cushion: those distances stay (569 mm from the top).
        assert cross.x_mm == pytest.approx(300.0)
        assert table.length_mm - cross.y_mm == pytest.approx(569.0)
    assert cross.note == "chalk here"


def test_readings_are_to_the_mark_itself_and_a_line_has_two():
    cross, start, end = mark_placements(ROUTINE)
    assert (cross.across.cushion, cross.across.centre_mm, cross.across.edge_mm) == (
        "left",
        300.0,
        300.0,
    )
    assert (start.end, end.end, end.across.centre_mm, end.along.centre_mm) == (1, 2, 500.0, 1000.0)
