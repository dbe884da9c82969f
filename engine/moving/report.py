"""What a move keeps and what it breaks: the full check on both tables, side by side."""

from __future__ import annotations

from dataclasses import dataclass

from engine.answers.answering import answer
from engine.moving.move import Moved, new_problems
from engine.results import Problem, RoutineAnswer
from engine.routine.context import table_of
from engine.routine.values import Routine


@dataclass(frozen=True, slots=True)
class ClaimMove:
    """One claim before and after: whether it holds, and what was found."""

    sentence: str
    held: bool
    holds: bool
    found_before: str
    found_after: str

    @property
    def word(self) -> str:
        """What became of it: survives, is lost, is won, or still fails."""
        if self.held:
            return "survives" if self.holds else "is lost"
        return "is won" if self.holds else "still fails"


@dataclass(frozen=True, slots=True)
class MoveReport:
    """A move judged: claims side by side, what no longer fits, and what was left behind.

    `unfit` holds the problems that the routine did not have before.
    """

    old_table: str
    new_table: str
    claims: tuple[ClaimMove, ...]
    unfit: tuple[Problem, ...]
    notes: tuple[str, ...]
    before: RoutineAnswer
    after: RoutineAnswer

    @property
    def all_well(self) -> bool:
        """Whether every claim that held still holds and everything fits."""
        return not self.unfit and all(claim.holds or not claim.held for claim in self.claims)


def report(routine: Routine, moved: Moved, before: RoutineAnswer | None = None) -> MoveReport:
    """Check the routine on both tables in full; `before` is the old answer where it is known."""
    was = answer(routine, chances=False) if before is None else before
    now = answer(moved.routine, chances=False)
    claims = tuple(
        ClaimMove(new.sentence, old.holds, new.holds, old.found, new.found)
        for old, new in zip(was.claims, now.claims, strict=True)
    )
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


def report_text(found: MoveReport) -> str:
    """The report in plain sentences, lines joined, no line end after the last."""
    lines = [f"From {found.old_table} to {found.new_table}:"]
    lines += [f"  {note}" for note in found.notes]
    if found.unfit:
        lines.append("  What no longer fits:")
        lines += [f"    {problem.message}" for problem in found.unfit]
    else:
        lines.append("  Everything fits.")
    if not found.claims:
        return "\n".join([*lines, "  The routine makes no claims."])
    lines.append("  Claims:")
    for claim in found.claims:
        lines.append(f"    {claim.word}: {claim.sentence} — {claim.found_after}")
    held = [claim for claim in found.claims if claim.held]
    kept = sum(claim.holds for claim in held)
    lines.append(f"  {kept} of the {len(held)} claims that held still hold.")
    return "\n".join(lines)
