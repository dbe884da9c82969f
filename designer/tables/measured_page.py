"""The page for what was measured on the coach's own table, beside what the rule says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFileDialog,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from designer.files.asking import rules_to_write, where_to_write
from designer.open_routine import OpenRoutine
from designer.open_routine.table_edits import TableEdits
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.lengths import parse_length
from designer.widgets.text_fields import TextField
from designer.words.tables import figure, value_name, value_unit
from engine.tables.measured import measurable_names
from engine.units import LengthUnit, inch_text

TELL = mark(
    "Type what a tape reads on your own table; what you leave empty stays as the rule has it. "
    "Lengths may be typed in millimetres or inches."
)
FILES = mark("Own tables (*.json);;All files (*)")
HEADS = (mark("What"), mark("Measured"), mark("Rule"), mark("Tolerance"), mark("Kept to?"))


@dataclass(frozen=True)
class Measurable:
    """One thing to measure: its value's name in the table's data, and how it is stated."""

    name: str
    title: str
    rule: float | None
    tolerance: float | None
    read: Callable[[], float | None]
    write: Callable[[float | None], bool]


class MeasuredPage(QWidget):
    """One row for everything a tape can read; a value typed is stated by the routine."""

    def __init__(self, session: OpenRoutine) -> None:
        super().__init__()
        self._session, self._edits = session, TableEdits(session)
        self._shown = ""
        self.rows: dict[str, MeasuredRow] = {}
        #: Ask for files; tests put others in their place.
        self.ask_file: Callable[[], Path | None] = self._ask_file
        self.ask_target: Callable[[], Path | None] = self._ask_target
        self.title = TextField()
        self.title.setAccessibleName(tr("Name of the table"))
        self.title.committed.connect(self._edits.set_title)
        self.load = action_button(tr("From a file…"), self._on_load)
        self.save = action_button(tr("Keep as a file…"), self._on_save)
        self.forget = action_button(tr("As the rule has it"), self._edits.forget)
        tell = QLabel(tr(TELL))
        tell.setWordWrap(True)
        self._area = QScrollArea()
        self._area.setWidgetResizable(True)
        self._area.setFrameShape(QFrame.Shape.NoFrame)
        top = QHBoxLayout()
        top.addWidget(QLabel(tr("Name of the table")))
        top.addWidget(self.title, 1)
        for button in (self.load, self.save, self.forget):
            top.addWidget(button)
        layout = QVBoxLayout(self)
        layout.addWidget(tell)
        layout.addLayout(top)
        layout.addWidget(self._area, 1)

    def refresh(self) -> None:
        """Show every measurement as it is now."""
        if self._shown != self._session.routine.table:
            self._shown = self._session.routine.table
            self._fill()
        for row in self.rows.values():
            row.refresh(self._session.view.unit)
        measured = self._session.routine.measured_table is not None
        self.title.setEnabled(measured)
        self.title.show_text(self._edits.measured.title)
        self.save.setEnabled(measured)
        self.forget.setEnabled(measured)

    def _fill(self) -> None:
        self.rows = {one.name: MeasuredRow(self._session, one) for one in measurables(self._edits)}
        widget = QWidget()
        grid = QGridLayout(widget)
        grid.setHorizontalSpacing(14)
        for column, head in enumerate(HEADS):
            grid.addWidget(QLabel(f"<b>{tr(head)}</b>"), 0, column)
        for number, row in enumerate(self.rows.values(), start=1):
            row.put(grid, number)
        grid.setColumnStretch(4, 1)
        grid.setRowStretch(len(self.rows) + 1, 1)
        self._area.setWidget(widget)

    def _on_load(self) -> None:
        path = self.ask_file()
        if path is not None:
            self._edits.load(path)

    def _on_save(self) -> None:
        path = self.ask_target()
        rules = rules_to_write(self, path, "table") if path is not None else None
        if path is not None and rules is not None:
            self._edits.save(path, rules)

    def _ask_file(self) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(self, tr("A table of your own"), "", tr(FILES))
        return Path(name) if name else None

    def _ask_target(self) -> Path | None:
        title, start = tr("Keep the measured table"), Path("table.json")
        return where_to_write(self, title, start, tr(FILES), (".json",))


class MeasuredRow:
    """The widgets of one measurement."""

    def __init__(self, session: OpenRoutine, one: Measurable) -> None:
        self._session, self._one = session, one
        self.field = TextField()
        self.field.setMaximumWidth(110)
        self.field.setAccessibleName(one.title)
        self.field.committed.connect(self._on_typed)
        self.rule, self.tolerance, self.kept = QLabel(), QLabel(), QLabel()
        # wide enough before there is a text to measure
        self.rule.setMinimumWidth(130)
        self.tolerance.setMinimumWidth(100)

    def put(self, grid: QGridLayout, number: int) -> None:
        """Into a row of the grid."""
        title = QLabel(self._one.title)
        title.setBuddy(self.field)
        for column, part in enumerate((title, self.field, self.rule, self.tolerance, self.kept)):
            grid.addWidget(part, number, column, Qt.AlignmentFlag.AlignVCenter)

    def refresh(self, unit: LengthUnit) -> None:
        """Show the measured value, the rule's, and whether they agree."""
        one, measured = self._one, self._one.read()
        kind = value_unit(one.name)
        self.field.show_text("" if measured is None else figure(measured))
        self.field.setPlaceholderText(kind)
        if one.rule is None:
            self.rule.setText(tr("as the other balls"))
            return
        inches = f" ({inch_text(one.rule)})" if unit == "inch" and kind == "mm" else ""
        self.rule.setText(f"{figure(one.rule)} {kind}{inches}")
        room = one.tolerance
        self.tolerance.setText("" if room is None else f"± {figure(room)} {kind}")
        if measured is None:
            self.kept.setText("")
        elif room is None:
            self.kept.setText(tr("the rule states no tolerance"))
        elif abs(measured - one.rule) <= room + 1e-9:
            self.kept.setText(tr("✓ within the tolerance"))
        else:
            over = figure(abs(measured - one.rule) - room)
            self.kept.setText(
                tr("<b>✗ outside</b> the tolerance by {over} {unit}", over=over, unit=kind)
            )

    def _on_typed(self, text: str) -> None:
        words = text.strip()
        value: float | None = None
        if words:
            value = _number(words, value_unit(self._one.name))
            if value is None:
                self._session.messages.warn(
                    tr("“{text}” is no measure for: {title}.", text=words, title=self._one.title),
                    tr("Type a figure, such as {figure}.", figure=figure(self._one.rule or 50.0)),
                )
                self.refresh(self._session.view.unit)
                return
        self._one.write(value)
        self.refresh(self._session.view.unit)


