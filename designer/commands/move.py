"""`move`: a routine set up on another table, with a full check on both."""

from __future__ import annotations

from pathlib import Path

from designer.commands.exit_codes import BAD_INPUT, FAILS, HOLDS
from designer.commands.files import read_routine, tell
from designer.commands.output import output_rules
from designer.commands.own_table import named_table
from engine.errors import BaizewrightError
from engine.routine.identity import copied
from engine.storage import check_write, load_conditions, save_routine


def move(
    file: str,
    to: str,
    by: str,
    conditions: str = "usual",
    out: str | None = None,
    replace: bool = False,
) -> int:
    """Report what a move keeps and breaks, and write the moved routine when `out` is given.

    With `replace` whatever stands there may go.
    """
    routine = read_routine(file)
    if routine is None:
        return BAD_INPUT
    from designer.words.moves import report_lines
    from designer.words.wording import Wording
    from engine.moving import Target, report
    from engine.moving import move as moved_to

    asked = to
    rules = output_rules(replace, file, to, conditions)
    try:
        if out:
            check_write(out, "routine", rules)
        table_id, measured = named_table(to)
        stated = None
        if conditions not in ("usual", "keep"):
            asked = conditions
            stated = load_conditions(conditions).conditions
        asked = file
        target = Target(table_id, measured, stated, keep_conditions=conditions == "keep")
        moved = moved_to(routine, target, by)
        found = report(routine, moved)
        print("\n".join(report_lines(Wording(moved.routine), found)))
        if out:
            asked = out
            made = moved.routine if Path(out) == Path(file) else copied(moved.routine, routine)
            save_routine(made, out, rules)
            print(f"{out} written.")
    except BaizewrightError as error:
        tell(asked, error)
        return BAD_INPUT
    return HOLDS if found.all_well else FAILS
