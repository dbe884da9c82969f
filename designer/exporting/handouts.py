"""Handouts out of the window: what is asked for, made on a thread, written where the coach says."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from engine.results import RoutineAnswer
from engine.routine.values import Routine
from engine.units import LengthUnit

Audience = Literal["coach", "player"]
Sheet = Literal["full", "steps", "record", "card", "strip", "poster"]
Answers = Literal["none", "upside-down", "last-page"]

#: Told the share done; False asks the work to stop.
Progress = Callable[[float], bool]

#: Sheets that differ for coach and player, and those that set the table with tolerances.
FOR_SOMEBODY: tuple[str, ...] = ("full", "steps")
WITH_TOLERANCE: tuple[str, ...] = ("full",)


@dataclass(frozen=True, slots=True)
class HandoutWish:
    """Which sheets, for whom, on which paper; `every_open` takes the routines of all windows.

    `title` is the heading of a booklet's page of contents.
    """

    paper: Literal["a3", "a4", "a5", "letter"] = "a4"
    audience: Audience = "coach"
    unit: LengthUnit = "mm"
    sheet: Sheet = "full"
    landscape: bool = False
    answers: Answers = "none"
    tolerance: bool = False
    booklet: bool = False
    title: str = ""
    every_open: bool = False


def handout_bytes(
    routines: Sequence[Routine],
    wish: HandoutWish,
    known: Sequence[RoutineAnswer | None] = (),
    progress: Progress = lambda share: True,
) -> bytes | None:
    """The PDF, worked out in the calling thread; None when `progress` called it off.

    `known` holds full answers there are already. `BaizewrightError` for what cannot be made.
    """
    from designer.handouts import handout_pdf
    from designer.handouts.answered import answered
    from designer.handouts.request import HandoutStoppedError
    from engine.answers import set_up_tolerance

    steps = 2 if wish.tolerance else 1
    whole = len(routines) * (steps + 1)
    pairs, rooms = [], []
    for index, routine in enumerate(routines):
        if not progress(index * steps / whole):
            return None
        given = known[index] if index < len(known) else None
        pairs.append((routine, answered(routine, given)))
        if wish.tolerance:
            at = index * steps + 1

            def told(share: float, at: int = at) -> bool:
                return progress((at + share) / whole)

            rooms.append(set_up_tolerance(routine, told))
            if not told(1.0):
                return None
    done = len(routines) * steps
    try:
        return handout_pdf(
            pairs,
            wish.paper,
            wish.audience,
            wish.unit,
            sheet=wish.sheet,
            landscape=wish.landscape,
            answers=wish.answers,
            booklet=wish.booklet,
            booklet_title=wish.title,
            tolerances=rooms if wish.tolerance else None,
            progress=lambda made, of: progress((done + made) / whole),
        )
    except HandoutStoppedError:
        return None
