"""The answer a sheet is made from: everything worked out, with how far off to expect each lane."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from engine.results import RoutineAnswer
    from engine.routine.values import Routine


def answered(routine: Routine, known: RoutineAnswer | None = None) -> RoutineAnswer:
    """The routine's answer for paper; a full one that is `known` already is made use of."""
    from engine.answers import answer, with_bands

    return with_bands(routine, known or answer(routine), outlined=False)
