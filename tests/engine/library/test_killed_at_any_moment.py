"""Programs killed at any moment lose no routine, no record and no plan, and delete for good.

Two at a time work on the same records and the same index. Four kills in the usual run, two hundred
with BAIZEWRIGHT_FULL=1, one after the other on the same files.
"""

import os
import random
from pathlib import Path

import pytest

from engine.library import Library, Query
from engine.records import Records
from engine.storage import load_plan, load_routine
from tests.engine.killing import killed_together, swept
from tests.shares import FULL

WORKER = Path(__file__).with_name("restless_worker.py")
KILLS = 200 if FULL else 4
#: What each has done before it is killed; enough for some of every kind in all.
LEAST = 12
SLOTS = ("a", "b")

pytestmark = pytest.mark.skipif(os.name != "posix", reason="kills as POSIX knows them")


@pytest.mark.slow
def test_nothing_that_was_said_to_be_done_is_lost(tmp_path):
    dice = random.Random(20_260_301)
    records_done, deleted, files, planned = [], [], {}, {}
    for seed in range(1000, 1000 + KILLS, len(SLOTS)):
        programs = [[WORKER, tmp_path, seed + at, slot] for at, slot in enumerate(SLOTS)]
        for slot, said in zip(SLOTS, killed_together(programs, LEAST, dice), strict=True):
            for kind, *about in map(str.split, said):
                if kind == "record":
                    records_done.append(f"Routine {about[0]}")
                elif kind == "deleted":
                    deleted.append(about[0])
                elif kind == "routine":
                    files[about[0]] = about[1]
                elif kind == "plan":
                    planned[slot] = about[0]
        see_to_records(tmp_path / "records", records_done, deleted)
        see_to_routines(tmp_path / "routines", files)
        see_to_index(tmp_path)
        for slot, last in planned.items():
            aims = [item.aim for item in load_plan(tmp_path / f"plan-{slot}.json").items]
            assert last in aims[-2:], "the last plan saved, or the one after it"
        swept(tmp_path, tmp_path / "routines", tmp_path / "records")
        see_to_the_rest(tmp_path)
    print(f"{KILLS} kills, {len(records_done)} records, {len(deleted)} deletions")
    assert len(records_done) >= KILLS and deleted and files and planned


def see_to_the_rest(folder):
    """No file is there but those that are meant to be."""
    beside = {one.name for one in folder.iterdir()} - {"routines", "records", "index.sqlite"}
    plans = {f"plan-{slot}.json" for slot in SLOTS}
    assert beside <= plans | {f".{name}.previous" for name in plans}
    assert {one.name for one in (folder / "records").iterdir()} == {"records.sqlite"}
    names = {one.name for one in (folder / "routines").iterdir()}
    shown = {name for name in names if name.startswith("routine-") and name.endswith(".json")}
    assert names - shown <= {f".{name}.previous" for name in shown}


def see_to_records(folder, done, deleted):
    """Every record said to be kept is there once, at most one more a kill; no name of the deleted.

    The bytes are looked at before the file is opened again, and after.
    """
    for opened in (False, True):
        if opened:
            with Records(folder / "records.sqlite") as records:
                kept = [one.practice.routine for one in records.practice() if
                        one.practice.player == "QZ"]  # fmt: skip
            assert len(kept) == len(set(kept)), "none twice"
            missing = set(done) - set(kept)
            assert not missing
            extra = {name.split("-")[0] for name in set(kept) - set(done)}
            assert len(set(kept) - set(done)) == len(extra), "at most the one under way at a kill"
        data = b"".join(path.read_bytes() for path in folder.iterdir())
        assert not [name for name in deleted if name.encode() in data]


def see_to_routines(folder, files):
    """Every file can be read and is what was saved last, or what was under way at a kill."""
    for name, key in files.items():
        found = load_routine(folder / name).notes
        seed, count = (int(part) for part in key.split("-"))
        there_seed, there_count = (int(part) for part in found.split("-"))
        assert (there_seed, there_count) >= (seed, count)
    for path in folder.glob("*.json"):
        load_routine(path)


def see_to_index(folder):
    """The index opens, is brought up to date and says what the files say."""
    library = Library([folder / "routines"], folder / "index.sqlite")
    library.refresh()
    titles = sorted(load_routine(path).title for path in (folder / "routines").glob("*.json"))
    assert sorted(entry.title for entry in library.search()) == titles
    assert library.count(Query(faulty=True)) == 0
    library.close()
