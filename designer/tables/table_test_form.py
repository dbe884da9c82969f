"""The form of the two-minute table test: what to do with three strokes, and a field per reading."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from designer.open_routine import OpenRoutine
from designer.open_routine.condition_edits import ConditionEdits
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.fields import NumberField
from designer.widgets.text_fields import TextField
from designer.words.figures import length
from engine.calibration.table_test import READINGS, USUAL_PACE, planned
from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST

UP_AND_BACK = mark(
    "1. Cue ball {start} from the bottom cushion. Strike it in the middle, straight up the table, "
    "at the pace given here. On its way back, once it rolls, start the watch as it passes any mark "
    "and stop it when the ball rests; measure from the mark to where it stopped. Count the table "
    "lengths it ran in all, to a tenth."
)
REBOUND = mark(
    "2. Let a ball run off a ramp, two cues side by side will do, always from the same place. "
    "First on free cloth: measure from the foot of the ramp to where it stops. Then square at a "
    "cushion: from the foot to the ball’s centre as it touches the cushion, and from there to "
    "where it stops after it has come back."
)
HALF_BALL = mark(
    "3. Cue ball {cue_x} from the left and {cue_y} from the bottom cushion, object ball {ball_x} "
    "and {ball_y}. At the same pace, the cue ball struck in the middle, pot the object ball "
    "{goal}: it is a half-ball. Measure from the left cushion to where the cue ball’s centre meets "
    "the top one."
)
#: What each reading is called at its field.
CALLED = {
    "lengths": mark("Lengths it ran in all"),
    "stretch_mm": mark("From the mark to rest, mm"),
    "stretch_s": mark("Seconds from the mark to rest"),
    "free_mm": mark("Ran on free cloth, mm"),
    "ramp_mm": mark("From the ramp to the cushion, mm"),
    "back_mm": mark("Came back, mm"),
    "mark_mm": mark("Met the top cushion at, mm from the left"),
}
#: The readings of each stroke.
STROKES = (
    (UP_AND_BACK, ("lengths", "stretch_mm", "stretch_s")),
    (REBOUND, ("free_mm", "ramp_mm", "back_mm")),
    (HALF_BALL, ("mark_mm",)),
)


class TableTestForm(QWidget):
    """Three strokes with their fields; `asked` when what was read is to be worked out."""

    asked = Signal()

    def __init__(self, session: OpenRoutine, edits: ConditionEdits) -> None:
        super().__init__()
        self._session, self._edits = session, edits
        self.pace = NumberField()
        self.pace.setRange(PACE_LOWEST, PACE_HIGHEST)
        self.pace.setSingleStep(0.5)
        self.pace.setDecimals(1)
        self.pace.setValue(USUAL_PACE)
        self.pace.setAccessibleName(tr("Pace of the strokes"))
        self.fields = {name: TextField() for name in READINGS}
        self.told: list[QLabel] = []
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for _, names in STROKES:
            told = QLabel()
            told.setWordWrap(True)
            self.told.append(told)
            layout.addWidget(told)
            layout.addLayout(self._row(names))
        self.begin = action_button(tr("Work it out"), self.asked.emit)
        layout.addWidget(self.begin)
        self.refresh()

    def _row(self, names: tuple[str, ...]) -> QGridLayout:
        grid = QGridLayout()
        parts: list[tuple[str, QWidget]] = [(tr(CALLED[name]), self.fields[name]) for name in names]
        if "lengths" in names:
            parts.insert(0, (tr("Pace"), self.pace))
        for column, (called, field) in enumerate(parts):
            label = QLabel(called)
            label.setBuddy(field)
            if field is not self.pace:
                field.setAccessibleName(called)
            field.setMaximumWidth(110)
            grid.addWidget(label, 0, column)
            grid.addWidget(field, 1, column)
        grid.setColumnStretch(len(parts), 1)
        return grid

    def refresh(self) -> None:
        """Say where the balls of the table's test stand."""
        up, _, _, pot = planned(self._session.table, self._edits.usual)
        unit = self._session.view.unit

        def at(one: str) -> str:
            return length(pot.number(one), unit)

        goal = tr("into the top right pocket")
        if not pot.text("pocket"):
            goal = tr("to the right cushion, {up} from the bottom one", up=at("to_y_mm"))
        words = (
            tr(UP_AND_BACK, start=length(up.number("start_mm"), unit)),
            tr(REBOUND),
            tr(
                HALF_BALL, cue_x=at("cue_x_mm"), cue_y=at("cue_y_mm"), ball_x=at("ball_x_mm"),
                ball_y=at("ball_y_mm"), goal=goal,
            ),
        )  # fmt: skip
        for label, text in zip(self.told, words, strict=True):
            label.setText(text)

    def readings(self) -> dict[str, float]:
        """What is filled in, by the names of `READINGS`; `ValueError` with a text that is none."""
        found = {}
        for name, field in self.fields.items():
            text = field.text().strip()
            if text:
                try:
                    found[name] = float(text.replace(",", "."))
                except ValueError:
                    raise ValueError(text) from None
        return found
