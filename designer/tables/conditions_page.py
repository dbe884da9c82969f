"""The page of the conditions: in a coach's words, and behind them the figures and sources."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFileDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from designer.open_routine import OpenRoutine
from designer.open_routine.condition_edits import ConditionEdits
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.text_fields import TextField
from designer.words.figures import first_up
from designer.words.tables import (
    CONDITION_WORDS,
    WHAT_WORDS,
    condition_fact,
    confidence_words,
    figure,
    range_words,
)
from engine.conditions import CONDITION_FACTS
from engine.conditions.model import OPTIONAL_CONDITIONS
from engine.conditions.said import SAID

HEADS = (
    mark("Condition"),
    mark("Value"),
    mark("Table’s own"),
    mark("Likely"),
    mark("Source and confidence"),
)
NOTE = mark(
    "Choose what comes nearest to your table. The words stand for the ends of published ranges and "
    "for our own guesses; measuring your table is better."
)
FILES = mark("Conditions (*.json);;All files (*)")


class ConditionsPage(QWidget):
    """One row a condition. A value typed is stated by the routine; "own" takes it back."""

    def __init__(self, session: OpenRoutine, edits: ConditionEdits) -> None:
        super().__init__()
        self._session, self._edits = session, edits
        self.words = {what: self._choice(what) for what in SAID}
        self.load = action_button(tr("From a calibration…"), self._on_load)
        self.reset = action_button(tr("Table’s own for all"), edits.reset_all)
        self.note = QLabel(tr(NOTE))
        self.note.setWordWrap(True)
        self.figures = QPushButton(tr("Figures and sources"))
        self.figures.setCheckable(True)
        #: Asks for the file; tests put another in its place.
        self.ask_file: Callable[[], Path | None] = self._ask_file
        self.rows: dict[str, ConditionRow] = {}
        grid_widget = QWidget()
        grid = QGridLayout(grid_widget)
        grid.setHorizontalSpacing(12)
        for column, head in enumerate(HEADS):
            label = QLabel(f"<b>{tr(head)}</b>")
            grid.addWidget(label, 0, column if column < 3 else column + 1)
        for number, name in enumerate(CONDITION_FACTS, start=1):
            row = ConditionRow(session, edits, name)
            row.put(grid, number)
            self.rows[name] = row
        grid.setColumnStretch(5, 1)
        grid.setRowStretch(len(CONDITION_FACTS) + 1, 1)
        self.list = QScrollArea()
        self.list.setWidget(grid_widget)
        self.list.setWidgetResizable(True)
        self.list.setFrameShape(QFrame.Shape.NoFrame)
        self.list.hide()
        self.figures.toggled.connect(self.list.setVisible)
        top = QHBoxLayout()
        for what, choice in self.words.items():
            top.addWidget(QLabel(first_up(tr(WHAT_WORDS[what]))))
            top.addWidget(choice, 1)
        below = QHBoxLayout()
        for button in (self.figures, self.load, self.reset):
            below.addWidget(button)
        below.addStretch(1)
        layout = QVBoxLayout(self)
        layout.addLayout(top)
        layout.addWidget(self.note)
        layout.addLayout(below)
        layout.addWidget(self.list, 1)
        layout.addStretch(0)

    def _choice(self, what: str) -> ChoiceField:
        choice = ChoiceField()
        choice.setAccessibleName(first_up(tr(WHAT_WORDS[what])))
        words = [(word, tr(CONDITION_WORDS[word])) for word in SAID[what]]
        fill_choices(choice, [*words, ("", tr("figures of your own"))])
        choice.activated.connect(lambda _index: self._on_said(what))
        return choice

    def _on_said(self, what: str) -> None:
        word = self.words[what].currentData()
        if word:
            self._edits.say(what, word)
        else:
            self.figures.setChecked(True)
        self.refresh()

    def refresh(self) -> None:
        """Show every condition as it is now."""
        for row in self.rows.values():
            row.refresh()
        for what, choice in self.words.items():
            choose(choice, self._edits.said(what))
        stated = any(self._edits.stated(name) for name in self.rows)
        self.reset.setEnabled(stated)

    def _on_load(self) -> None:
        path = self.ask_file()
        if path is not None:
            self._edits.load(path)

    def _ask_file(self) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(
            self, tr("Conditions found by a calibration"), "", tr(FILES)
        )
        return Path(name) if name else None


class ConditionRow:
    """The widgets of one condition."""

    def __init__(self, session: OpenRoutine, edits: ConditionEdits, name: str) -> None:
        self._session, self._edits, self._name = session, edits, name
        fact = CONDITION_FACTS[name]
        self._title = tr(fact.title)
        unit = f", {tr(fact.unit)}" if fact.unit else ""
        self.title = QLabel(first_up(self._title) + unit)
        self.title.setWordWrap(True)
        self.field = TextField()
        self.field.setAccessibleName(self._title)
        self.field.setMaximumWidth(96)
        self.field.setPlaceholderText(_left_out(name) if name in OPTIONAL_CONDITIONS else "")
        self.field.committed.connect(self._on_typed)
        self.own = QLabel()
        self.back = action_button(tr("own"), lambda: edits.reset(name, self._title))
        self.back.setToolTip(tr("Back to the table’s own value"))
        self.back.setAccessibleName(tr("Table’s own {title}", title=self._title))
        self.back.setMaximumWidth(60)
        self.likely, self.source = QLabel(), QLabel()
        self.source.setWordWrap(True)

    def put(self, grid: QGridLayout, number: int) -> None:
        """Into a row of the grid."""
        self.title.setMinimumWidth(190)
        parts = (self.title, self.field, self.own, self.back, self.likely, self.source)
        for column, part in enumerate(parts):
            grid.addWidget(part, number, column, Qt.AlignmentFlag.AlignTop)

    def refresh(self) -> None:
        """Show value, own value, range, source."""
        value = getattr(self._session.conditions, self._name)
        own = getattr(self._edits.usual, self._name)
        known = condition_fact(self._session.table, self._name)
        stated = self._edits.stated(self._name)
        self.field.show_text("" if value is None else figure(value))
        self.own.setText(_left_out(self._name) if own is None else figure(own))
        self.back.setEnabled(stated)
        likely = range_words(known.low, known.high)
        outside = value is not None and not math.isnan(known.low)
        outside = outside and not known.low - 1e-12 <= value <= known.high + 1e-12
        self.likely.setText(f"{likely}<br><b>{tr('outside')}</b>" if outside else likely)
        told = tr(known.source)
        if stated:
            told = tr("stated by this routine; {source}", source=told)
        self.source.setText(f"{told} ({confidence_words(known.confidence)})")

    def _on_typed(self, text: str) -> None:
        words = text.strip().replace(",", ".")
        if not words:
            self._edits.reset(self._name, self._title)
        else:
            try:
                self._edits.set_value(self._name, self._title, float(words))
            except ValueError:
                self._session.messages.warn(
                    tr(
                        "“{text}” is no number for the {title}.",
                        text=text.strip(),
                        title=self._title,
                    ),
                    tr("Type a number, such as {number}.", number=self.own.text()),
                )
        self.refresh()


def _left_out(name: str) -> str:
    """What an optional condition is when nothing is stated."""
    return tr("as at 2.5 m/s") if name.startswith("cushion") else tr("as the others")
