"""Databases of ours carry a number; a file of anything else is refused and not touched at all."""

import contextlib
import os
import re
import shutil
import sqlite3
import stat
import subprocess
import sys
from datetime import date
from pathlib import Path

import pytest

from engine.library import Library, LibraryError
from engine.library.store import LAYOUT, Store
from engine.records import Practice, Records, RecordsError
from engine.storage.database_kinds import INDEX, RECORDS, store_at
from tests.engine.library.generated_routines import generated, write_library
from tests.shares import mixed

POSIX = pytest.mark.skipif(os.name != "posix", reason="rights as POSIX systems have them")
HOUSE = Path(__file__).resolve().parents[3]
LINE = Practice("QZ", "Blue", date(2026, 3, 1), 10, 6)


def sqlite(file, *statements):
    connection = sqlite3.connect(file)
    for statement in statements:
        connection.execute(statement)
    connection.commit()
    connection.close()


def everything(folder):
    """Every file of a folder with its bytes, its inode and when it was changed."""
    return {
        one.name: (one.read_bytes(), one.stat().st_ino, one.stat().st_mtime_ns)
        for one in folder.iterdir()
        if one.is_file()
    }


def a_routine(file):
    from engine.storage import dump_routine

    file.write_text(dump_routine(generated(3)), encoding="utf-8")


def another_programs(file):
    sqlite(file, "CREATE TABLE routines (path TEXT)", "CREATE TABLE shopping (what TEXT)")


def one_with_a_log(file):
    """A database another program has open: its tables still lie in the write-ahead log."""
    code = (
        "import os, sqlite3, sys\nc = sqlite3.connect(sys.argv[1])\n"
        "c.execute('PRAGMA journal_mode = WAL')\nc.execute('CREATE TABLE shopping (what TEXT)')\n"
        "c.commit()\nos._exit(9)\n"
    )
    subprocess.run([sys.executable, "-c", code, str(file)])
    assert Path(f"{file}-wal").stat().st_size > 0


def of_a_number(file):
    sqlite(file, "PRAGMA application_id = 77", "CREATE TABLE t (a)")


STRANGE = {
    "a routine": a_routine,
    "a photograph": lambda file: file.write_bytes(b"\xff\xd8\xff" + bytes(range(256)) * 20),
    "a text": lambda file: file.write_text("milk, eggs\n" * 50),
    "one letter": lambda file: file.write_text("x"),
    "a database of another program": another_programs,
    "one whose tables lie in its log": one_with_a_log,
    "one with a number of its own": of_a_number,
    "a damaged one": lambda file: file.write_bytes(b"SQLite format 3\0" + b"\0" * 3000),
    "the beginning of one": lambda file: file.write_bytes(b"SQLite format 3\0"),
}


@pytest.mark.parametrize("what", [*STRANGE, "practice records"])
@pytest.mark.parametrize("act", ["open", "make anew"])
def test_no_index_is_ever_kept_in_place_of_something_else(tmp_path, what, act):
    write_library(tmp_path / "routines", 2)
    folder = tmp_path / "own"
    folder.mkdir()
    file = folder / "index.sqlite"
    if what == "practice records":
        with Records(file) as records:
            records.add(LINE)
    elif act == "open":
        STRANGE[what](file)
    if act == "open":
        before = everything(folder)
        with pytest.raises(LibraryError) as told:
            Library([tmp_path / "routines"], file)
    else:
        library = Library([tmp_path / "routines"], tmp_path / "index.sqlite")
        library.store.file = file
        if what != "practice records":
            STRANGE[what](file)
        before = everything(folder)
        with pytest.raises(LibraryError) as told:
            library.rebuild()
        library.close()
    assert re.fullmatch(
        rf"{re.escape(str(file))} holds .+, wanted the index of a library\. It was left as it is; "
        r"name another file, or one that is not there yet\.", str(told.value),
    )  # fmt: skip
    assert everything(folder) == before


@pytest.mark.parametrize("what", [*STRANGE, "the index of a library"])
def test_no_records_are_ever_kept_in_place_of_something_else(tmp_path, what):
    file = tmp_path / "records.sqlite"
    if what == "the index of a library":
        Store(file).close()
    else:
        STRANGE[what](file)
    before = everything(tmp_path)
    with pytest.raises(RecordsError, match=r"wanted practice records\. It was left as it is"):
        Records(file)
    assert everything(tmp_path) == before


