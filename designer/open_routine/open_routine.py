"""The session: one open document with what is selected, shown and answered, told by signals."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from designer.open_routine.ball_edits import BallEdits
from designer.open_routine.comparison import Comparison
from designer.open_routine.gap_edits import GapEdits
from designer.open_routine.group_edits import GroupEdits
from designer.open_routine.levels import Levels
from designer.open_routine.mark_edits import MarkEdits
from designer.open_routine.messages import Messages
from designer.open_routine.player import Player
from designer.open_routine.predictions import Predictions
from designer.open_routine.reach_watch import ReachWatch
from designer.open_routine.sheet_edits import SheetEdits
from designer.open_routine.shot_edits import ShotEdits
from designer.open_routine.view import View
from designer.texts import tr
from designer.words.errors import error_told
from designer.words.wording import Wording
from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import BaizewrightError
from engine.results import Lane, RoutineAnswer, ShotAnswer
from engine.routine.context import conditions_of, table_of
from engine.routine.document import Change, Document, Edit
from engine.routine.values import ClothMark, LaneAsk, Routine, Shot
from engine.tables import Table

#: Parts of a routine that no prediction rests on.
SHEET_PARTS = frozenset(
    {"title", "coach", "club", "level", "notes", "tags", "cloth_marks", "extra"}
)


class OpenRoutine(QObject):
    """What canvas, panels and window have in common.

    `changed` tells of every change of the document, `pointed` that another ball, shot or lane
    is selected, `answered` that there are other answers, `view_changed` that the view differs.
    `answer` always belongs to the present routine; `answer_is_full` says whether verdicts and
    claims are in it yet.
    """

    changed = Signal(object)
    pointed = Signal()
    answered = Signal()
    view_changed = Signal()
    #: Asks the window to show a panel, by its name, and go to it.
    attend = Signal(str)

    def __init__(
        self,
        document: Document | None = None,
        predictions: Predictions | None = None,
        view: View | None = None,
    ) -> None:
        super().__init__()
        self.document = document or Document()
        self.messages = Messages(self)
        self.predictions = predictions or Predictions()
        self.predictions.setParent(self)
        self.view = view or View()
        self.predictions.bands = self.view.layers.bands
        self.selected_ball = self.selected_mark = ""
        self.also: tuple[str, ...] = ()
        self.shown_shot = ""
        self.shown_lane = ""
        self._hidden: frozenset[tuple[str, str]] = frozenset()
        self.answer: RoutineAnswer | None = None
        self.answer_is_full = False
        #: The routine answers are worked out for: as it was when anything they rest on changed.
        self.played = self.routine
        self.balls = BallEdits(self)
        self.group = GroupEdits(self)
        self.shots = ShotEdits(self)
        self.gaps = GapEdits(self)
        self.marks = MarkEdits(self)
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
        self._keep_pointing()

    # What there is ---------------------------------------------------------------------------

    @property
    def routine(self) -> Routine:
        """The routine as it is now."""
        return self.document.routine

    @property
    def table(self) -> Table:
        """The routine's table."""
        return table_of(self.routine)

    @property
    def conditions(self) -> Conditions:
        """The conditions the routine is played in."""
        return conditions_of(self.routine)

    @property
    def wording(self) -> Wording:
        """The names of the routine and the unit its lengths are told in."""
        return Wording(self.routine, self.view.unit)

    @property
    def radius_mm(self) -> float:
        """Radius of the balls."""
        return self.conditions.ball_radius_mm

    def radius_of(self, kind: str) -> float:
        """Radius of a ball of that kind: the cue ball may be of another size."""
        conditions = self.conditions
        return conditions.cue_radius_mm if kind == "cue" else conditions.ball_radius_mm

    @property
    def ball(self) -> Ball | None:
        """The selected ball."""
        return next((b for b in self.routine.balls if b.id == self.selected_ball), None)

    @property
    def mark(self) -> ClothMark | None:
        """The selected cloth mark."""
        return next((m for m in self.routine.cloth_marks if m.id == self.selected_mark), None)

    @property
    def chosen(self) -> tuple[str, ...]:
        """Ids of all chosen balls, the selected one first."""
        return (self.selected_ball, *self.also) if self.selected_ball else ()

    @property
    def shot(self) -> Shot | None:
        """The shot on show."""
        return next((s for s in self.routine.shots if s.id == self.shown_shot), None)

    @property
    def lane(self) -> LaneAsk | None:
        """The selected lane of the shot on show."""
        lanes = self.shot.lanes if self.shot is not None else ()
        return next((lane for lane in lanes if lane.label == self.shown_lane), None)

    @property
    def shot_answer(self) -> ShotAnswer | None:
        """The answer of the shot on show, None while there is none."""
        shots = self.answer.shots if self.answer is not None else ()
        return next((one for one in shots if one.shot == self.shown_shot), None)

    @property
    def lane_answer(self) -> Lane | None:
        """The predicted lane that is selected."""
        found = self.shot_answer
        lanes = found.lanes if found is not None else ()
        return next((lane for lane in lanes if lane.label == self.shown_lane), None)

    def plays_down(self) -> bool:
        """Whether the cue ball of the shot on show is played down the table, towards baulk."""
        lane, shot, cue = self.lane_answer, self.shot, self.routine.cue_ball
        if lane is not None:
            return math.sin(math.radians(lane.aim_deg)) < 0.0
        if shot is not None and shot.aim_deg is not None:
            return math.sin(math.radians(shot.aim_deg)) < 0.0
        target = next(
            (b for b in self.routine.balls if shot is not None and b.id == shot.object_ball), None
        )
        return cue is not None and target is not None and target.y_mm < cue.y_mm

    # What can be asked for -------------------------------------------------------------------

    def apply(self, name: str, edit: Edit, *, merge: str = "") -> bool:
        """Edit the document; a refused edit becomes a message, and nothing changes."""
        try:
            return self.document.apply(name, edit, merge=merge)
        except BaizewrightError as error:
            self.messages.warn(tr("“{step}” was not done.", step=name), error_told(error))
            return False

    def undo(self) -> None:
        """Take back the last step."""
        self.document.undo()

    def redo(self) -> None:
        """Do the last step taken back once more."""
        self.document.redo()

    def point_at_ball(self, ball_id: str) -> None:
        """Select a ball alone, or none with ""."""
        if ball_id != self.selected_ball or self.also or self.selected_mark:
            self.selected_ball, self.also, self.selected_mark = ball_id, (), ""
            self.pointed.emit()

    def point_at_mark(self, mark_id: str) -> None:
        """Select a cloth mark instead of balls."""
        if mark_id != self.selected_mark:
            self.selected_ball, self.also, self.selected_mark = "", (), mark_id
            self.pointed.emit()

    def choose_balls(self, ball_ids: Sequence[str]) -> None:
        """Select several balls, the first of them as the one whose fields are shown."""
        first, *others = ball_ids or [""]
        if (first, *others) != (self.selected_ball, *self.also):
            self.selected_ball, self.also, self.selected_mark = first, tuple(others), ""
            self.pointed.emit()

    def toggle_ball(self, ball_id: str) -> None:
        """Choose one ball more, or one less."""
        chosen = self.chosen
        if ball_id in chosen:
            self.choose_balls([one for one in chosen if one != ball_id])
        else:
            self.choose_balls([*chosen, ball_id])

    def point_at_lane(self, label: str) -> None:
        """Select a lane of the shot on show."""
        if label != self.shown_lane:
            self.shown_lane = label
            self.pointed.emit()

    def show_shot(self, shot_id: str) -> None:
        """Show another shot."""
        if shot_id == self.shown_shot:
            return
        self.shown_shot = shot_id
        self._keep_pointing()
        if self.shot_answer is None:
            self._answer()
        self.reach.follow()
        self.pointed.emit()
        self.answered.emit()

    def set_view(self, view: View) -> None:
        """Show the routine another way."""
        if view != self.view:
            self.view = view
            if view.layers.bands and not self.predictions.bands:
                self.predictions.ask(self.played)
            self.predictions.bands = view.layers.bands
            self.view_changed.emit()

    def lane_is_shown(self, label: str) -> bool:
        """Whether that lane of the shot on show is to be drawn."""
        return (self.shown_shot, label) not in self._hidden

    def show_lane(self, label: str, on: bool) -> None:
        """Draw that lane of the shot on show, or leave it out."""
        key = frozenset({(self.shown_shot, label)})
        hidden = self._hidden - key if on else self._hidden | key
        if hidden != self._hidden:
            self._hidden = hidden
            self.view_changed.emit()

    def lanes_to_draw(self) -> frozenset[str] | None:
        """Letters of the lanes to draw of the shot on show; None for all."""
        lanes = self.shot.lanes if self.shot is not None else ()
        shown = frozenset(lane.label for lane in lanes if self.lane_is_shown(lane.label))
        return None if len(shown) == len(lanes) else shown

    def set_unit(self, unit: str) -> None:
        """Read lengths in "mm" or "inch"."""
        self.set_view(replace(self.view, unit="inch" if unit == "inch" else "mm"))

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
        pointed = self._keep_pointing(anew=change.kind == "open")
        answers = bool(change.parts - SHEET_PARTS)
        if answers:
            self._answer()
            self.reach.follow()
        self.changed.emit(change)
        if pointed:
            self.pointed.emit()
        if answers:
            self.answered.emit()

    def _keep_pointing(self, *, anew: bool = False) -> bool:
        """Keep selections on what exists; True when one had to move."""
        before = (self.chosen, self.selected_mark, self.shown_shot, self.shown_lane)
        if anew:
            self.selected_ball = self.selected_mark = self.shown_shot = self.shown_lane = ""
        ids = {ball.id for ball in self.routine.balls}
        left = [one for one in (() if anew else self.chosen) if one in ids]
        self.selected_ball, self.also = (left[0], tuple(left[1:])) if left else ("", ())
        if self.mark is None:
            self.selected_mark = ""
        if self.shot is None:
            shots = self.routine.shots
            self.shown_shot = shots[0].id if shots else ""
        if self.lane is None:
            lanes = self.shot.lanes if self.shot is not None else ()
            self.shown_lane = lanes[0].label if lanes else ""
        return before != (self.chosen, self.selected_mark, self.shown_shot, self.shown_lane)

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
