"""What a sheet is made from: one routine with its answer, the reader, the unit of length."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from designer.texts import tr
from designer.words.names import gap_name, printed_letters, shortened
from designer.words.wording import Wording
from engine.conditions import Conditions
from engine.results import BallTolerance, RoutineAnswer, ShotAnswer
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine, Shot
from engine.tables import Table
from engine.units import LengthUnit

Audience = Literal["coach", "player"]
#: Where the player's sheet tells the answer.
Answers = Literal["none", "upside-down", "last-page"]
SheetKind = Literal["full", "steps", "record", "card", "strip", "poster"]

#: How far off its place each ball may be set before a claim changes, as the engine finds it.
Tolerances = Sequence[BallTolerance]


@dataclass(frozen=True, slots=True)
class Sheet:
    """One routine on its way to paper."""

    routine: Routine
    answer: RoutineAnswer
    unit: LengthUnit
    audience: Audience = "coach"
    answers: Answers = "none"
    tolerances: Tolerances = ()
    key: str = ""

    @property
    def table(self) -> Table:
        """The routine's table."""
        return table_of(self.routine)

    @property
    def conditions(self) -> Conditions:
        """The routine's conditions."""
        return conditions_of(self.routine)

    @property
    def wording(self) -> Wording:
        """The names and the unit it is told in."""
        return Wording(self.routine, self.unit)

    @property
    def letters(self) -> dict[str, str]:
        """Ball id to what is printed on it, the id itself where nothing is."""
        printed = printed_letters(self.routine)
        return {ball_id: letter or ball_id for ball_id, letter in printed.items()}

    @property
    def title(self) -> str:
        """The routine's title, or words that say it has none."""
        return self.routine.title or tr("Routine without a title")

    @property
    def maker_line(self) -> str:
        """Level, coach and club in one line."""
        level = tr("level {level} of 5", level=self.routine.level)
        parts = [level, self.routine.coach, self.routine.club]
        return "  ·  ".join(part for part in parts if part)

    @property
    def gap_titles(self) -> dict[str, str]:
        """Gap id to what it is called, short enough for a line."""
        return {gap.id: shortened(gap_name(self.routine, gap)) for gap in self.routine.gaps}

    def shots(self) -> list[tuple[int, Shot, ShotAnswer | None]]:
        """Number from 1, shot and its answer."""
        answers = {answer.shot: answer for answer in self.answer.shots}
        return [
            (number, shot, answers.get(shot.id))
            for number, shot in enumerate(self.routine.shots, start=1)
        ]
