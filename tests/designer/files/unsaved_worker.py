"""Edits a routine and a plan without a pause, keeps them apart, saves now and then, and says so.

Run as `python unsaved_worker.py FOLDER SEED SLOT`; meant to be killed at any moment.
"""

from __future__ import annotations

import itertools
import random
import sys
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import QCoreApplication

from designer.files.file_lock import FileLock
from designer.files.unsaved_copy import UnsavedCopy
from designer.open_routine import OpenRoutine, Predictions, Settings
from designer.plans.left_plans import keep_plan, plans_folder
from designer.window.left_work import Recovery
from engine.routine.document import Document
from engine.storage import Plan, PlanItem, fingerprint, load_routine, save_routine


def say(*words: object) -> None:
    """Tell that something is done."""
    print(*words, flush=True)


def main(folder: Path, seed: int, slot: str) -> None:
    """Work until killed."""
    QCoreApplication([])
    dice = random.Random(seed)
    own = folder / "routines" / f"{slot}.json"
    settings = Settings(folder / "settings.ini")
    session = OpenRoutine(Document(load_routine(own)), Predictions(aside=False))
    session.document.mark_saved(own)
    recovery = Recovery(session, settings.recovery_folder, session, lambda: fingerprint(own))
    held = FileLock(settings.open_folder)
    held.take(own)
    plan = Plan(f"plan-{slot}")

    def write_plan(file: Path) -> None:
        keep_plan(plan, None, folder / "plan.json", file)

    kept = UnsavedCopy(plans_folder(settings), session, lambda: True, write_plan)
    say("ready")
    for count in itertools.count():
        notes = f"{slot} {seed} {count} {'x' * 20_000}"
        session.apply("words", lambda routine, notes=notes: replace(routine, notes=notes))
        what = dice.randrange(5)
        if what == 0:
            save_routine(session.routine, own)
            session.document.mark_saved(own)
            recovery.touch()
            say("saved", count)
        elif what == 1:
            item = PlanItem(f"routines/{slot}.json", aim=f"{seed}-{count}")
            plan = replace(plan, items=(*plan.items[-9:], item))
            assert kept.keep()
            say("plan", f"{seed}-{count}")
        else:
            assert recovery.keep()
            say("kept", count)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3])
