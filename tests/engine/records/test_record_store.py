"""The file of the records: kept whole, refused when it is another's, empty of what was deleted."""

import os
import sqlite3
import stat
import threading
from datetime import date, timedelta

import pytest

from engine.errors import OutOfRangeError, UnknownNameError
from engine.records import Practice, Records, RecordsError, lines_of

NAME = "Wolfhilda-Quetschenbach"
NOTE = "broke her Zwetschgenkuchen cue on the day"
ROUTINE = "Xylophonic yellow for Wolfhilda alone"


@pytest.fixture
def records(tmp_path):
    with Records(tmp_path / "records.sqlite") as made:
        yield made


def some(player, count=40, routine="Round the black", note=""):
    start = date(2026, 1, 5)
    return [
        Practice(player, routine, start + timedelta(days=number), 10, number % 11, 1 + number % 2,
                 {"long": min(1, 10 - number % 11)}, note)
        for number in range(count)
    ]  # fmt: skip


def test_what_is_added_is_read_back(records):
    practice = Practice("QZ", "Blue", date(2026, 3, 1), 10, 6, 2, {"pot": 1, "long": 2}, "windy")
    number = records.add(practice)
    (kept,) = records.practice("QZ")
    assert (kept.number, kept.practice) == (number, practice)
    assert records.players() == ("QZ",) and records.routines() == ("Blue",)


def test_it_is_there_after_opening_again(records, tmp_path):
    records.take_in(some("QZ"))
    with Records(tmp_path / "records.sqlite") as again:
        assert [kept.practice for kept in again.practice("QZ")] == some("QZ")


def test_taking_in_the_same_file_twice_adds_nothing(records):
    lines = some("QZ", 5) + some("QZ", 5)  # played twice on each day
    assert (records.take_in(lines).taken, records.take_in(lines).taken) == (10, 0)
    assert records.take_in([*lines, *some("AB", 1)]).there_before == 10
    assert len(records.practice()) == 11


def test_a_list_with_a_fault_in_the_store_is_taken_in_whole_or_not_at_all(records):
    broken = [*some("QZ", 3), "no practice"]
    with pytest.raises(AttributeError):
        records.take_in(broken)
    assert records.practice() == ()


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"player": " "}, "player"),
        ({"player": "x" * 61}, "player"),
        ({"routine": "two\nlines"}, "routine"),
        ({"attempts": 0}, "1 to 1000"),
        ({"made": 11}, "0 to 10, the attempts"),
        ({"step": 0}, "step"),
        ({"misses": {"high": 1}}, "pot, left, right, short, long"),
        ({"misses": {"pot": -1}}, "0 or more"),
        ({"misses": {"pot": 3, "left": 2}}, "at most 4, as many as were not made"),
    ],
)
def test_what_cannot_be_is_refused(changes, says):
    given = {"player": "QZ", "routine": "Blue", "day": date(2026, 3, 1), "attempts": 10, "made": 6}
    with pytest.raises(OutOfRangeError, match=says):
        Practice(**(given | changes))


def bytes_beside(folder):
    """The bytes of every file of a folder, together."""
    return b"".join(path.read_bytes() for path in sorted(folder.iterdir()))


def traces(data):
    """Which parts of what was kept of the player can be found in bytes, in either encoding."""
    words = (NAME, NOTE, ROUTINE, "Quetschenbach", "Zwetschgenkuchen", "Xylophonic")
    return [w for w in words for coding in ("utf-8", "utf-16-le", "utf-16-be")
            if w.encode(coding) in data]  # fmt: skip


@pytest.mark.parametrize("others", [0, 1, 400])
def test_a_deleted_player_leaves_no_trace_in_any_file(tmp_path, others):
    with Records(tmp_path / "records.sqlite") as records:
        records.take_in(some("QZ", others))
        records.take_in(some(NAME, 300, ROUTINE, NOTE))
        records.take_in(some("AB", others, "Between two strokes"))
        assert traces(bytes_beside(tmp_path)), "the check would find them"
        assert records.delete_player(NAME) == 300
        assert traces(bytes_beside(tmp_path)) == [], "while the file is still open"
        assert NAME not in records.players()
        assert len(records.practice()) == 2 * others
    assert traces(bytes_beside(tmp_path)) == []


