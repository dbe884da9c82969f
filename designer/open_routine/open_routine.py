"""The open routine: one document with what is selected, shown and answered, told by signals."""

from __future__ import annotations

from designer.open_routine.answering import Answering
from designer.open_routine.ball_edits import BallEdits
from designer.open_routine.comparison import Comparison
from designer.open_routine.gap_edits import GapEdits
from designer.open_routine.group_edits import GroupEdits
from designer.open_routine.levels import Levels
from designer.open_routine.mark_edits import MarkEdits
from designer.open_routine.player import Player
from designer.open_routine.predictions import Predictions
from designer.open_routine.reach_watch import ReachWatch
from designer.open_routine.sheet_edits import SheetEdits
from designer.open_routine.shot_edits import ShotEdits
from designer.open_routine.view import View
from designer.texts import tr
from engine.results import RoutineAnswer
from engine.routine.document import Change, Document
from engine.routine.values import Routine

#: Parts of a routine that no prediction rests on.
SHEET_PARTS = frozenset(
    {"title", "coach", "club", "level", "notes", "tags", "cloth_marks", "extra"}
)


class OpenRoutine(Answering):
    """What table, panels and windows have in common: see `Editing` and `Answering`."""

    def __init__(
        self,
        document: Document | None = None,
        predictions: Predictions | None = None,
        view: View | None = None,
    ) -> None:
        super().__init__(document, predictions, view)
        self.balls = BallEdits(self)
        self.shots = ShotEdits(self)
        self.gaps = GapEdits(self)
        self.marks = MarkEdits(self)
        self.group = GroupEdits(self, self.balls, self.marks)
        self.sheet = SheetEdits(self)
        self.reach = ReachWatch(self)
        self.player = Player(self)
        self.levels = Levels(self)
        self.comparison = Comparison(self)
        self._stop = self.document.observe(self._on_change)
        self.predictions.ready.connect(self._answer_again)
        self.levels.changed.connect(self._answer_again)
        self.predictions.found.connect(self._on_found)
        self.predictions.failed.connect(self._on_failed)
        self.keep_pointing()

    # What can be asked for -------------------------------------------------------------------

    def show_shot(self, shot_id: str) -> None:
        """Show another shot."""
        if shot_id != self.shown_shot:
            super().show_shot(shot_id)
            self.answered.emit()

    def _on_shot_shown(self) -> None:
        if self.shot_answer is None:
            self._answer()
        self.reach.follow()

    def set_view(self, view: View) -> None:
        """Show the routine another way."""
        if view.layers.bands and not self.predictions.bands:
            self.predictions.ask(self.played)
        self.predictions.bands = view.layers.bands
        super().set_view(view)

    def full_answer(self) -> RoutineAnswer:
        """The full answer, worked out now if it is not there yet (for files to be exported)."""
        if self.answer is not None and self.answer_is_full and not self._lacks_bands():
            return self.answer
        self._on_found(self.played, self.predictions.in_full(self.played))
        assert self.answer is not None
        return self.answer

    def _lacks_bands(self) -> bool:
        shots = self.answer.shots if self.answer is not None else ()
        return self.predictions.bands and any(
            lane.doubt is None for shot in shots for lane in shot.lanes
        )

    def close(self) -> None:
        """Stop listening and working."""
        self._stop()
        self.reach.close()
        self.player.close()
        self.predictions.close()

    # Keeping up ------------------------------------------------------------------------------

    def _on_change(self, change: Change) -> None:
        pointed = self.keep_pointing(anew=change.kind == "open")
        answers = bool(change.parts - SHEET_PARTS)
        if answers:
            self._answer()
            self.reach.follow()
        self.changed.emit(change)
        if pointed:
            self.pointed.emit()
        if answers:
            self.answered.emit()

    def _answer(self) -> None:
        self.played = self.routine
        self.answer = self.predictions.at_once(self.played, self.shown_shot)
        self.answer_is_full = False
        self.predictions.ask(self.played)

    def _answer_again(self) -> None:
        self._answer()
        self.reach.follow()
        self.answered.emit()

    def _on_found(self, routine: Routine, answer: RoutineAnswer) -> None:
        if routine is self.played:
            self.answer, self.answer_is_full = answer, True
            self.answered.emit()

    def _on_failed(self, words: str) -> None:
        self.messages.warn(tr("There is no prediction for this set-up."), words)
