"""Lesson plan files: format "baizewright-plan", routines in order with minutes and aims.

Routine files are named relative to the plan's own folder where they lie below or beside it, so
that a folder with a plan and its routines can be moved or given away.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from engine.errors import Fault, printable
from engine.storage.document import Form, read_document
from engine.storage.files import must_be_writable, save_text
from engine.storage.reading import StrPath, read_text
from engine.storage.write import json_text
from engine.storage.writing import SAVING, WriteRules

FORM = Form("baizewright-plan", 1, "lesson plan", "plan")
USUAL_MINUTES = 10.0


@dataclass(frozen=True, slots=True)
class PlanItem:
    """One routine of a lesson: its file, how long it is played, and what for."""

    file: str
    minutes: float = USUAL_MINUTES
    aim: str = ""
    extra: Mapping[str, Any] = field(default_factory=dict, repr=False)


@dataclass(frozen=True, slots=True)
class Plan:
    """A lesson: what it is for, when, by whom, and its routines in order.

    `day` is a day as 2026-03-31, or "".
    """

    title: str = ""
    day: str = ""
    coach: str = ""
    aims: str = ""
    items: tuple[PlanItem, ...] = ()
    extra: Mapping[str, Any] = field(default_factory=dict, repr=False)

    @property
    def minutes(self) -> float:
        """How long it takes in all."""
        return sum(item.minutes for item in self.items)


_KEYS = ("title", "day", "coach", "aims")


def parse_plan(text: str, name: str = "plan") -> Plan:
    """The plan in `text`; `RoutineFileError` lists every fault with its path."""
    data, findings = read_document(text, name, FORM)
    findings.hold()
    items = tuple(
        PlanItem(
            one["file"], float(one.get("minutes", USUAL_MINUTES)), one.get("aim", ""),
            {key: value for key, value in one.items() if key not in ("file", "minutes", "aim")},
        )
        for one in data.get("items", [])
    )  # fmt: skip
    known = ("format", "version", "items", *_KEYS)
    extra = {key: value for key, value in data.items() if key not in known}
    return Plan(**{key: data.get(key, "") for key in _KEYS}, items=items, extra=extra)


def dump_plan(plan: Plan) -> str:
    """The text of the plan's file; reading it gives the same plan."""
    data: dict[str, Any] = {"format": FORM.format, "version": FORM.version}
    data |= {key: getattr(plan, key) for key in _KEYS if getattr(plan, key)}
    data["items"] = [_item(item) for item in plan.items]
    for key, value in plan.extra.items():
        data.setdefault(key, value)
    return json_text(data)


def load_plan(path: StrPath) -> Plan:
    """The plan in a file; `RoutineFileError` lists what is wrong with the file."""
    return parse_plan(read_text(path, kind=FORM.word), str(path))


def save_plan(plan: Plan, path: StrPath, rules: WriteRules = SAVING) -> None:
    """Write the plan's file as safely as a routine's.

    `RoutineFileError` for a plan that could not be read again, or a file that cannot be written.
    """
    for index, item in enumerate(plan.items):
        must_be_writable(path, f"items[{index}].file", item.file)
    text = dump_plan(plan)
    parse_plan(text, str(path))
    save_text(text, path, "plan", rules)


def file_of(item: PlanItem, plan_path: StrPath) -> Path:
    """Where an item's routine lies, for a plan kept at that path."""
    return Path(os.path.normpath(Path(os.path.abspath(plan_path)).parent / item.file))


def named_from(routine_path: StrPath, plan_path: StrPath) -> str:
    """How a plan at that path names a routine's file: with forward slashes, relative if it can."""
    there = os.path.abspath(routine_path)
    try:
        name = os.path.relpath(there, Path(os.path.abspath(plan_path)).parent)
    except ValueError:  # another drive
        name = there
    return Path(name).as_posix()


def missing_fault(index: int, file: str, why: str) -> Fault:
    """The fault of an item whose routine cannot be had."""
    return Fault(f"items[{index}].file", f"{printable(file)}: {why}")


def _item(item: PlanItem) -> dict[str, Any]:
    minutes = int(item.minutes) if float(item.minutes).is_integer() else item.minutes
    data: dict[str, Any] = {"file": item.file, "minutes": minutes}
    if item.aim:
        data["aim"] = item.aim
    for key, value in item.extra.items():
        data.setdefault(key, value)
    return data
