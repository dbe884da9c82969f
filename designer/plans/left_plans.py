"""Lesson plans that were not saved: written apart while they change, found after a crash."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from designer.files.unsaved_copy import OF_FILE, left_files
from designer.open_routine import Settings
from designer.texts import tr, tr_count
from engine.errors import BaizewrightError, RoutineFileError
from engine.storage import Plan, WriteRules, load_plan, save_plan
from engine.storage.own_plans import file_of


@dataclass(frozen=True, slots=True)
class LeftPlan:
    """A plan found in the folder: `file` keeps it, `path` is the coach's own file, if any.

    Its routines are named by whole paths.
    """

    file: Path
    plan: Plan
    path: Path | None
    when: datetime

    def told(self) -> str:
        """Title, or name of the file, and how many routines."""
        title = self.plan.title or (self.path.name if self.path else tr("New plan"))
        count = tr_count("{count} routine", "{count} routines", len(self.plan.items))
        return tr("Lesson plan “{title}” – {routines}", title=title, routines=count)


def plans_folder(settings: Settings) -> Path:
    """Where unsaved plans are kept."""
    return settings.recovery_folder / "plans"


def keep_plan(plan: Plan, path: Path | None, beside: Path, file: Path) -> None:
    """Write an unsaved plan into a file of the program's own.

    `path` is the coach's own file of it, if any, `beside` the path its routines are named from.
    """
    items = tuple(replace(item, file=file_of(item, beside).as_posix()) for item in plan.items)
    about = {} if path is None else {OF_FILE: str(path)}
    kept = replace(plan, items=items, extra={**plan.extra, **about})
    rules = WriteRules(private=True, passing=True)
    try:
        save_plan(kept, file, rules)
    except RoutineFileError:
        # A day half typed makes no plan; all else is worth keeping.
        save_plan(replace(kept, day=""), file, rules)


def left_plans(settings: Settings) -> tuple[LeftPlan, ...]:
    """What programs that are no longer running have left, newest first."""
    found = []
    for file, when in left_files(plans_folder(settings)):
        try:
            plan = load_plan(file)
        except BaizewrightError:
            continue
        extra = dict(plan.extra)
        own = extra.pop(OF_FILE, None)
        found.append(
            LeftPlan(file, replace(plan, extra=extra), Path(str(own)) if own else None, when)
        )
    return tuple(sorted(found, key=lambda left: left.when, reverse=True))
