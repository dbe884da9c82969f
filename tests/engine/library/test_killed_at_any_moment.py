"""A program killed at any moment loses no routine, no record and no plan, and deletes for good.

Four kills in the usual run, sixty with BAIZEWRIGHT_FULL=1, one after the other on the same files.
"""

import os
import random
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from engine.library import Library, Query
from engine.records import Records
from engine.storage import load_plan, load_routine

HOUSE = Path(__file__).resolve().parents[3]
WORKER = Path(__file__).with_name("restless_worker.py")
KILLS = 60 if os.environ.get("BAIZEWRIGHT_FULL") else 4

pytestmark = pytest.mark.skipif(os.name != "posix", reason="kills as POSIX knows them")


def killed_worker(folder, seed, chance):
    """What a worker said it had done before it was killed."""
    worker = subprocess.Popen(
        [sys.executable, str(WORKER), str(folder), str(seed)],
        cwd=HOUSE,
        text=True,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": str(HOUSE)},
    )
    try:
        assert worker.stdout.readline().strip() == "ready", worker.stderr.read()
        said = []
        reader = threading.Thread(target=lambda: said.extend(worker.stdout))
        reader.start()
        time.sleep(chance.expovariate(1 / 0.35))
        assert worker.poll() is None, worker.stderr.read()
    finally:
        worker.kill()
    worker.wait()
    reader.join()
    return [line.split() for line in said if line.endswith("\n")]


def test_nothing_that_was_said_to_be_done_is_lost(tmp_path):
    chance = random.Random(20_260_301)
    records_folder = tmp_path / "records"
    records_done, deleted, files, planned, first_seed = [], [], {}, "", 1000
    for seed in range(first_seed, first_seed + KILLS):
        for kind, *about in killed_worker(tmp_path, seed, chance):
            if kind == "record":
                records_done.append(f"Routine {about[0]}")
            elif kind == "deleted":
                deleted.append(about[0])
            elif kind == "routine":
                files[about[0]] = about[1]
            else:
                planned = about[0]
        see_to_records(records_folder, records_done, deleted)
        see_to_routines(tmp_path / "routines", files)
        see_to_index(tmp_path)
        if planned:
            aims = [item.aim for item in load_plan(tmp_path / "plan.json").items]
            assert planned in aims[-2:], "the last plan saved, or the one after it"
    print(f"{KILLS} kills, {len(records_done)} records, {len(deleted)} deletions")
    assert len(records_done) > KILLS and deleted and files


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
