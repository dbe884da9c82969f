"""The booklet of a lesson: the plan and every sheet as one PDF, made in the background."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from designer.open_routine.task import Progress
from engine.plans import LessonPlan
from engine.results import RoutineAnswer
from engine.storage.writing import SAVING, WriteRules, write_file

#: How much of the work the answers are; the rest is the pages.
_ANSWERS = 0.6


@dataclass(frozen=True, slots=True)
class Booklet:
    """A booklet written: where, and which shots in it cannot be played (routine, shot, why)."""

    file: Path
    unplayable: tuple[tuple[str, str, str], ...]


def write_booklet(
    lesson: LessonPlan, target: Path, progress: Progress, rules: WriteRules = SAVING
) -> Booklet | None:
    """Answer every routine, lay out the pages, write them; None when it was called off.

    Errors of the answers and of writing the file are the caller's to tell.
    """
    from designer.handouts.answered import answered
    from designer.handouts.plan import lesson_plan_pdf
    from designer.words.facts import unplayable
    from designer.words.wording import Wording

    answers: list[RoutineAnswer] = []
    for part in lesson.parts:
        if not progress(_ANSWERS * len(answers) / len(lesson.parts)):
            return None
        answers.append(answered(part.routine))
    data = lesson_plan_pdf(
        lesson, answers,
        progress=lambda done, wanted: progress(
            _ANSWERS + (1.0 - _ANSWERS) * done / max(wanted, 1)
        ),
    )  # fmt: skip
    write_file(target, data, "pdf", rules)
    amiss = tuple(
        (part.routine.title or Path(part.item.file).stem, shot, why)
        for part, found in zip(lesson.parts, answers, strict=True)
        for shot, why in unplayable(Wording(part.routine), found)
    )
    return Booklet(target, amiss)
