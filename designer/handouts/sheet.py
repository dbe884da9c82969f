"""What a sheet is made from: one routine with its answer, the reader, the unit of length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from designer.drawing.lettering import ball_words
from engine.answers.values import RoutineAnswer, ShotAnswer
from engine.conditions import Conditions
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine, Shot
from engine.tables import Table
from engine.units import LengthUnit

Audience = Literal["coach", "player"]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One routine on its way to paper."""

    routine: Routine
    answer: RoutineAnswer
    unit: LengthUnit

    @property
    def table(self) -> Table:
        """The routine's table."""
        return table_of(self.routine)

    @property
    def conditions(self) -> Conditions:
        """The routine's conditions."""
        return conditions_of(self.routine)

    @property
    def names(self) -> dict[str, str]:
        """Ball id to what a coach calls it."""
        return ball_words(self.routine)

    @property
    def title(self) -> str:
        """The routine's title, or words that say it has none."""
        return self.routine.title or "Routine without a title"

    @property
    def maker_line(self) -> str:
        """Coach, club and level in one line."""
        parts = [self.routine.coach, self.routine.club, f"level {self.routine.level} of 5"]
        return "  ·  ".join(part for part in parts if part)

    def shots(self) -> list[tuple[int, Shot, ShotAnswer | None]]:
        """Number from 1, shot and its answer."""
        answers = {answer.shot: answer for answer in self.answer.shots}
        return [
            (number, shot, answers.get(shot.id))
            for number, shot in enumerate(self.routine.shots, start=1)
        ]
