"""The report on a photograph: every mark and ball is told, what was set aside is flagged."""

from dataclasses import replace
from pathlib import Path

import pytest

from engine.errors import UnknownNameError
from engine.photo import read_photo
from engine.photo.report import report_text
from engine.storage.photo_files import load_photo_marks

DEMO = Path(__file__).resolve().parents[3] / "layouts_demo" / "photograph" / "table.photo.json"


@pytest.fixture(scope="module")
def marks():
    return load_photo_marks(DEMO)


def test_every_mark_and_ball_is_told(marks):
    text = report_text(read_photo(marks))
    for ball in marks.balls:
        assert f"  {ball.id} " in text and "±" in text
    assert text.count(" px ") >= len(marks.marks) and "SET ASIDE" not in text
    none = report_text(read_photo(replace(marks, balls=())))
    assert "none marked yet" in none


def test_a_mark_at_the_wrong_place_is_flagged(marks):
    wrong = replace(marks.marks[0], x_px=marks.marks[0].x_px + 60.0)
    found = read_photo(marks.with_mark(wrong))
    assert "SET ASIDE" in report_text(found)


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