def measurables(edits: TableEdits) -> list[Measurable]:
    """Everything that can be measured on the session's table: sizes, spots, pockets."""
    base = edits.base
    found = [_size(edits, name) for name in measurable_names(base)]
    for spot in base.spots:
        for axis in (0, 1):
            name = f"{spot.id}_spot_{'xy'[axis]}_mm"
            found.append(_spot(edits, spot.id, name, axis, (spot.x_mm, spot.y_mm)[axis]))
    return found + [_opening(edits, pocket.id) for pocket in base.pockets]


def _size(edits: TableEdits, name: str) -> Measurable:
    known = edits.base.values.get(name)
    title = value_name(name)
    return Measurable(
        name,
        title,
        None if known is None else known.value,
        None if known is None else known.tolerance,
        lambda: edits.measured.values.get(name),
        lambda value: edits.set_size(name, title, value),
    )


def _spot(edits: TableEdits, spot_id: str, name: str, axis: int, at_mm: float) -> Measurable:
    known = edits.base.values.get(name)
    title = value_name(name)

    def read() -> float | None:
        place = edits.measured.spots_mm.get(spot_id)
        return None if place is None else float(place[axis])

    return Measurable(
        name,
        title,
        at_mm,
        None if known is None else known.tolerance,
        read,
        lambda value: edits.set_spot(spot_id, title, axis, value),
    )


def _opening(edits: TableEdits, pocket_id: str) -> Measurable:
    shape = "middle" if pocket_id.startswith("middle-") else "corner"
    known = edits.base.values.get(f"{shape}_opening_mm")
    name = f"{pocket_id}_opening_mm"
    title = value_name(name)
    return Measurable(
        name,
        title,
        None if known is None else known.value,
        None if known is None else known.tolerance,
        lambda: edits.measured.pocket_openings_mm.get(pocket_id),
        lambda value: edits.set_opening(pocket_id, title, value),
    )


def _number(text: str, unit: str) -> float | None:
    if unit == "mm":
        return parse_length(text, "mm")
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return None
