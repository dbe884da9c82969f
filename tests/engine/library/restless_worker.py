"""Writes routines, records, plans and the index without a pause, and says what is done.

Run as `python restless_worker.py FOLDER SEED SLOT`; one line on the output for each thing that has
been done and may no longer be lost. It is meant to be killed at any moment. Several may work in one
folder, each in a slot of its own: records and index are shared, routines and plans are not.
"""

from __future__ import annotations

import itertools
import random
import sys
from dataclasses import replace
from datetime import date
from pathlib import Path

from engine.library import Library, tag_file
from engine.records import Practice, Records
from engine.storage import Plan, PlanItem, load_plan, save_plan, save_routine
from tests.engine.library.generated_routines import generated


def say(*words: object) -> None:
    """Tell that something is done."""
    print(*words, flush=True)


def main(folder: Path, seed: int, slot: str) -> None:
    """Work until killed."""
    chance = random.Random(seed)
    routines = folder / "routines"
    routines.mkdir(exist_ok=True)
    records = Records(folder / "records" / "records.sqlite")
    library = Library([routines], folder / "index.sqlite")
    say("ready")
    for count in itertools.count():
        what = chance.randrange(6)
        key = f"{seed}-{count}"
        if what == 0:
            name = f"routine-{slot}-{chance.randrange(6):02}.json"
            save_routine(replace(generated(count), notes=key), routines / name)
            say("routine", name, key)
        elif what in (1, 2):
            records.add(Practice("QZ", f"Routine {key}", date(2026, 3, 1), 10, 6))
            say("record", key)
        elif what == 3:
            gone = f"Wolfhilda-{key}-Quetschenbach"
            many = [Practice(gone, f"For {gone}", date(2026, 1, 1), 9, n % 9) for n in range(30)]
            records.take_in(many)
            records.delete_player(gone)
            say("deleted", gone)
        elif what == 4:
            library.refresh()
            library.make_thumbnails(library.search(), "test", lambda one: one.title.encode())
            for path in sorted(routines.glob(f"routine-{slot}-*.json"))[:1]:
                tag_file(path, add=["tagged"])
            say("looked", key)
        else:
            path = folder / f"plan-{slot}.json"
            plan = load_plan(path) if path.exists() else Plan()
            items = (*plan.items[-20:], PlanItem(f"routines/routine-{slot}-00.json", aim=key))
            save_plan(replace(plan, items=items), path)
            say("plan", key)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]), sys.argv[3])
