"""`library step`: a routine made harder or easier, or a chain of such steps."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from designer.commands.exit_codes import BAD_INPUT, FAILS, HOLDS
from designer.commands.files import read_routine, tell
from designer.commands.output import output_rules
from designer.commands.progress import Told
from designer.texts import tr
from engine.errors import BaizewrightError, OutOfRangeError
from engine.routine.values import Routine


def step(asked: argparse.Namespace) -> int:
    """Make the step or chain asked for, print what was changed, and write the files wanted."""
    routine = read_routine(asked.file)
    if routine is None:
        return BAD_INPUT
    from designer.words.steps import as_near, step_told
    from designer.words.wording import Wording
    from engine.players import player_named
    from engine.progressions import WAYS, a_chain
    from engine.storage import check_write, save_routine

    told = Told("trying", "%")
    rules = output_rules(asked.replace, asked.file)
    try:
        for path in _paths(asked, asked.steps):
            if path is not None:
                check_write(path, "routine", rules)
        if not routine.shots:
            raise OutOfRangeError("shots of the routine", "none", "at least one")
        shot = asked.shot or routine.shots[0].id
        gap = asked.gap if asked.gap is not None else _first_gap(routine)
        points = asked.harder if asked.harder is not None else -asked.easier
        steps = a_chain(
            routine, shot, gap, player_named(asked.player), asked.steps, points / 100.0,
            ways=tuple(asked.by) or WAYS, progress=lambda share: told(round(100 * share), 100),
        )  # fmt: skip
        told(100, 100)
        if not steps:
            print(tr("No change of gap, distance or pot was found that gives this chance."))
            return FAILS
        wording = Wording(routine)
        for number, (made, path) in enumerate(
            zip(steps, _paths(asked, len(steps)), strict=True), start=1
        ):
            print(f"{number}. {step_told(wording, made)}")
            for ball, start, end in made.moves:
                place = f"({start[0]:g}, {start[1]:g}) → ({end[0]:g}, {end[1]:g}) mm"
                print(f"   {wording.ball(ball)} ({ball}): {place}")
            if not made.exact:
                print(f"   {as_near(made)}")
            if made.claims_lost:
                lost = ", ".join(str(index + 1) for index in made.claims_lost)
                gone = tr("Claims that no longer hold: {claims}.", claims=lost)
                print(f"   {gone}")
            if path is not None:
                save_routine(made.routine, path, rules)
                print(f"   {path} written.")
    except BaizewrightError as error:
        tell(asked.file, error)
        return BAD_INPUT
    whole = len(steps) == asked.steps and all(made.exact for made in steps)
    return HOLDS if whole else FAILS


def _first_gap(routine: Routine) -> str:
    return routine.gaps[0].id if routine.gaps else ""


def _paths(asked: argparse.Namespace, count: int) -> list[Path | None]:
    """Where each step is written; none without `-o`."""
    if not asked.out:
        return [None] * count
    out = Path(asked.out)
    if asked.steps == 1:
        return [out]
    if not os.path.isdir(out):
        raise OutOfRangeError("-o of a chain", repr(asked.out), "a folder that is there")
    stem = Path(asked.file).stem
    return [out / f"{stem}-step-{number}.json" for number in range(2, count + 2)]
