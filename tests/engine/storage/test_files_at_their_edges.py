"""Sizes, paths and systems at the edge: nothing is read that is too large, no name is lost."""

import os

import pytest

from engine.errors import RoutineFileError
from engine.routine.values import Routine
from engine.storage import dump_routine, named_from, parse_routine, save_routine
from engine.storage.files import fingerprint, save_text
from engine.storage.new_files import settle_folder
from engine.storage.own_plans import PlanItem, file_of
from engine.storage.paths import without
from engine.storage.photo_files import picture_name
from engine.storage.reading import MAX_BYTES, decode


def test_a_text_too_large_is_refused_by_its_size():
    text = dump_routine(Routine(notes="x" * MAX_BYTES))
    with pytest.raises(RoutineFileError) as told:
        parse_routine(text, "long.json")
    wanted = f"long.json: the file: has {len(text):,} bytes, wanted at most 4,000,000"
    assert str(told.value).startswith(wanted)
    with pytest.raises(RoutineFileError, match="has 4,000,001 bytes, wanted at most 4,000,000"):
        decode(b" " * (MAX_BYTES + 1), "long.json")
    assert decode(b" " * MAX_BYTES, "long.json") == " " * MAX_BYTES


@pytest.mark.parametrize(
    ("path", "left"),
    [
        (("balls", 1, "x_mm"), {"balls": [{"x_mm": 1}, {}], "tags": "none"}),
        (("balls", 0), {"balls": [{}, {"x_mm": 2}], "tags": "none"}),
        (("tags",), {"balls": [{"x_mm": 1}, {"x_mm": 2}]}),
        (("shots", 0, "id"), None),
        (("balls", 7, "x_mm"), None),
        (("balls", 7), None),
        (("balls", "first"), None),
        (("tags", "first", "letter"), None),
        (("tags", 0), None),
        ((), None),
    ],
)
def test_what_is_taken_out_by_its_path_and_what_is_not_there_changes_nothing(path, left):
    def data():
        return {"balls": [{"x_mm": 1}, {"x_mm": 2}], "tags": "none"}

    given = data()
    without(given, path)
    assert given == (data() if left is None else left)


def test_a_fingerprint_of_what_cannot_be_read_is_none(tmp_path):
    file = tmp_path / "a.json"
    file.write_text("{}", encoding="utf-8")
    # sha256 of the two letters, as any other program works it out
    assert fingerprint(file) == "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a"
    assert fingerprint(tmp_path) == "" and fingerprint("a\0b") == ""
    with (tmp_path / "long").open("wb") as out:
        out.truncate(MAX_BYTES + 1)
    assert fingerprint(tmp_path / "long") == ""


def test_a_fingerprint_of_a_file_that_goes_while_it_is_read_is_none(tmp_path, monkeypatch):
    file = tmp_path / "a.json"
    file.write_text("{}", encoding="utf-8")

    def gone(_handle, _most):
        raise PermissionError(13, "not any more")

    monkeypatch.setattr("engine.storage.reading.os.read", gone)
    assert fingerprint(file) == ""


def test_where_folders_cannot_be_forced_to_disk_a_save_is_whole_all_the_same(tmp_path, monkeypatch):
    """As on Windows, where a folder cannot be opened: nothing of it is asked for."""
    opened = []
    real = os.open

    def noting(path, *how):
        opened.append(path)
        return real(path, *how)

    monkeypatch.setattr("engine.storage.new_files.os.open", noting)
    save_text("one", tmp_path / "posix.txt", "other")
    assert opened.count(tmp_path) == 1, "the folder"
    monkeypatch.setattr("engine.storage.new_files.os.name", "nt")
    try:
        settle_folder(tmp_path)
    finally:
        monkeypatch.undo()
    assert opened.count(tmp_path) == 1
    assert (tmp_path / "posix.txt").read_text(encoding="utf-8") == "one"


def test_a_save_through_a_folder_that_is_none_changes_nothing(tmp_path):
    (tmp_path / "file").write_text("kept", encoding="utf-8")
    with pytest.raises(RoutineFileError) as told:
        save_routine(Routine("Black"), tmp_path / "file" / "black.json")
    assert "cannot be saved: a part of its path is a file, not a folder" in str(told.value)
    assert (tmp_path / "file").read_text(encoding="utf-8") == "kept"
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


def test_a_picture_and_a_plans_routines_are_named_from_beside_the_file(tmp_path):
    marks = tmp_path / "photos" / "table.photo.json"
    assert picture_name(tmp_path / "photos" / "table.jpg", marks) == "table.jpg"
    assert picture_name(tmp_path / "other" / "table.jpg", marks) == "../other/table.jpg"
    plan = tmp_path / "plans" / "monday.json"
    name = named_from(tmp_path / "drills" / "black.json", plan)
    assert name == "../drills/black.json"
    assert file_of(PlanItem(name), plan) == tmp_path / "drills" / "black.json"


def test_from_another_drive_the_whole_name_is_written(tmp_path, monkeypatch):
    """No way leads from one drive of Windows to another: `relpath` refuses to name one."""

    def other_drive(path, start):
        raise ValueError(f"path is on mount 'D:', start on mount 'C:' ({path}, {start})")

    monkeypatch.setattr(os.path, "relpath", other_drive)
    there = tmp_path / "black.json"
    assert named_from(there, tmp_path / "plan.json") == there.as_posix()
    assert picture_name(tmp_path / "table.jpg", tmp_path / "m.json") == (
        (tmp_path / "table.jpg").resolve().as_posix()
    )