@POSIX
def test_devices_and_folders_are_no_databases(tmp_path):
    os.mkfifo(tmp_path / "pipe")
    for file in (tmp_path, tmp_path / "pipe", Path("/dev/null")):
        with pytest.raises(LibraryError):
            Store(file)
        with pytest.raises(RecordsError):
            Records(file)
    assert (tmp_path / "pipe").is_fifo()


@POSIX
def test_an_empty_file_may_become_either(tmp_path):
    for name in ("index", "records"):
        (tmp_path / name).touch(0o644)
    Store(tmp_path / "index").close()
    with Records(tmp_path / "records") as records:
        records.add(LINE)
    assert [store_at(tmp_path / name) for name in ("index", "records")] == ["index", "records"]
    assert stat.S_IMODE((tmp_path / "records").stat().st_mode) == 0o600


def test_the_numbers_are_in_the_headers_and_each_its_own(tmp_path):
    Store(tmp_path / "index").close()
    Records(tmp_path / "records").close()
    for name, number in (("index", b"Bzwi"), ("records", b"Bzwr")):
        assert (tmp_path / name).read_bytes()[68:72] == number
    assert INDEX.application_id != RECORDS.application_id


# Databases from before there was a number ----------------------------------------------------


def without_a_number(file):
    sqlite(file, "PRAGMA application_id = 0")
    assert file.read_bytes()[68:72] == b"\0\0\0\0"


def test_an_index_without_a_number_is_taken_on_as_it_is(tmp_path):
    write_library(tmp_path / "routines", 5)
    library = Library([tmp_path / "routines"], tmp_path / "index")
    library.refresh()
    library.close()
    without_a_number(tmp_path / "index")
    again = Library([tmp_path / "routines"], tmp_path / "index")
    assert again.count() == 5, "nothing of it was made anew"
    again.close()
    assert (tmp_path / "index").read_bytes()[68:72] == b"Bzwi"


@pytest.mark.slow
def test_an_index_killed_before_its_first_tidying_is_taken_on_too(tmp_path):
    """All of it still lies in the write-ahead log; the number is the old program's, none."""
    write_library(tmp_path / "routines", 5)
    code = (
        "import os, sys\nfrom engine.library import Library, store\n"
        "store.take_on = lambda connection, kind: None\n"
        "library = Library([sys.argv[1]], sys.argv[2])\nlibrary.refresh()\nos._exit(9)\n"
    )
    file = tmp_path / "index"
    subprocess.run(
        [sys.executable, "-c", code, str(tmp_path / "routines"), str(file)], cwd=HOUSE, timeout=120
    )
    assert file.read_bytes()[68:72] == b"\0\0\0\0" and Path(f"{file}-wal").stat().st_size > 0
    assert store_at(file) == "index"
    again = Library([tmp_path / "routines"], file)
    assert again.count() == 5
    again.close()


def test_an_old_layout_is_made_anew_and_its_neighbour_is_not(tmp_path):
    write_library(tmp_path / "routines", 5)
    file, copy = tmp_path / "index", tmp_path / "mine"
    library = Library([tmp_path / "routines"], file)
    library.refresh()
    library.close()
    without_a_number(file)
    sqlite(file, "PRAGMA user_version = 1")
    shutil.copy(file, copy)
    sqlite(copy, "CREATE TABLE shopping (what TEXT)")
    again = Library([tmp_path / "routines"], file)
    assert again.refresh().new == 5 and again.store._version() == LAYOUT
    again.close()
    before = copy.read_bytes()
    with pytest.raises(LibraryError, match="holds a database of something else"):
        Library([tmp_path / "routines"], copy)
    assert copy.read_bytes() == before


def test_records_without_a_number_are_taken_on_and_never_made_anew(tmp_path):
    file = tmp_path / "records"
    with Records(file) as records:
        records.add(LINE)
    without_a_number(file)
    with Records(file) as records:
        assert [one.practice for one in records.practice()] == [LINE]
    assert file.read_bytes()[68:72] == b"Bzwr"


def test_an_index_of_ours_that_lost_a_table_is_made_anew(tmp_path):
    write_library(tmp_path / "routines", 3)
    library = Library([tmp_path / "routines"], tmp_path / "index")
    library.close()
    sqlite(tmp_path / "index", "DROP TABLE reaches")
    again = Library([tmp_path / "routines"], tmp_path / "index")
    assert again.refresh().new == 3
    again.close()


# A full disk, and who else uses it -----------------------------------------------------------


