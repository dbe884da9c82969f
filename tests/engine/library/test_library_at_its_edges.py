"""The library where things go wrong half-way: files that change, stops, other processes."""

import os
import sqlite3
import sys
from dataclasses import replace

import pytest

from engine.balls import Ball
from engine.library import (
    Layout,
    Library,
    Query,
    alike,
    compared,
    facts_of,
    finding,
    query_of,
    tag_file,
)
from engine.library import store as store_module
from engine.library.facts import layout_of, skills_of
from engine.library.looking import lowest_pace, routine_of
from engine.library.store import LAYOUT, Store
from engine.routine.values import Gap, LaneAsk, Routine, Shot
from engine.storage import load_routine, save_routine
from engine.storage.reading import MAX_BYTES
from tests.engine.library.generated_routines import generated, write_library


@pytest.fixture
def folder(tmp_path):
    made = tmp_path / "routines"
    write_library(made, 12)
    return made


def files(folder):
    return sorted(folder.rglob("*.json"))


def test_the_index_thrown_away_is_made_the_same_again(library, tmp_path):
    before = [replace(entry, key=0) for entry in library.search()]
    found = library.rebuild()
    assert (found.new, found.seen, found.gone) == (12, 12, 0)
    assert [replace(entry, key=0) for entry in library.search()] == before


def test_values_with_how_many_have_them(library):
    routines = [generated(number) for number in range(12)]
    tags = sorted({tag for one in routines for tag in one.tags}, key=str.casefold)
    wanted = [(tag, sum(tag in one.tags for one in routines)) for tag in tags]
    assert library.values_of("tag") == wanted and wanted
    kinds = dict(library.values_of("gap"))
    assert sum(kinds.values()) == 12 and kinds["cloth-area"] == sum(
        one.gaps[0].kind == "cloth-area" for one in routines
    )
    assert library.values_of("no such kind") == []


def test_routines_alike_are_found_in_the_files_and_told_by_their_entries(library, folder):
    path = files(folder)[4]
    routine = load_routine(path)
    width = 1778.0
    turned = [replace(ball, x_mm=width - ball.x_mm) for ball in routine.balls]
    save_routine(replace(routine, title="Turned", balls=tuple(turned)), folder / "turned.json")
    library.refresh()
    (pair,) = library.alike(5.0)
    entries = library.entries([pair.one, pair.other])
    assert {entry.title for entry in entries.values()} == {routine.title, "Turned"}
    assert pair.mirrored == "long" and pair.apart_mm == pytest.approx(0.0, abs=1e-9)
    assert library.alike(5.0, mirrors=False) == []
    assert library.alike(5.0, progress=lambda _done, _wanted: False) == [], "asked to stop"
    assert library.entries([]) == {} and library.entries([-1]) == {}


def test_empty_set_ups_are_alike_to_none():
    empty = Layout(1, "t", 1778.0, 3569.0, (), ())
    one = Layout(2, "t", 1778.0, 3569.0, ("cue",), ((1.0, 2.0),))
    twin = replace(one, key=3)
    assert compared(empty, replace(empty, key=9)) is None
    (pair,) = alike([empty, one, replace(empty, key=9), twin], 10.0)
    assert {pair.one, pair.other} == {2, 3}


def test_conditions_by_table_and_folder(library, folder):
    other = folder / "shelf-99"
    other.mkdir()
    save_routine(replace(generated(77), table="snooker-10ft", title="Ten foot"), other / "t.json")
    library.refresh()
    assert [one.title for one in library.search(query_of("table:snooker-10ft"))] == ["Ten foot"]
    assert library.count(Query(table="snooker-12ft")) == 12
    assert [one.title for one in library.search(Query(folder=str(other)))] == ["Ten foot"]
    assert library.count(Query(folder=str(folder))) == 13
    assert library.count(Query(folder=str(folder / "shelf-9"))) == 0, "the beginning of a name"


