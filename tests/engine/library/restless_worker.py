"""Writes routines, records, plans and the index without a pause, and says what is done.

Run as `python restless_worker.py FOLDER SEED`; one line on the output for each thing that has
been done and may no longer be lost. It is meant to be killed at any moment.
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


def main(folder: Path, seed: int) -> None:
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
            name = f"routine-{chance.randrange(12):02}.json"
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
            for path in sorted(routines.glob("routine-*.json"))[:1]:
                tag_file(path, add=["tagged"])
        else:
            path = folder / "plan.json"
            plan = load_plan(path) if path.exists() else Plan()
            items = (*plan.items[-20:], PlanItem("routines/routine-00.json", aim=key))
            save_plan(replace(plan, items=items), path)
            say("plan", key)


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
