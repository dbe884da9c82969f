"""Programs killed at any moment lose no unsaved work they had kept, and leave nothing lying about.

Two at a time. Four kills in the usual run, a hundred with BAIZEWRIGHT_FULL=1; with those of
`tests/engine/storage/test_kills.py` and `tests/engine/library` they make five hundred.
"""

import os
import random
from pathlib import Path

import pytest

from designer.files.file_lock import FileLock
from designer.files.unsaved_copy import remove
from designer.plans.left_plans import left_plans, plans_folder
from designer.window.left_work import left_work
from engine.routine.values import Routine
from engine.storage import load_routine, previous_copy, save_routine
from tests.engine.killing import killed_together, swept
from tests.shares import FULL

WORKER = Path(__file__).with_name("unsaved_worker.py")
KILLS = 100 if FULL else 4
LEAST = 8
SLOTS = ("a", "b")

pytestmark = pytest.mark.skipif(os.name != "posix", reason="kills as POSIX knows them")


def count_of(routine, slot, seed):
    """How far the worker of that seed had come; -1 for the work of one before."""
    whose, when, count, words = routine.notes.split(" ")
    assert whose == slot and words == "x" * 20_000, "whole"
    return int(count) if int(when) == seed else -1


def test_no_unsaved_work_that_was_kept_is_lost(qtbot, settings, tmp_path):
    dice = random.Random(16)
    routines = tmp_path / "routines"
    routines.mkdir()
    for slot in SLOTS:
        notes = f"{slot} 0 0 {'x' * 20_000}"
        save_routine(Routine(slot, notes=notes), routines / f"{slot}.json")
    kinds = set()
    for seed in range(100, 100 + KILLS, len(SLOTS)):
        programs = [[WORKER, tmp_path, seed + at, slot] for at, slot in enumerate(SLOTS)]
        said = killed_together(programs, LEAST, dice)
        for at, (slot, lines) in enumerate(zip(SLOTS, said, strict=True)):
            done = [line.split() for line in lines]
            kinds |= {kind for kind, _ in done}
            last = max((int(count) for kind, count in done if kind != "plan"), default=-1)
            see_to_work(settings, routines / f"{slot}.json", slot, seed + at, last)
            plans = [key for kind, key in done if kind == "plan"]
            see_to_plans(settings, slot, plans)
        for left in (*left_work(settings.recovery_folder), *left_plans(settings)):
            remove(left.file)
        see_to_the_rest(settings, routines)
    assert kinds == {"saved", "kept", "plan"}


def see_to_work(settings, own, slot, seed, last):
    """The last work said to be kept or saved is in the file or offered."""
    left = [work for work in left_work(settings.recovery_folder) if work.path == own]
    assert len(left) <= 1
    found = [count_of(work.routine, slot, seed) for work in left]
    assert max([*found, count_of(load_routine(own), slot, seed)]) >= last
    if previous_copy(own).exists():
        count_of(load_routine(previous_copy(own)), slot, seed)


def see_to_plans(settings, slot, said):
    """The last plan said to be kept is offered, or the one after it."""
    left = [one for one in left_plans(settings) if one.plan.title == f"plan-{slot}"]
    assert len(left) <= 1 and (left or not said)
    if said:
        assert said[-1] in [item.aim for item in left[0].plan.items[-2:]]


def see_to_the_rest(settings, routines):
    """What was offered and let go leaves nothing; nor do locks and half-written files."""
    swept(routines, settings.recovery_folder, plans_folder(settings))
    held = FileLock(settings.open_folder)
    assert held.take(routines / "a.json"), "no program that runs has it"
    held.release()
    left = [one for one in settings.recovery_folder.rglob("*") if one.is_file()]
    assert left == [] and list(settings.open_folder.iterdir()) == []
    there = {one.name for one in routines.iterdir()}
    own = {f"{slot}.json" for slot in SLOTS}
    assert own <= there <= own | {previous_copy(name).name for name in own}
