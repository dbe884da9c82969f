"""The page that shows what is known of a table, with rule, tolerance and confidence."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from designer.open_routine import OpenRoutine
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.lists import Row, bare_list, fill_list, key_of
from designer.words.tables import confidence_words, figure, value_name, value_unit
from engine.tables import load_table, table_ids

#: Limits of ours that are kept among the values, of no use to a reader.
OWN_LIMITS = ("opening_lowest_mm", "opening_highest_mm")

PRESENT = mark("The routine lies on this table.")
OTHER = mark("The routine lies on another table: move it here on the last page.")


class TablePage(QWidget):
    """Choose a table to read; `move_wanted` asks to move the routine there."""

    move_wanted = Signal(str)

    def __init__(self, session: OpenRoutine) -> None:
        super().__init__()
        self._session = session
        self._sources: dict[str, str] = {}
        self.table = ChoiceField()
        self.table.setAccessibleName(tr("Table to read about"))
        fill_choices(self.table, [(one, tr(load_table(one).title)) for one in table_ids()])
        choose(self.table, session.routine.table)
        self.table.currentIndexChanged.connect(self.refresh)
        self.rule, self.note = QLabel(), QLabel()
        for label in (self.rule, self.note):
            label.setWordWrap(True)
        self.values = bare_list(
            (tr("What"), tr("Value"), tr("Tolerance"), tr("Confidence")), wide=0
        )
        self.values.setAccessibleName(tr("Values of the table"))
        self.source = QLabel()
        self.source.setWordWrap(True)
        self.source.setAccessibleName(tr("Source of the selected value"))
        self.source.setMinimumHeight(2 * self.source.fontMetrics().lineSpacing() + 2)
        self.values.itemSelectionChanged.connect(self._show_source)
        self.move_here = action_button(
            tr("Move the routine here…"), lambda: self.move_wanted.emit(self.table.currentData())
        )
        row = QHBoxLayout()
        row.addWidget(self.table, 1)
        row.addWidget(self.move_here)
        layout = QVBoxLayout(self)
        layout.addLayout(row)
        layout.addWidget(self.rule)
        layout.addWidget(self.note)
        layout.addWidget(self.values, 1)
        layout.addWidget(self.source)

    def refresh(self) -> None:
        """Show the chosen table; the routine's own with what was measured on it."""
        name = str(self.table.currentData())
        mine = name == self._session.routine.table
        table = self._session.table if mine else load_table(name)
        self.rule.setText(tr("Rule: {rule}", rule=tr(table.rule)))
        note = tr(PRESENT if mine else OTHER)
        if mine and table.measured:
            note = tr(
                "The routine lies on this table, as measured: {measured}.", measured=table.measured
            )
        self.note.setText(note)
        self.move_here.setEnabled(not mine)
        rows: list[Row] = []
        self._sources = {}
        for key, known in table.values.items():
            if key in OWN_LIMITS:
                continue
            unit = value_unit(key)
            room = f"± {figure(known.tolerance)} {unit}" if known.tolerance is not None else ""
            told = confidence_words(known.confidence)
            value = f"{figure(known.value)} {unit}".strip()
            rows.append((key, (value_name(key), value, room, told), None))
            self._sources[key] = tr(known.source)
        fill_list(self.values, rows, key_of(self.values) or rows[0][0])
        self._show_source()

    def _show_source(self) -> None:
        chosen = key_of(self.values)
        told = self._sources.get(chosen, "")
        self.source.setText(f"{value_name(chosen)}: {told}" if told else "")