def fill(connection):
    """As if the disk were full: the system's own refusal, at the next page."""
    pages = connection.execute("PRAGMA page_count").fetchone()[0]
    connection.execute(f"PRAGMA max_page_count = {pages}")


def test_a_full_disk_is_told_and_the_records_are_as_they_were(tmp_path):
    file = tmp_path / "r.sqlite"
    many = [Practice("AB", "x" * 100, date(2026, 1, 1), 10, 6, note="n" * 200)] * 200
    with Records(file) as records:
        records.add(LINE)
        fill(records._connection)
        with pytest.raises(RecordsError) as told:
            records.take_in(many)
        wanted = f"{file} cannot be written: the disk is full; make room. Nothing was changed."
        assert str(told.value) == wanted
        assert [one.practice for one in records.practice()] == [LINE]
        records._connection.execute("PRAGMA max_page_count = 100000")
        assert records.take_in(many).taken == 200, "and when there is room it goes on"
    assert [one.name for one in tmp_path.iterdir()] == ["r.sqlite"]


def test_a_full_disk_is_told_by_the_library_and_loses_nothing(tmp_path):
    write_library(tmp_path / "routines", 30)
    library = Library([tmp_path / "routines"], tmp_path / "index")
    fill(library.store.connection)
    with pytest.raises(LibraryError) as told:
        library.refresh()
    assert "cannot be written: the disk is full; make room. No routine was changed" in str(
        told.value
    )
    library.store.connection.execute("PRAGMA max_page_count = 100000")
    assert library.refresh().new == 30
    library.close()


NO_ROOM = """
import resource, sys
from engine.errors import BaizewrightError
from engine.library import Library
from engine.records import Records
resource.setrlimit(resource.RLIMIT_FSIZE, (int(sys.argv[3]), int(sys.argv[3])))
try:
    Records(sys.argv[2]) if sys.argv[1] == "records" else Library(["."], sys.argv[2])
except BaizewrightError as error:
    print(error)
"""


@pytest.mark.parametrize(("kind", "room"), mixed(("records", "index"), (0, 1000, 5000), usual=3))
@POSIX
@pytest.mark.slow
def test_a_file_that_could_not_be_begun_is_not_left_lying(tmp_path, kind, room):
    file = tmp_path / "new.sqlite"
    done = subprocess.run(
        [sys.executable, "-c", NO_ROOM, kind, str(file), str(room)],
        cwd=HOUSE, capture_output=True, text=True,
    )  # fmt: skip
    assert str(file) in done.stdout and "full" in done.stdout, done.stderr
    assert list(tmp_path.iterdir()) == []


def test_an_index_in_use_is_not_thrown_away(tmp_path, monkeypatch):
    write_library(tmp_path / "routines", 3)
    library = Library([tmp_path / "routines"], tmp_path / "index")
    library.refresh()
    library.close()

    def busy(_self):
        raise sqlite3.OperationalError("database is locked")

    with monkeypatch.context() as patch:
        patch.setattr(Store, "_version", busy)
        with pytest.raises(LibraryError, match="database is locked"):
            Library([tmp_path / "routines"], tmp_path / "index")
    again = Library([tmp_path / "routines"], tmp_path / "index")
    assert again.count() == 3
    again.close()


@POSIX
def test_records_are_their_owners_alone_with_all_that_lies_beside_them(tmp_path):
    folder = tmp_path / "kept"
    with Records(folder / "r.sqlite") as records:
        records.add(LINE)
        with contextlib.suppress(ZeroDivisionError), records._writing():
            records._insert(Practice("AB", "Blue", date(2026, 3, 1), 10, 6))
            # beyond what SQLite keeps in memory, so that the journal is on the disk
            records._connection.execute("PRAGMA cache_size = 1")
            for number in range(300):
                records._insert(Practice(f"P{number}", "B" * 90, date(2026, 3, 1), 10, 6))
            beside = {one.name: stat.S_IMODE(one.stat().st_mode) for one in folder.iterdir()}
            raise ZeroDivisionError
        assert beside == {"r.sqlite": 0o600, "r.sqlite-journal": 0o600}
        assert [one.practice for one in records.practice()] == [LINE]


def test_a_journal_a_killed_program_left_empty_goes_with_the_next_opening(tmp_path):
    file = tmp_path / "r.sqlite"
    with Records(file) as records:
        records.add(LINE)
    (tmp_path / "r.sqlite-journal").touch()
    with Records(file) as records:
        assert [one.practice for one in records.practice()] == [LINE]
    assert [one.name for one in tmp_path.iterdir()] == ["r.sqlite"]
