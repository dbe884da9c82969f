"""The page of the pace scale: what each pace of the coach means in m/s and table lengths."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from designer.open_routine import OpenRoutine
from designer.open_routine.condition_edits import PACES, ConditionEdits
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.text_fields import TextField

TELL = mark(
    "A pace is how hard you stroke: here by the speed it gives a cue ball struck at centre. Lower, "
    "higher or with side, the same stroke gives the ball less speed. The lengths are those the cue "
    "ball alone runs up and down this table when it is struck at centre, until it comes to rest."
)


class PacePage(QWidget):
    """Ten fields, one for each pace."""

    def __init__(self, session: OpenRoutine, edits: ConditionEdits) -> None:
        super().__init__()
        self._session, self._edits = session, edits
        tell = QLabel(tr(TELL))
        tell.setWordWrap(True)
        grid = QGridLayout()
        grid.setHorizontalSpacing(18)
        for column, head in enumerate((tr("Pace"), tr("m/s"), tr("Usual"), tr("Table lengths"))):
            grid.addWidget(QLabel(f"<b>{head}</b>"), 0, column)
        self.fields: list[TextField] = []
        self.usual: list[QLabel] = []
        self.lengths: list[QLabel] = []
        for pace in range(1, 11):
            field = TextField()
            field.setMaximumWidth(90)
            field.setAccessibleName(tr("Speed at pace {pace}, m/s", pace=pace))
            field.committed.connect(lambda text, p=pace: self._on_typed(p, text))
            usual, lengths = QLabel(), QLabel()
            grid.addWidget(QLabel(str(pace)), pace, 0)
            for column, part in enumerate((field, usual, lengths), start=1):
                grid.addWidget(part, pace, column)
            self.fields.append(field)
            self.usual.append(usual)
            self.lengths.append(lengths)
        grid.setColumnStretch(4, 1)
        self.reset = action_button(tr("Usual pace scale"), edits.reset_paces)
        layout = QVBoxLayout(self)
        layout.addWidget(tell)
        layout.addLayout(grid)
        layout.addWidget(self.reset, 0, Qt.AlignmentFlag.AlignLeft)
        layout.addStretch(1)

    def refresh(self) -> None:
        """Show the scale as it is now."""
        session = self._session
        conditions = session.conditions
        usual = self._edits.usual.pace_speeds_m_s
        lengths: tuple[float, ...] = ()
        if session.predictions.is_ready:  # else the engine is still loading; the lengths follow
            from engine.shot.lengths import lengths_of_scale

            lengths = lengths_of_scale(session.table, conditions)
        for index, speed in enumerate(conditions.pace_speeds_m_s):
            self.fields[index].show_text(f"{speed:.2f}")
            self.usual[index].setText(f"{usual[index]:.2f}")
            self.lengths[index].setText(f"{lengths[index]:.1f}" if lengths else "")
        self.reset.setEnabled(self._edits.stated(PACES))

    def _on_typed(self, pace: int, text: str) -> None:
        try:
            self._edits.set_pace(pace, float(text.strip().replace(",", ".")))
        except ValueError:
            self._session.messages.warn(
                tr("“{text}” is no speed.", text=text.strip()),
                tr("Type metres a second, such as 2.5."),
            )
        self.refresh()
