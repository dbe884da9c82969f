"""What is worked out for an open routine: predictions, and the answers there are by now."""

from __future__ import annotations

import math

from PySide6.QtCore import Signal

from designer.open_routine.editing import Editing
from designer.open_routine.predictions import Predictions
from designer.open_routine.view import View
from engine.results import Lane, RoutineAnswer, ShotAnswer
from engine.routine.document import Document


class Answering(Editing):
    """`answered` tells that there are other answers.

    `answer` always belongs to the present routine; `answer_is_full` says whether verdicts and
    claims are in it yet.
    """

    answered = Signal()

    def __init__(
        self,
        document: Document | None = None,
        predictions: Predictions | None = None,
        view: View | None = None,
    ) -> None:
        super().__init__(document, view)
        self.predictions = predictions or Predictions()
        self.predictions.setParent(self)
        self.predictions.bands = self.view.layers.bands
        self.answer: RoutineAnswer | None = None
        self.answer_is_full = False
        #: Whether a ball is moved by hand: the eye is on the table, panels may wait.
        self.in_hand = False
        #: The routine answers are worked out for: as it was when anything they rest on changed.
        self.played = self.routine

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
