"""Files of what was marked in a photograph: round trips, faults by path, the picture beside."""

import json

import numpy as np
import pytest

from engine.errors import RoutineFileError
from engine.photo import BallMark, Mark, PhotoMarks, jpeg_of, mark_places
from engine.storage import photo_files
from engine.storage.photo_files import (
    checked_picture,
    dump_photo_marks,
    load_photo_marks,
    load_picture,
    parse_photo_marks,
    save_blank_marks,
    save_photo_marks,
)
from engine.storage.schemas import photo_schema
from engine.tables import load_table

PHOTO = PhotoMarks(
    "table.jpg", (300, 200), "snooker-12ft", 26.0, 2.0,
    (
        Mark("spot-blue", 10.5, 20.25),
        Mark("chalk", 1.0, 2.0, (5.5, 6.0, 0.0)),
        Mark("middle-left", -3.0, 40.0, extra={"by": "hand"}),
    ),
    (BallMark("cue", "cue", 100.0, 50.0), BallMark("red-1", "red", 1.0, 2.0, 0.5)),
    {"remark": "back room"},
)  # fmt: skip


def test_a_round_trip_keeps_everything():
    again = parse_photo_marks(dump_photo_marks(PHOTO))
    assert again == PHOTO
    assert again.extra == {"remark": "back room"} and again.marks[2].extra == {"by": "hand"}


def test_what_is_written_fits_the_schema_that_is_published():
    from jsonschema import Draft202012Validator

    Draft202012Validator.check_schema(photo_schema())
    Draft202012Validator(photo_schema()).validate(json.loads(dump_photo_marks(PHOTO)))


def test_every_fault_is_told_with_its_path():
    data = json.loads(dump_photo_marks(PHOTO))
    data["size_px"] = [300]
    data["marks"][0]["x_px"] = "left"
    data["balls"][1]["kind"] = "purple"
    data["marking_px"] = 0
    with pytest.raises(RoutineFileError) as told:
        parse_photo_marks(json.dumps(data), "m.json")
    assert {fault.path for fault in told.value.faults} == {
        "size_px", "marks[0].x_px", "balls[1].kind", "marking_px",
    }  # fmt: skip
    words = str(told.value)
    assert "wanted one of cue, red" in words and "m.json" in words


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is empty"),
        ("[1]", "holds a list"),
        ('{"format": "baizewright-routine", "version": 1}', "no photo marks file"),
        ('{"format": "baizewright-photo", "version": 9, "size_px": [1, 1]}', "newer Baizewright"),
        ('{"format": "baizewright-photo", "version": 1}', "size_px: is missing"),
    ],
)
def test_other_files_are_refused(text, words):
    with pytest.raises(RoutineFileError, match=words):
        parse_photo_marks(text)


def test_a_blank_file_names_every_place_and_marks_none(tmp_path):
    places = {one.id: f"the {one.title}" for one in mark_places(load_table("snooker-12ft"))}
    save_blank_marks(PHOTO, places, tmp_path / "blank.json")
    data = json.loads((tmp_path / "blank.json").read_text())
    assert [one["place"] for one in data["marks"]] == list(places)
    assert [one["look_for"] for one in data["marks"]] == list(places.values())
    found = load_photo_marks(tmp_path / "blank.json")
    assert found.marks == () and found.balls == ()
    data["marks"][3] |= {"x_px": 4.0, "y_px": 5}
    assert parse_photo_marks(json.dumps(data)).marks[0].at_px == (4.0, 5)


def test_the_picture_beside_must_be_the_one_marked(tmp_path):
    marks = tmp_path / "marks.json"
    save_photo_marks(PHOTO, marks)
    with pytest.raises(RoutineFileError, match="no such file"):
        checked_picture(marks, PHOTO)
    (tmp_path / "table.jpg").write_bytes(jpeg_of(np.zeros((200, 300, 3), np.uint8)))
    assert checked_picture(marks, load_photo_marks(marks)).size_px == (300, 200)
    (tmp_path / "table.jpg").write_bytes(jpeg_of(np.zeros((300, 200, 3), np.uint8)))
    with pytest.raises(RoutineFileError, match="wanted 200 by 300"):
        checked_picture(marks, PHOTO)
    with pytest.raises(RoutineFileError, match="name of the picture"):
        checked_picture(marks, PhotoMarks(size_px=(3, 3)))


def test_files_that_cannot_be_pictures(tmp_path, monkeypatch):
    with pytest.raises(RoutineFileError, match="folder"):
        load_picture(tmp_path)
    (tmp_path / "big.jpg").write_bytes(b"x" * 100)
    monkeypatch.setattr(photo_files, "MOST_BYTES", 50)
    with pytest.raises(RoutineFileError, match="has 100 bytes, wanted at most 50; this is no pho"):
        load_picture(tmp_path / "big.jpg")
