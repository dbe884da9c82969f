"""The lanes of other conditions, drawn beneath those of the routine's own: before and after."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from designer.open_routine.answering import Answering
from engine.errors import BaizewrightError
from engine.results import ShotAnswer
from engine.routine.values import Routine


class Comparison:
    """Which conditions to compare with, and what the shot on show does in them.

    `words` say what the lanes beneath are; the session's `view_changed` tells when it changes.
    """

    def __init__(self, session: Answering) -> None:
        self._session = session
        self.conditions: Mapping[str, Any] | None = None
        self.words = ""
        self._found: tuple[Routine, str, ShotAnswer | None] | None = None

    def show(self, conditions: Mapping[str, Any], words: str) -> None:
        """Draw the lanes of a routine that states these conditions too."""
        self.conditions, self.words, self._found = dict(conditions), words, None
        self._session.view_changed.emit()

    def hide(self) -> None:
        """Draw the routine's own lanes alone."""
        if self.conditions is not None:
            self.conditions, self.words, self._found = None, "", None
            self._session.view_changed.emit()

    def shot_answer(self) -> ShotAnswer | None:
        """The shot on show in the other conditions; None when nothing is compared."""
        session = self._session
        if self.conditions is None or session.shot is None or not session.predictions.is_ready:
            return None
        routine, shot = session.routine, session.shown_shot
        if self._found is None or self._found[0] is not routine or self._found[1] != shot:
            self._found = (routine, shot, _answered(routine, shot, self.conditions))
        return self._found[2]


def _answered(routine: Routine, shot: str, conditions: Mapping[str, Any]) -> ShotAnswer | None:
    from engine.answers import answer_shot

    try:
        return answer_shot(replace(routine, conditions=dict(conditions), gaps=()), shot)
    except BaizewrightError:
        return None
