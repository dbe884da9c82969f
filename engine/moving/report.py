"""What a move keeps and what it breaks: the full check on both tables, side by side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from engine.answers.answering import answer
from engine.moving.move import Moved, new_problems
from engine.results import ClaimResult, Fact, Problem, RoutineAnswer
from engine.routine.context import table_of
from engine.routine.values import Routine


@dataclass(frozen=True, slots=True)
class ClaimMove:
    """One claim before and after the move."""

    before: ClaimResult
    after: ClaimResult

    @property
    def became(self) -> Literal["survives", "lost", "won", "fails"]:
        """What became of it."""
        if self.before.holds:
            return "survives" if self.after.holds else "lost"
        return "won" if self.after.holds else "fails"


@dataclass(frozen=True, slots=True)
class MoveReport:
    """A move judged: claims side by side, what no longer fits, and what was left behind.

    `unfit` holds the problems that the routine did not have before.
    """

    old_table: str
    new_table: str
    claims: tuple[ClaimMove, ...]
    unfit: tuple[Problem, ...]
    notes: tuple[Fact, ...]
    before: RoutineAnswer
    after: RoutineAnswer

    @property
    def all_well(self) -> bool:
        """Whether every claim that held still holds and everything fits."""
        return not self.unfit and all(claim.became != "lost" for claim in self.claims)


def report(routine: Routine, moved: Moved, before: RoutineAnswer | None = None) -> MoveReport:
    """Check the routine on both tables in full; `before` is the old answer where it is known."""
    was = answer(routine, chances=False) if before is None else before
    now = answer(moved.routine, chances=False)
    claims = tuple(map(ClaimMove, was.claims, now.claims))
    unfit = new_problems(was.problems, now.problems)
    return MoveReport(
        table_name(routine), table_name(moved.routine), claims, unfit, moved.notes, was, now
    )


def table_name(routine: Routine) -> str:
    """The table's title, and whose measurements it has.

    >>> table_name(Routine())
    'Snooker, full size (12 ft)'
    """
    table = table_of(routine)
    return f"{table.title}, {table.measured}" if table.measured else table.title
