"""A photograph read into a routine that is there already: what it moves, keeps and tells."""

from dataclasses import replace

import numpy as np
import pytest

from engine.balls import Ball
from engine.errors import OutOfRangeError
from engine.photo import WITHIN_KEY, BallMark, read_photo, report_json
from engine.photo.values import Mark
from engine.results import Note
from engine.routine.values import Routine
from engine.version import VERSION
from tests.engine.photo.cases import plain_case
from tests.engine.photo.darkroom import RADIUS_MM, Lens, Pose

POSE = Pose((700, -1200, 1550), (900, 1600, 0), (4000, 3000), 26.0, 0.01, Lens())
EVERY = plain_case(POSE, 1.0, seed=5)
BLUE, RED = (889.0, 1784.5), (600.0, 1200.0)


def seen(name, kind, x, y):
    return BallMark(name, kind, *map(float, POSE.ball_middle(np.array([x, y, RADIUS_MM]))))


PHOTO = EVERY.with_ball(seen("blue", "blue", *BLUE)).with_ball(seen("red-1", "red", *RED))
#: The blue is locked 40 mm from where it is seen, the black was not marked.
BASE = Routine(
    "Blue to the middle",
    balls=(
        Ball("cue", "cue", 300.0, 500.0),
        Ball("red-1", "red", 700.0, 1000.0),
        Ball("blue", "blue", BLUE[0] + 40.0, BLUE[1], locked=True),
        Ball("black", "black", 889.0, 3245.0),
    ),
)  # fmt: skip


def test_marked_balls_move_locked_and_unmarked_ones_stay_and_are_named():
    found = read_photo(PHOTO, BASE)
    balls = {ball.id: ball for ball in found.routine.balls}
    assert list(balls) == ["cue", "red-1", "blue", "black"], "in the routine’s own order"
    assert np.hypot(*np.subtract(balls["red-1"].centre_mm, RED)) < 12.0
    assert balls["blue"].centre_mm == (BLUE[0] + 40.0, BLUE[1]) and balls["blue"].locked
    for name in ("cue", "black"):
        assert balls[name] == BASE.ball(name)
    assert WITHIN_KEY in balls["red-1"].extra and WITHIN_KEY not in balls["black"].extra
    assert Note("locked-left", {"balls": ("blue",)}) in found.notes
    assert Note("unmarked-left", {"balls": ("cue", "black")}) in found.notes
    kinds = [note.kind for note in found.notes]
    assert "ball-settled-far" not in kinds, "a lock is no slip of the hand"
    assert found.routine.title == BASE.title


def test_a_ball_that_was_not_marked_gives_way_to_one_that_was():
    base = replace(BASE, balls=(Ball("cue", "cue", RED[0] + 10.0, RED[1]),))
    found = read_photo(PHOTO, base)
    cue, red = found.routine.ball("cue"), found.routine.ball("red-1")
    assert np.hypot(*np.subtract(red.centre_mm, RED)) < 12.0
    assert np.hypot(*np.subtract(cue.centre_mm, red.centre_mm)) >= 2 * RADIUS_MM - 1e-6
    assert [ball.id for ball in found.routine.balls] == ["cue", "blue", "red-1"]


def test_a_ball_far_inside_another_is_told_to_be_looked_at_again():
    """Two marks 10 mm apart where 52.5 have to be: more than either ± allows."""
    close = EVERY.with_ball(seen("red-1", "red", *RED))
    close = close.with_ball(seen("red-2", "red", RED[0] + 10.0, RED[1]))
    found = read_photo(close)
    (told,) = (note for note in found.notes if note.kind == "ball-settled-far")
    moved = max(found.balls, key=lambda one: one.settled_mm)
    assert moved.settled_mm == pytest.approx(42.5, abs=1.0)
    assert told.values == {
        "ball": moved.mark.id, "moved_mm": moved.settled_mm, "within_mm": moved.within_mm,
    }  # fmt: skip


def test_another_table_than_the_photographed_one_is_refused():
    with pytest.raises(OutOfRangeError) as told:
        read_photo(PHOTO, Routine(table="snooker-10ft"))
    assert str(told.value) == (
        "the table of the marks is snooker-12ft; wanted snooker-10ft, the routine’s. "
        "Move the routine to the table photographed, or name that table in the marks."
    )


@pytest.mark.slow
def test_the_report_for_programs_tells_the_same_as_the_reading():
    spoiled = PHOTO.mark("spot-pink")
    photo = PHOTO.with_mark(Mark("spot-pink", spoiled.x_px + 40.0, spoiled.y_px))
    found = read_photo(photo, BASE)
    told = report_json(found, words=lambda note: note.kind)
    assert told["engine_version"] == VERSION
    assert told["camera"]["picture_px"] == [4000, 3000]
    assert told["camera"]["at_mm"] == pytest.approx(POSE.at, abs=40.0)
    assert told["camera"]["focal_35mm"] == pytest.approx(26.0, rel=0.03)
    bad = [one for one in told["marks"] if one["bad"]]
    assert [one["place"] for one in bad] == ["spot-pink"]
    assert bad[0]["off_x_px"] == pytest.approx(40.0, abs=5.0)
    assert bad[0]["at_mm"] == [889.0, 2676.75, 0.0]
    balls = {one["id"]: one for one in told["balls"]}
    assert balls["blue"]["x_mm"] == BLUE[0] + 40.0, "the locked ball's own place"
    assert balls["blue"]["read_x_mm"] == pytest.approx(BLUE[0], abs=12.0)
    assert balls["red-1"]["kind"] == "red" and 0.0 < balls["red-1"]["within_mm"] < 30.0
    assert told["notes"] == [note.kind for note in found.notes] and told["notes"]


def test_a_ball_is_taken_out_of_the_marks_by_its_name():
    fewer = PHOTO.without_ball("blue")
    assert [ball.id for ball in fewer.balls] == ["red-1"]
    assert fewer.marks == PHOTO.marks and PHOTO.without_ball("none such") == PHOTO