def test_an_index_is_searched_whole_or_below_some_folders(library, tmp_path):
    """Two libraries share one index file; each asks for its own folders, or for everything."""
    write_library(tmp_path / "other", 3, seed=2)
    other = Library([tmp_path / "other"], tmp_path / "index.sqlite")
    other.refresh()
    mine, theirs = (tuple(map(str, one.folders)) for one in (library, other))
    assert [finding.count(library.store, Query(), some) for some in ((), mine, theirs)] == [
        15,
        12,
        3,
    ]
    assert len(finding.search(library.store, Query())) == 15
    both = finding.layouts(library.store, (*mine, *theirs))
    assert len(both) == 15 and {one.width_mm for one in both} == {1778.0}
    other.close()


def test_a_tag_that_is_there_already_leaves_the_file_untouched(folder):
    path = next(one for one in files(folder) if load_routine(one).tags)
    before, about = path.read_bytes(), path.stat().st_mtime_ns
    tags = load_routine(path).tags
    assert tag_file(path, add=[tags[0]], drop=["none such"]) == tags
    assert (path.read_bytes(), path.stat().st_mtime_ns) == (before, about)


def test_facts_of_half_made_routines_are_what_can_be_told():
    cue, red = Ball("cue", "cue", 500.0, 700.0), Ball("r", "red", 900.0, 2000.0)
    open_shot = Shot("a", "r", lanes=(LaneAsk("A", "low"), LaneAsk("B", -0.4)))
    plain = facts_of(Routine(balls=(cue, red), shots=(open_shot, Shot("b"))))
    assert dict(plain.traits) == {"skill": "screw"}, "a word that is no tip height tells nothing"
    lost = Shot("a", "gone", "top-left")
    assert [kind for kind, _ in facts_of(Routine(balls=(cue,), shots=(lost,))).traits] == ["pocket"]
    strange = Routine(balls=(cue, red), shots=(Shot("a", "r", "top-left"),), table="billiards-1899")
    found = facts_of(strange)
    assert found.traits == (("pocket", "top-left"),)
    assert (found.layout.width_mm, found.layout.length_mm) == (0.0, 0.0)
    assert layout_of(strange).places_mm == (cue.centre_mm, red.centre_mm)


def test_skills_are_told_even_where_the_conditions_cannot_be():
    shot = Shot("a", lanes=(LaneAsk("A", 0.45),))
    odd = Routine(shots=(shot,), conditions={"ball_radius_mm": -5.0}, gaps=(Gap("g", "in-order"),))
    assert skills_of(odd) == ("top", "in order")


def test_looking_at_reach_stops_goes_on_and_passes_over_what_has_changed(library, folder):
    told = []
    assert library.look_at_reach(lambda done, wanted: told.append((done, wanted)) or False) == 0
    assert told == [(0, 12)] and not any(one.reach_known for one in library.search())
    changed, gone = files(folder)[:2]
    changed.write_text(changed.read_text(encoding="utf-8") + " ", encoding="utf-8")
    gone.unlink()
    told.clear()
    assert library.look_at_reach(lambda done, wanted: told.append((done, wanted))) == 10
    assert told == [(0, 12), (12, 12)]
    unknown = {one.path for one in library.search() if not one.reach_known}
    assert unknown == {str(changed), str(gone)}


def test_a_routine_is_taken_from_a_file_only_while_it_is_the_one_known(library, folder):
    entry = library.search()[0]
    assert routine_of(entry.path, entry.digest).title == entry.title
    assert routine_of(entry.path, "0" * 64) is None
    assert routine_of(str(folder / "none.json"), entry.digest) is None
    assert lowest_pace(Routine()) is None, "nothing to thread"


def test_painting_stops_when_asked_and_passes_over_files_that_changed(library, folder):
    told, entries = [], library.search()
    paint = lambda routine: routine.title.encode()  # noqa: E731
    assert library.make_thumbnails(entries, "t", paint, lambda done, _: bool(done)) == 0
    assert library.thumbnail(entries[0], "t") is None
    files(folder)[0].write_text("{}", encoding="utf-8")
    made = library.make_thumbnails(entries, "t", paint, lambda done, all_: told.append(done))
    assert made == 11 and told == [0, 12]
    kept = [one for one in entries if library.thumbnail(one, "t") is not None]
    assert len(kept) == 11 and str(files(folder)[0]) not in {one.path for one in kept}


