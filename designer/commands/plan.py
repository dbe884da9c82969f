"""`plan`: a lesson's routines in order, the order proposed, and the booklet."""

from __future__ import annotations

import argparse
from dataclasses import replace
from pathlib import Path

from designer.commands.exit_codes import BAD_INPUT
from designer.commands.exports import warn_of_unplayable
from designer.commands.files import read_all, tell
from designer.commands.made_at import time_of_making
from designer.commands.output import output_rules
from designer.commands.progress import Told
from designer.texts import tr
from designer.words.library import balls_told, change_told, minutes_told
from engine.errors import BaizewrightError, OutOfRangeError
from engine.plans import LessonPlan, load_lesson_plan, propose_order, reordered
from engine.storage import (
    Plan,
    PlanItem,
    check_write,
    load_plan,
    named_from,
    save_plan,
    write_file,
)
from engine.storage.own_plans import file_of


def run(asked: argparse.Namespace) -> int:
    """Run one action; 2 after a message for bad input."""
    file = asked.out if asked.action == "new" else asked.plan
    try:
        return {"new": _new, "show": _show, "order": _order, "booklet": _booklet}[asked.action](
            asked
        )
    except BaizewrightError as error:
        tell(file, error)
        return BAD_INPUT


def _new(asked: argparse.Namespace) -> int:
    rules = output_rules(asked.replace, *asked.files)
    check_write(asked.out, "plan", rules)
    if read_all(asked.files) is None:
        return BAD_INPUT
    items = tuple(
        PlanItem(named_from(file, asked.out), minutes=asked.minutes) for file in asked.files
    )
    save_plan(Plan(asked.title, asked.day, asked.coach, asked.aims, items), asked.out, rules)
    print(f"{asked.out} written.")
    return 0


def _show(asked: argparse.Namespace) -> int:
    _tell_plan(load_lesson_plan(load_plan(asked.plan), asked.plan))
    return 0


def _order(asked: argparse.Namespace) -> int:
    plan = load_plan(asked.plan)
    # The plan itself may be put in order; its routines are only read.
    rules = output_rules(asked.replace, *routines_of(plan, asked.plan))
    if asked.out:
        check_write(asked.out, "plan", rules)
    lesson = load_lesson_plan(plan, asked.plan)
    order = propose_order(
        lesson, keep_first=asked.keep_first, keep_last=asked.keep_last,
        progress=Told("ordering", "starts"),
    )  # fmt: skip
    proposed = reordered(lesson, order)
    print(f"Balls handled between routines: {lesson.handled} now, {proposed.handled} proposed.")
    _tell_plan(proposed)
    if asked.out:
        moved = _moved(proposed.plan, asked.plan, asked.out)
        save_plan(moved, asked.out, rules)
        print(f"{asked.out} written.")
    return 0


def routines_of(plan: Plan, path: str) -> list[Path]:
    """The files of a plan's routines."""
    return [file_of(item, path) for item in plan.items]


def _moved(plan: Plan, from_path: str, to_path: str) -> Plan:
    """The plan with its files named from another place."""
    items = tuple(
        replace(item, file=named_from(file_of(item, from_path), to_path)) for item in plan.items
    )
    return replace(plan, items=items)


def _booklet(asked: argparse.Namespace) -> int:
    if Path(asked.out).suffix.lower() != ".pdf":
        raise OutOfRangeError("a booklet’s file", repr(Path(asked.out).name), "a name in .pdf")
    made_at = time_of_making(asked.made_at)
    plan = load_plan(asked.plan)
    rules = output_rules(asked.replace, asked.plan, *routines_of(plan, asked.plan))
    check_write(asked.out, "pdf", rules)
    lesson = load_lesson_plan(plan, asked.plan)
    from designer.handouts.answered import answered
    from designer.handouts.plan import lesson_plan_pdf

    told, answers = Told("answering"), []
    for part in lesson.parts:
        answers.append(answered(part.routine))
        told(len(answers), len(lesson.parts))
        warn_of_unplayable(part.item.file, part.routine, answers[-1])
    data = lesson_plan_pdf(
        lesson, answers, asked.paper, asked.audience, asked.units, made_at,
        progress=Told("writing"),
    )  # fmt: skip
    write_file(asked.out, data, "pdf", rules)
    print(f"{asked.out} written.")
    return 0


def _tell_plan(lesson: LessonPlan) -> None:
    plan = lesson.plan
    head = "  ".join(part for part in (plan.title, plan.day, plan.coach) if part)
    if head:
        print(head)
    if plan.aims:
        print(plan.aims)
    for number, part in enumerate(lesson.parts, start=1):
        aim = f"  – {part.item.aim}" if part.item.aim else ""
        change = change_told(part.change, first=number == 1)
        print(
            f"{number:2}. {minutes_told(part.item.minutes)}  {part.routine.title}  [{change}]{aim}"
        )
    print(tr("Balls needed: {balls}.", balls=balls_told(lesson.balls)))
    told = tr(
        "{time} in all; {count} balls handled in between.",
        time=minutes_told(plan.minutes),
        count=lesson.handled,
    )
    print(told)
    if len(lesson.tables) > 1:
        tables = ", ".join(lesson.tables)
        print(tr("These routines are for more than one kind of table: {tables}.", tables=tables))
