"""What must hold in every routine that can be saved and opened again, however unfinished.

Files are checked against these rules when they are opened and edits when they are made, so
that nothing can be built in the designer that the designer would not open. What is merely
unfinished or unplayable (an overlap, no cue ball) is left to `engine.problems`.
"""

from collections.abc import Iterator

from engine.routine.rules.breach import Breach, hold
from engine.routine.rules.gaps import claim_breaches, gap_breaches
from engine.routine.rules.marks import mark_breaches
from engine.routine.rules.setup import (
    ball_breaches,
    condition_breaches,
    sheet_breaches,
    table_breaches,
)
from engine.routine.rules.shots import shot_breaches
from engine.routine.values import Routine

__all__ = [
    "Breach",
    "ball_breaches",
    "breaches",
    "claim_breaches",
    "condition_breaches",
    "gap_breaches",
    "hold",
    "mark_breaches",
    "sheet_breaches",
    "shot_breaches",
    "table_breaches",
]


def breaches(routine: Routine) -> Iterator[Breach]:
    """Every breach in a routine, in the order of its parts."""
    yield from sheet_breaches(routine)
    yield from table_breaches(routine)
    yield from condition_breaches(routine)
    yield from ball_breaches(routine)
    yield from shot_breaches(routine)
    yield from gap_breaches(routine)
    yield from claim_breaches(routine)
    yield from mark_breaches(routine)