def test_a_line_taken_out_leaves_no_trace(tmp_path):
    with Records(tmp_path / "records.sqlite") as records:
        records.take_in(some("QZ", 50))
        number = records.add(Practice("QZ", ROUTINE, date(2026, 1, 1), 5, 5, note=NOTE))
        assert traces(bytes_beside(tmp_path))
        records.remove(number)
        assert traces(bytes_beside(tmp_path)) == []
        assert len(records.practice("QZ")) == 50


def test_rolled_back_lines_leave_no_trace(tmp_path):
    with Records(tmp_path / "records.sqlite") as records:
        records.take_in(some("QZ", 20))
        with pytest.raises(AttributeError):
            records.take_in([*some(NAME, 500, ROUTINE, NOTE), None])
        assert traces(bytes_beside(tmp_path)) == []


def test_nothing_is_left_in_a_file_of_deletion_without_overwriting(tmp_path):
    """The check of the bytes can fail: a usual database keeps what was deleted."""
    plain = sqlite3.connect(tmp_path / "plain.sqlite")
    plain.execute("PRAGMA secure_delete = OFF")
    plain.execute("CREATE TABLE t (a)")
    plain.executemany("INSERT INTO t VALUES (?)", [(NAME,)] * 300)
    plain.commit()
    plain.execute("DELETE FROM t")
    plain.commit()
    plain.close()
    assert traces(bytes_beside(tmp_path))


def test_no_file_stays_beside_the_records(records, tmp_path):
    records.take_in(some("QZ"))
    records.delete_player("QZ")
    assert [path.name for path in tmp_path.iterdir()] == ["records.sqlite"]


def test_a_player_who_is_not_there(records):
    for act in (records.practice, records.delete_player):
        with pytest.raises(UnknownNameError, match="known here: none"):
            act("QZ")


@pytest.mark.skipif(os.name != "posix", reason="rights as POSIX has them")
def test_only_the_owner_may_read_it(records, tmp_path):
    assert stat.S_IMODE((tmp_path / "records.sqlite").stat().st_mode) == 0o600


@pytest.mark.parametrize("content", [b"", b"x" * 5000, b"SQLite format 3\0" + b"\0" * 3000])
def test_a_file_that_is_no_record_is_left_as_it_is(tmp_path, content):
    file = tmp_path / "records.sqlite"
    file.write_bytes(content)
    if not content:
        Records(file).close()
        return
    with pytest.raises(RecordsError, match="left as it is"):
        Records(file)
    assert file.read_bytes() == content


def test_a_database_of_something_else_is_refused(tmp_path):
    other = sqlite3.connect(tmp_path / "other.sqlite")
    other.execute("CREATE TABLE shopping (what TEXT)")
    other.commit()
    other.close()
    before = (tmp_path / "other.sqlite").read_bytes()
    with pytest.raises(RecordsError, match="database of something else"):
        Records(tmp_path / "other.sqlite")
    assert (tmp_path / "other.sqlite").read_bytes() == before


def test_a_newer_file_is_refused(tmp_path):
    Records(tmp_path / "r.sqlite").close()
    connection = sqlite3.connect(tmp_path / "r.sqlite")
    connection.execute("PRAGMA user_version = 99")
    connection.close()
    with pytest.raises(RecordsError, match="newer Baizewright"):
        Records(tmp_path / "r.sqlite")


def test_two_windows_write_the_same_file(tmp_path):
    def write(player):
        with Records(tmp_path / "r.sqlite") as records:
            for practice in some(player, 12):
                records.add(practice)

    with Records(tmp_path / "r.sqlite"):
        writers = [threading.Thread(target=write, args=(name,)) for name in ("QZ", "AB")]
        for writer in writers:
            writer.start()
        for writer in writers:
            writer.join()
    with Records(tmp_path / "r.sqlite") as records:
        assert len(records.practice("QZ")) == len(records.practice("AB")) == 12


