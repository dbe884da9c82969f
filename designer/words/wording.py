"""How one routine is told: the names of what is in it, and the unit its lengths are read in."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from designer.words.figures import length
from designer.words.names import ball_names, gap_called, gap_name, id_as_words, pocket_name
from engine.conditions import Conditions
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine
from engine.tables import Table
from engine.units import LengthUnit


@dataclass(frozen=True)
class Wording:
    """One routine and the coach's unit of length, for as long as neither changes."""

    routine: Routine
    unit: LengthUnit = "mm"

    @cached_property
    def balls(self) -> dict[str, str]:
        """Ball id to what a coach calls it."""
        return ball_names(self.routine)

    @cached_property
    def table(self) -> Table:
        """The routine's table."""
        return table_of(self.routine)

    @cached_property
    def conditions(self) -> Conditions:
        """The routine's conditions."""
        return conditions_of(self.routine)

    def ball(self, ball_id: str) -> str:
        """A ball by its id: "red R1"."""
        return self.balls.get(ball_id) or id_as_words(ball_id)

    def gap(self, gap_id: str) -> str:
        """A gap by its id, alone: "red R1 and red R2"."""
        gap = next((one for one in self.routine.gaps if one.id == gap_id), None)
        return id_as_words(gap_id) if gap is None else gap_name(self.routine, gap)

    def called(self, gap_id: str) -> str:
        """A gap by its id, in a sentence."""
        return gap_called(self.routine, gap_id)

    def pocket(self, pocket_id: str) -> str:
        """A pocket by its id."""
        return pocket_name(self.table, pocket_id)

    def length(self, length_mm: float) -> str:
        """A length of the table."""
        return length(length_mm, self.unit)
