"""The form a practice is written down with."""

from __future__ import annotations

from datetime import date

from PySide6.QtCore import QDate, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSpinBox,
    QWidget,
)

from designer.texts import tr
from designer.widgets.buttons import action_button
from designer.widgets.fields import ChoiceField, CountField, DayField
from designer.words.library import MISS_TIPS, MISS_WORDS
from engine.records import MISSES, Practice


class RecordForm(QWidget):
    """`written(Practice)` when the button is pressed; `refused(words)` when that cannot be."""

    written = Signal(object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.player, self.routine = _typed(tr("Player")), _typed(tr("Routine"))
        typed = self.player.lineEdit()
        if typed is not None:
            typed.setPlaceholderText(tr("initials or a nickname"))
        self.step = _count(tr("Step"), 1, 99, 1)
        self.day = DayField(QDate.currentDate())
        self.day.setCalendarPopup(True)
        self.day.setDisplayFormat("yyyy-MM-dd")
        self.day.setAccessibleName(tr("Day"))
        self.attempts = _count(tr("Attempts"), 1, 1000, 10)
        self.made = _count(tr("Made"), 0, 1000, 0)
        self.misses = {kind: _count(tr(MISS_WORDS[kind]), 0, 1000, 0) for kind in MISSES}
        for kind, box in self.misses.items():
            box.setToolTip(tr(MISS_TIPS[kind]))
        self.note = QLineEdit()
        self.note.setAccessibleName(tr("Note"))
        self.write = action_button(tr("Write down"), self.hand_over)
        self._lay_out()

    def practice(self) -> Practice:
        """What is typed; `OutOfRangeError` for what cannot be."""
        day = self.day.date()
        return Practice(
            self.player.currentText().strip(),
            self.routine.currentText().strip(),
            date(day.year(), day.month(), day.day()),
            self.attempts.value(),
            self.made.value(),
            self.step.value(),
            {kind: box.value() for kind, box in self.misses.items() if box.value()},
            self.note.text().strip(),
        )

    @property
    def unsaved(self) -> bool:
        """Whether counts or a note were typed that are not written down."""
        counts = (self.made, *self.misses.values())
        return any(box.value() for box in counts) or bool(self.note.text().strip())

    def hand_over(self) -> bool:
        """Write down what is typed; False, told why, when it cannot be."""
        try:
            practice = self.practice()
        except ValueError as error:
            self.refused.emit(str(error))
            return False
        self.written.emit(practice)
        return not self.unsaved

    def clear_counts(self) -> None:
        """Ready for the next line of the same player."""
        self.made.setValue(0)
        for box in self.misses.values():
            box.setValue(0)
        self.note.clear()

    def offer(self, players: tuple[str, ...], routines: tuple[str, ...]) -> None:
        """Offer known players and titles; what is typed stays."""
        for box, names in ((self.player, players), (self.routine, routines)):
            typed = box.currentText()
            box.blockSignals(True)
            box.clear()
            box.addItems(list(names))
            box.setCurrentText(typed)
            box.blockSignals(False)

    def _lay_out(self) -> None:
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.addRow(tr("Player"), self.player)
        form.addRow(tr("Routine"), self.routine)
        form.addRow(tr("Step"), _row(self.step, tr("on"), self.day))
        form.addRow(tr("Attempts"), _row(self.attempts, tr("made"), self.made))
        misses = QFormLayout()
        for kind, box in self.misses.items():
            misses.addRow(tr(MISS_WORDS[kind]), box)
        form.addRow(tr("Missed by"), misses)
        form.addRow(tr("Note"), self.note)
        form.addRow("", self.write)


def _typed(name: str) -> QComboBox:
    box = ChoiceField()
    box.setEditable(True)
    box.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
    box.setAccessibleName(name)
    box.setMinimumContentsLength(16)
    return box


def _count(name: str, low: int, high: int, value: int) -> QSpinBox:
    box = CountField()
    box.setRange(low, high)
    box.setValue(value)
    box.setAccessibleName(name)
    return box


def _row(first: QWidget, word: str, second: QWidget) -> QHBoxLayout:
    row = QHBoxLayout()
    row.addWidget(first)
    row.addWidget(QLabel(word))
    row.addWidget(second)
    row.addStretch(1)
    return row