def test_lines_are_brought_together_by_routine_step_and_day():
    day = date(2026, 2, 1)
    practice = [
        Practice("QZ", "Blue", day, 10, 6, 1, {"pot": 1}),
        Practice("QZ", "Blue", day, 10, 8, 1, {"long": 2}),
        Practice("QZ", "Blue", day + timedelta(days=3), 5, 5),
        Practice("QZ", "Blue", day, 4, 1, 2),
    ]
    one, two = lines_of(practice)
    assert [(line.routine, line.step) for line in (one, two)] == [("Blue", 1), ("Blue", 2)]
    assert [(d.result.made, d.result.attempts) for d in one.days] == [(14, 20), (5, 5)]
    assert (one.total.made, one.total.attempts) == (19, 25)
    assert one.misses == (1, 0, 0, 0, 2, 3) and two.misses == (0, 0, 0, 0, 0, 3)


def test_the_record_of_one_routine_or_one_player(records):
    records.take_in([*some("QZ", 3), *some("QZ", 2, "Blue"), *some("AB", 4, "Blue")])
    assert len(records.practice(routine="Blue")) == 6
    assert [kept.practice for kept in records.practice("QZ", "Blue")] == some("QZ", 2, "Blue")
    assert records.practice("AB", "Round the black") == ()
    assert records.routines() == ("Blue", "Round the black")


def test_a_file_that_goes_wrong_while_it_is_open_is_told_at_every_use(tmp_path):
    """Another program throws the tables away: reading and writing say so, in the file's name."""
    file = tmp_path / "r.sqlite"
    with Records(file) as records:
        records.take_in(some("QZ", 3))
        other = sqlite3.connect(file)
        other.execute("DROP TABLE practice")
        other.commit()
        other.close()
        with pytest.raises(RecordsError) as told:
            records.practice()
        assert str(told.value) == f"{file} cannot be read: no such table: practice."
        with pytest.raises(RecordsError, match="cannot be written: no such table") as told:
            records.add(some("QZ", 1)[0])
        assert str(told.value).endswith("Nothing was changed.")
        assert records.players() == ("QZ",)


def test_deleted_lines_are_gone_even_where_the_file_cannot_be_written_anew(tmp_path):
    """Another window reads at that moment: the deletion holds, and what to do is told."""
    file = tmp_path / "r.sqlite"
    with Records(file) as records:
        records.take_in(some("QZ", 3))
        number = records.practice()[0].number
        records._connection.execute("PRAGMA busy_timeout = 20")
        vacuum = records._pack
        reader = sqlite3.connect(file)

        def while_read():
            reader.execute("BEGIN")
            reader.execute("SELECT * FROM players").fetchall()
            vacuum()

        records._pack = while_read
        with pytest.raises(RecordsError) as told:
            records.remove(number)
        reader.close()
        records._pack = vacuum
        assert "Deleted and overwritten, but" in str(told.value)
        assert "Close other windows that use it" in str(told.value)
        assert len(records.practice("QZ")) == 2
        records.delete_player("QZ")
        assert records.players() == ()


def test_a_damaged_page_is_found_when_the_file_is_opened(tmp_path):
    file = tmp_path / "r.sqlite"
    with Records(file) as records:
        records.take_in(some("QZ", 400, note="x" * 60))
    data = bytearray(file.read_bytes())
    # the pages after the tables' descriptions: their heads say what lies where
    for page in range(3, len(data) // 4096):
        data[page * 4096 : page * 4096 + 64] = b"\xff" * 64
    file.write_bytes(data)
    with pytest.raises(RecordsError, match=r"[Ii]t was left as it is"):
        Records(file)
    assert file.read_bytes() == bytes(data)
