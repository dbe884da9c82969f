"""A lesson laid out: every routine of a plan with its minutes and what changes before it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.errors import OutOfRangeError, RoutineFileError
from engine.plans.changing import Change, balls_needed, change, handled
from engine.plans.ordering import Progress, best_order, sum_along
from engine.routine.values import Routine
from engine.storage import Plan, PlanItem, load_routine
from engine.storage.own_plans import file_of, missing_fault
from engine.storage.reading import StrPath

#: Faults of one routine that stand in the line of a plan's item.
MOST_TOLD_OF_ONE = 5


@dataclass(frozen=True, slots=True)
class Part:
    """One routine of a lesson: from which minute, and what is handled before it."""

    item: PlanItem
    routine: Routine
    starts_min: float
    change: Change


@dataclass(frozen=True, slots=True)
class LessonPlan:
    """A plan with its routines; `balls` are kinds and how many are needed at most at once."""

    plan: Plan
    parts: tuple[Part, ...]
    balls: tuple[tuple[str, int], ...]

    @property
    def handled(self) -> int:
        """Balls handled between neighbours, the first set-up left out."""
        return sum(part.change.handled for part in self.parts[1:])

    @property
    def tables(self) -> tuple[str, ...]:
        """The tables the routines are for; more than one cannot be held on one table."""
        return tuple(dict.fromkeys(part.routine.table for part in self.parts))


def load_lesson_plan(plan: Plan, plan_path: StrPath) -> LessonPlan:
    """The lesson of a plan kept at that path; `RoutineFileError` tells every routine at fault."""
    faults, routines = [], []
    for index, item in enumerate(plan.items):
        try:
            routines.append(load_routine(file_of(item, plan_path)))
        except RoutineFileError as error:
            why = "; ".join(error.told(MOST_TOLD_OF_ONE))
            faults.append(missing_fault(index, item.file, why))
    if faults:
        raise RoutineFileError(str(plan_path), faults)
    return lesson_plan_of(plan, routines)


def lesson_plan_of(plan: Plan, routines: Sequence[Routine]) -> LessonPlan:
    """The laid out lesson of a plan and its routines, one for each item."""
    if len(routines) != len(plan.items):
        raise OutOfRangeError("number of routines", len(routines), f"{len(plan.items)}")
    parts, starts, before = [], 0.0, Routine()
    for item, routine in zip(plan.items, routines, strict=True):
        parts.append(Part(item, routine, starts, change(before, routine)))
        starts, before = starts + item.minutes, routine
    return LessonPlan(plan, tuple(parts), balls_needed(routines))


def reordered(lesson: LessonPlan, order: Sequence[int]) -> LessonPlan:
    """The same lesson in another order."""
    items = tuple(lesson.parts[at].item for at in order)
    routines = [lesson.parts[at].routine for at in order]
    return lesson_plan_of(replace(lesson.plan, items=items), routines)


def propose_order(
    lesson: LessonPlan,
    *,
    keep_first: bool = False,
    keep_last: bool = False,
    progress: Progress | None = None,
) -> tuple[int, ...]:
    """The order (indices of parts) with the least handling; the given one when none is better."""
    matrix = handled([part.routine for part in lesson.parts])
    count = len(lesson.parts)
    order = best_order(
        matrix, first=0 if keep_first and count > 1 else None,
        last=count - 1 if keep_last and count > 1 else None, progress=progress,
    )  # fmt: skip
    given = tuple(range(count))
    return order if sum_along(matrix, order) < sum_along(matrix, given) else given