def test_folders_within_each_other_are_looked_through_once(folder, tmp_path):
    both = Library([folder, folder / "shelf-00", folder], tmp_path / "both.sqlite")
    found = both.refresh()
    assert (found.seen, found.new) == (12, 12) and both.count() == 12
    both.close()


def test_a_folder_named_like_a_file_and_a_file_too_large_are_told_for_what_they_are(
    library, folder
):
    (folder / "folder.json").mkdir()
    with (folder / "huge.json").open("wb") as out:
        out.truncate(MAX_BYTES + 1)
    found = library.refresh()
    assert (found.seen, found.new, found.faulty) == (13, 1, 1)
    (huge,) = library.search(Query(faulty=True))
    fault = "the file: has 4,000,001 bytes, wanted at most 4,000,000; this is no routine"
    assert (huge.title, huge.fault) == ("huge", fault)


def test_a_file_that_may_not_be_read_is_told_as_faulty(library, folder, monkeypatch):
    """Whoever runs the tests may read everything: the system's refusal is played."""
    path = files(folder)[3]
    path.write_text(path.read_text(encoding="utf-8") + "\n", encoding="utf-8")
    real = os.open

    def refusing(name, *how):
        if str(name) == str(path):
            raise PermissionError(13, "Permission denied")
        return real(name, *how)

    monkeypatch.setattr("engine.storage.reading.os.open", refusing)
    assert library.refresh().faulty == 1
    (entry,) = library.search(Query(faulty=True))
    assert entry.path == str(path)
    assert entry.fault.startswith("the file: cannot be read: access is not allowed")


@pytest.mark.skipif(sys.platform == "win32", reason="links as POSIX has them")
def test_a_link_to_nothing_is_no_file(library, folder):
    (folder / "link.json").symlink_to(folder / "nowhere.json")
    (folder / "ring.json").symlink_to(folder / "ring.json")
    found = library.refresh()
    assert (found.seen, found.new, found.faulty) == (12, 0, 0)


def test_what_fails_within_a_change_of_the_index_is_taken_back(library):
    def titles():
        return {entry.title for entry in library.search()}

    before = titles()
    with pytest.raises(RuntimeError, match="half-way"), library.store.writing() as connection:
        connection.execute("DELETE FROM routines")
        raise RuntimeError("half-way")
    assert titles() == before and len(before) == 12
    with library.store.writing() as connection:
        connection.execute("UPDATE routines SET coach = 'Edda Quill'")
    assert {entry.coach for entry in library.search()} == {"Edda Quill"}


def test_an_index_another_process_made_meanwhile_is_taken_as_it_is(library, tmp_path):
    file = tmp_path / "index.sqlite"
    late = Store(file)
    late._make()  # as if the file had not been there when it looked
    assert late.fts is library.store.fts
    rows = late.connection.execute("SELECT COUNT(*) FROM routines").fetchone()
    assert rows == (12,), "nothing of the other's work is lost"
    late.close()


def test_without_full_text_in_sqlite_the_words_are_kept_all_the_same(tmp_path, monkeypatch):
    """A SQLite built without that part refuses its kind of table: the plain one is made."""
    missing = "CREATE VIRTUAL TABLE words USING no_such_part (text)"
    monkeypatch.setattr(store_module, "_WORDS", (missing, store_module._WORDS[1]))
    write_library(tmp_path / "some", 5)
    library = Library([tmp_path / "some"], tmp_path / "plain.sqlite")
    assert library.refresh().new == 5 and library.store.fts is False
    first = generated(0).title
    assert first in {entry.title for entry in library.search(Query(words=first))}
    library.close()
    connection = sqlite3.connect(tmp_path / "plain.sqlite")
    assert connection.execute("PRAGMA user_version").fetchone() == (LAYOUT,)
    connection.close()
