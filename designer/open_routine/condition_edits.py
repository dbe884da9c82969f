"""Edits of the conditions a routine is played in."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from designer.open_routine.editing import Editing
from designer.texts import tr, tr_count
from designer.words.figures import first_up
from designer.words.tables import CONDITION_WORDS, WHAT_WORDS
from engine.conditions import Conditions, usual_conditions
from engine.conditions.model import CONDITION_NAMES
from engine.conditions.said import figures_said, names_of, word_for
from engine.errors import BaizewrightError
from engine.routine import edits

PACES = "pace_speeds_m_s"


class ConditionEdits:
    """Stating conditions in words and figures, taking them back, findings, the pace scale."""

    def __init__(self, session: Editing) -> None:
        self._session = session

    @property
    def usual(self) -> Conditions:
        """What the table starts from."""
        return usual_conditions(self._session.table)

    def stated(self, name: str) -> bool:
        """Whether the routine states its own value of a condition."""
        return name in self._session.routine.conditions

    def set_value(self, name: str, title: str, value: float) -> bool:
        """State a condition; the table's own value counts as not stated."""
        if value == getattr(self.usual, name):
            return self.reset(name, title)
        return self._session.apply(
            tr("Condition: {title}", title=title), lambda r: edits.set_condition(r, name, value)
        )

    def reset(self, name: str, title: str) -> bool:
        """Go back to the table's own value of one condition."""
        return self._session.apply(
            tr("Table’s own {title}", title=title), lambda r: edits.set_condition(r, name, None)
        )

    def reset_all(self) -> bool:
        """Go back to the table's own conditions; pace scale and cue are the coach's and stay."""
        kept = self._others(set(CONDITION_NAMES) - {PACES, "cue_mass_kg"})
        return self._session.apply(
            tr("Table’s own conditions"), lambda r: edits.set_conditions(r, kept)
        )

    def say(self, what: str, word: str) -> bool:
        """State what a coach's word for the cloth, the cushions or the balls stands for."""
        stated = {**self._others(set(names_of(what))), **figures_said(self.usual, what, word)}
        return self._session.apply(
            f"{first_up(tr(WHAT_WORDS[what]))}: {tr(CONDITION_WORDS[word])}",
            lambda r: edits.set_conditions(r, stated),
        )

    def said(self, what: str) -> str:
        """The word for the cloth, the cushions or the balls; "" for figures of one's own."""
        return word_for(self.usual, self._session.conditions, what)

    def state(self, conditions: Mapping[str, Any], title: str) -> bool:
        """State the conditions that were found, as one step; the others stay."""
        stated = {**self._others(set(conditions)), **conditions}
        return self._session.apply(
            tr("Conditions of {title}", title=title), lambda r: edits.set_conditions(r, stated)
        )

    def load(self, path: Path) -> bool:
        """Take over the conditions of a calibration's file; a faulty one changes nothing."""
        from engine.storage import load_conditions

        session = self._session
        try:
            found = load_conditions(path)
        except (BaizewrightError, OSError) as error:
            session.messages.fail(
                tr("“{name}” was not taken over.", name=path.name),
                tr("The conditions are as they were."),
                error,
            )
            return False
        known = {name: value for name, value in found.conditions.items() if name in CONDITION_NAMES}
        title = found.title or path.stem
        done = self.state(known, title)
        if done and found.table and found.table not in (session.routine.table, session.table.title):
            session.messages.warn(
                tr("These conditions were found on another table ({table}).", table=found.table),
                tr("Undo takes them back."),
            )
        elif done:
            session.messages.note(
                tr_count(
                    "{count} condition is taken over from {title}.",
                    "{count} conditions are taken over from {title}.",
                    len(known),
                    title=title,
                )
            )
        return done

    def set_pace(self, pace: int, speed_m_s: float) -> bool:
        """State the speed of one pace of the scale, 1 to 10; the speeds must rise."""
        speeds = list(self._session.conditions.pace_speeds_m_s)
        speeds[pace - 1] = speed_m_s
        return self._session.apply(
            tr("Pace {pace}", pace=pace), lambda r: edits.set_condition(r, PACES, tuple(speeds))
        )

    def reset_paces(self) -> bool:
        """Go back to the usual pace scale."""
        return self._session.apply(
            tr("Usual pace scale"), lambda r: edits.set_condition(r, PACES, None)
        )

    def _others(self, names: set[str]) -> dict[str, Any]:
        stated: Mapping[str, Any] = self._session.routine.conditions
        return {name: value for name, value in stated.items() if name not in names}
