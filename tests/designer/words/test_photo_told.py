"""The report on a photograph: every mark and ball is told, what was set aside is flagged."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from designer.words.notes import note_told
from designer.words.photo import reading_told, where_to_look
from engine.errors import UnknownNameError
from engine.photo import mark_places, read_photo, report_json
from engine.photo.values import Mark
from engine.results import Note
from engine.storage.photo_files import load_photo_marks
from engine.tables import load_table, table_ids
from engine.units import length_text
from tests.engine.photo.test_photo_onto_routine import BASE, EVERY, PHOTO, RED, seen

DEMO = Path(__file__).resolve().parents[3] / "layouts_demo" / "photograph" / "table.photo.json"


@pytest.fixture(scope="module")
def marks():
    return load_photo_marks(DEMO)


def test_every_mark_and_ball_is_told(marks):
    text = reading_told(read_photo(marks))
    for ball in marks.balls:
        assert f"  {ball.id} " in text and "±" in text
    assert text.count(" px ") >= len(marks.marks) and "SET ASIDE" not in text
    none = reading_told(read_photo(replace(marks, balls=())))
    assert "none marked yet" in none


def test_a_mark_at_the_wrong_place_is_flagged(marks):
    wrong = replace(marks.marks[0], x_px=marks.marks[0].x_px + 60.0)
    found = read_photo(marks.with_mark(wrong))
    (bad,) = found.fit.bad_marks
    told = reading_told(found)
    assert "SET ASIDE" in told
    assert (
        f"Note: The mark of the {bad.place.title} is set aside: it lies {bad.distance_px:.0f} px "
        "from where the others put its place. Look at it again."
    ) in told


def test_marks_are_put_in_place_of_others_and_taken_out(marks):
    first = marks.marks[0]
    moved = replace(first, x_px=first.x_px + 1.0)
    assert marks.with_mark(moved).mark(first.place) == moved
    assert len(marks.with_mark(moved).marks) == len(marks.marks)
    assert marks.without_mark(first.place).mark(first.place) is None
    ball = replace(marks.balls[0], x_px=1.0)
    assert marks.with_ball(ball).ball(ball.id) == ball
    assert len(marks.with_ball(replace(ball, id="another")).balls) == len(marks.balls) + 1
    with pytest.raises(UnknownNameError):
        marks.ball("none such")


def test_marked_balls_left_are_named():
    notes = [note_told(note) for note in read_photo(PHOTO, BASE).notes]
    assert "Locked, and left where the routine has them: blue." in notes
    assert "Not marked, and left where the routine has them: cue, black." in notes
    named = {"cue": "white", "black": "black"}.get
    assert note_told(Note("unmarked-left", {"balls": ("cue", "black")}), named) == (
        "Not marked, and left where the routine has them: white, black."
    )


def test_a_ball_far_inside_another_is_told_to_be_looked_at_again():
    close = EVERY.with_ball(seen("red-1", "red", *RED))
    found = read_photo(close.with_ball(seen("red-2", "red", RED[0] + 10.0, RED[1])))
    (told,) = (note_told(note) for note in found.notes)
    moved = max(found.balls, key=lambda one: one.settled_mm)
    assert told == (
        f"The ball {moved.mark.id} was moved by {moved.settled_mm:.0f} mm to lie free of cushions "
        f"and other balls, more than its ± of {moved.within_mm:.0f} mm: look at its mark again."
    )
    text = reading_told(found)
    assert f"moved {moved.settled_mm:.0f} mm to lie free" in text and f"Note: {told}" in text


def test_the_report_counts_in_the_unit_asked_for():
    found = read_photo(PHOTO, BASE)
    text = reading_told(found, "inch")
    red = next(one for one in found.balls if one.mark.id == "red-1")
    for value in red.placed_mm:
        assert length_text(value, "inch") in text and length_text(value, "mm") not in text


def test_programs_are_told_the_same_notes():
    spoiled = PHOTO.mark("spot-pink")
    found = read_photo(PHOTO.with_mark(Mark("spot-pink", spoiled.x_px + 40.0, spoiled.y_px)), BASE)
    notes = report_json(found, words=note_told)["notes"]
    assert len(notes) == len(found.notes) > 2
    assert all(f"Note: {note}" in reading_told(found) for note in notes)


@pytest.mark.parametrize("table", table_ids())
def test_of_every_place_is_told_where_to_look(table):
    for place in mark_places(load_table(table)):
        assert "the " in where_to_look(place.id)
    assert where_to_look("my chalk cross") == "" and np.isfinite(place.at_mm).all()
