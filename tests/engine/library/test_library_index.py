"""The index follows the files, and can be thrown away at any time."""

import json
import os
import shutil
import sqlite3
import sys
from dataclasses import replace

import pytest

from engine.errors import OutOfRangeError
from engine.library import Library, LibraryError, Query, tag_file
from engine.storage import dump_routine, load_routine, save_routine
from tests.engine.library.generated_routines import generated, write_library


@pytest.fixture
def folder(tmp_path):
    made = tmp_path / "routines"
    write_library(made, 30)
    return made


def titles(library, query=None):
    return [entry.title for entry in library.search(query)]


def test_every_routine_is_found_by_title_in_order(library):
    wanted = sorted((generated(number).title for number in range(30)), key=str.casefold)
    assert titles(library) == wanted


def test_a_second_look_reads_nothing_again(library):
    found = library.refresh()
    assert (found.seen, found.new, found.changed, found.gone) == (30, 0, 0, 0)
    assert not found.differs


def test_changed_new_and_gone_files_are_noticed(library, folder):
    paths = sorted(folder.rglob("*.json"))
    changed = replace(load_routine(paths[0]), title="Altogether another")
    save_routine(changed, paths[0])
    paths[1].unlink()
    (folder / "deeper" / "still").mkdir(parents=True)
    new = replace(generated(99), title="Brand new")
    save_routine(new, folder / "deeper" / "still" / "new.json")
    found = library.refresh()
    assert (found.new, found.changed, found.gone) == (1, 1, 1)
    assert {"Altogether another", "Brand new"} <= set(titles(library))
    assert generated(1).title not in titles(library)
    assert titles(library, Query(words="altogether")) == ["Altogether another"]


def test_a_change_that_keeps_size_and_time_is_noticed(library, folder):
    path = sorted(folder.rglob("*.json"))[0]
    about = path.stat()
    text = path.read_text(encoding="utf-8")
    title = json.loads(text)["title"]
    other = title[:-1] + ("7" if title[-1] != "7" else "8")
    save = path.with_suffix(".new")
    save.write_text(text.replace(title, other), encoding="utf-8")
    os.utime(save, ns=(about.st_atime_ns, about.st_mtime_ns))
    save.replace(path)
    assert path.stat().st_size == about.st_size
    library.refresh()
    assert other in titles(library)


def test_other_files_are_passed_over_and_faulty_ones_told(library, folder):
    (folder / "plan.json").write_text('{"format": "baizewright-plan", "version": 1}')
    (folder / "other.json").write_text("[1, 2]")
    (folder / ".hidden.json").write_text("nonsense")
    (folder / "torn.json").write_text('{"format": "baizewright-routine", "ver')
    (folder / "level.json").write_text(
        '{"format": "baizewright-routine", "version": 1, "level": 9}'
    )
    found = library.refresh()
    assert found.faulty == 2
    faulty = {entry.title: entry.fault for entry in library.search(Query(faulty=True))}
    assert set(faulty) == {"torn", "level"}
    assert "level: is 9, wanted a whole number from 1 to 5" in faulty["level"]
    assert library.count() == 30


@pytest.mark.skipif(sys.platform != "linux", reason="names of any bytes are Linux's")
def test_a_name_that_is_no_text_is_told_and_passed_over(library, folder):
    source = sorted(folder.rglob("*.json"))[0]
    with open(os.fsencode(folder) + b"/na\xffme.json", "wb") as file:
        file.write(source.read_bytes())
    found = library.refresh()
    assert len(found.unreadable) == 1 and found.unreadable[0].endswith("na\\xffme.json")
    assert library.count() == 30


@pytest.mark.parametrize("start", [100, 4096], ids=["all but the header", "all but the first page"])
def test_a_damaged_index_is_made_anew(library, folder, tmp_path, start):
    library.close()
    index = tmp_path / "index.sqlite"
    data = bytearray(index.read_bytes())
    data[start:] = b"\xff" * (len(data) - start)
    index.write_bytes(data)
    again = Library([folder], index)
    assert again.refresh().new == 30
    again.close()


def test_a_sound_index_is_kept_when_it_is_opened_again(library, folder, tmp_path):
    library.look_at_reach()
    library.close()
    again = Library([folder], tmp_path / "index.sqlite")
    assert again.count() == 30, "before any look"
    assert not again.refresh().differs
    assert again.look_at_reach() == 0
    again.close()


def test_an_index_of_another_layout_is_made_anew(library, folder, tmp_path):
    library.close()
    connection = sqlite3.connect(tmp_path / "index.sqlite")
    connection.execute("PRAGMA user_version = 999")
    connection.close()
    again = Library([folder], tmp_path / "index.sqlite")
    assert again.refresh().new == 30
    again.close()


@pytest.mark.slow
def test_stopping_keeps_what_was_done_and_goes_on_later(tmp_path):
    write_library(tmp_path / "many", 250)
    library = Library([tmp_path / "many"], tmp_path / "index.sqlite")
    found = library.refresh(lambda done, wanted: done < 100)
    assert found.broken_off and found.new == 100
    assert library.refresh().new == 150
    assert library.count() == 250
    library.close()


def test_a_folder_that_is_taken_away_takes_its_routines_along(library, folder):
    shutil.rmtree(folder / "shelf-00")
    assert library.refresh().gone == 30
    assert library.count() == 0


def test_folders_share_an_index_and_are_told_apart(library, tmp_path):
    write_library(tmp_path / "other", 5, seed=3)
    other = Library([tmp_path / "other"], tmp_path / "index.sqlite")
    other.refresh()
    assert (other.count(), library.count()) == (5, 30)
    other.close()


def test_a_folder_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(OutOfRangeError, match="wanted a folder that is there"):
        Library([tmp_path / "nowhere"], tmp_path / "index.sqlite")


def test_an_index_that_cannot_be_kept_is_refused(folder, tmp_path):
    (tmp_path / "file").write_text("")
    with pytest.raises(LibraryError, match="Name a place for it"):
        Library([folder], tmp_path / "file" / "index.sqlite")


def test_pictures_are_painted_once_for_a_content(library, folder):
    painted = []

    def paint(routine):
        painted.append(routine.title)
        return routine.title.encode()

    entries = library.search()
    assert library.make_thumbnails(entries, "test 1", paint) == 30
    assert library.make_thumbnails(entries, "test 1", paint) == 0
    assert library.thumbnail(entries[0], "test 1") == entries[0].title.encode()
    assert library.thumbnail(entries[0], "test 2") is None
    path = folder / "shelf-00" / "copy.json"
    path.write_text((folder / "shelf-00" / "routine-0003.json").read_text(encoding="utf-8"))
    library.refresh()
    assert library.make_thumbnails(library.search(), "test 1", paint) == 0, "the same content"


def test_tags_go_into_the_file(library, folder):
    path = folder / "shelf-00" / "routine-0000.json"
    before = load_routine(path)
    assert "thursday" in tag_file(path, add=["thursday", " thursday "])
    assert load_routine(path) == replace(before, tags=(*before.tags, "thursday"))
    tag_file(path, drop=["THURSDAY"])
    assert load_routine(path) == before
    with pytest.raises(OutOfRangeError, match="wanted a word or two"):
        tag_file(path, add=["x" * 61])
    assert path.read_text(encoding="utf-8") == dump_routine(before)
