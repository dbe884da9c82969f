"""The page that finds conditions from what was measured, and shows the lanes before and after."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QFileDialog,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from designer.files.asking import rules_to_write, where_to_write
from designer.open_routine import OpenRoutine
from designer.open_routine.condition_edits import ConditionEdits
from designer.open_routine.task import Progress
from designer.tables.table_test_form import TableTestForm
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.choices import fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.side_window import WorkBar
from engine.conditions import preset, preset_ids
from engine.errors import BaizewrightError
from engine.storage import write_file

if TYPE_CHECKING:
    from engine.calibration import Calibration, Observation

TELL = mark(
    "The two-minute test takes three strokes and finds the figures that matter most. For all of "
    "them, print the form, measure on your table with a tape and a phone, type the results into "
    "the empty list (CSV), and choose that file here."
)
NONE_YET = mark("No observations chosen yet. Nothing is changed until you use the values found.")
OTHER_TABLE = mark("The routine lies on another table by now: choose the file again.")
OBSERVATIONS = mark("Observations (*.csv);;All files (*)")
FORMS = {".pdf": mark("Form to print (*.pdf)"), ".csv": mark("List to fill in (*.csv)")}
#: What the lanes beneath are, before and after the findings are taken over.
DOTTED_AFTER = mark("Dotted: the lanes with the conditions found.")
DOTTED_BEFORE = mark("Dotted: the lanes before the calibration.")


@dataclass(frozen=True)
class Found:
    """A calibration, the file it came from and the table it is for."""

    name: str
    table_key: object
    calibration: Calibration


class CalibrationPage(QWidget):
    """Choose observations, read what they say, compare lanes, take the conditions over."""

    def __init__(self, session: OpenRoutine, edits: ConditionEdits) -> None:
        super().__init__()
        self._session, self._edits = session, edits
        self.found: Found | None = None
        self._before: dict[str, object] | None = None
        #: Why the file chosen last could not be used, line by line; "" when it could.
        self._failed = ""
        #: Ask for files; tests put others in their place.
        self.ask_file: Callable[[], Path | None] = self._ask_file
        self.ask_target: Callable[[str], Path | None] = self._ask_target
        tell = QLabel(tr(TELL))
        tell.setWordWrap(True)
        self.form = action_button(tr("Print a form…"), lambda: self._on_form(".pdf"))
        self.list = action_button(tr("Empty list (CSV)…"), lambda: self._on_form(".csv"))
        self.start = ChoiceField()
        self.start.setAccessibleName(tr("Cloth to start from"))
        cloths = [(one, tr(preset(one).title)) for one in preset_ids()]
        fill_choices(self.start, [("", tr("the table’s usual cloth")), *cloths])
        self.short = QPushButton(tr("Two-minute test"))
        self.short.setCheckable(True)
        self.short.setAutoDefault(False)
        self.test = TableTestForm(session, edits)
        self.test.setVisible(False)
        self.short.toggled.connect(self.test.setVisible)
        self.test.asked.connect(self._on_test)
        self.by_speed = QCheckBox(tr("Slow balls on the cushion apart"))
        self.work = WorkBar(tr("Observations…"), tr("calibration"), stoppable=False)
        self.work.begun.connect(self._on_begin)
        self.work.task.finished.connect(self._on_found)
        self.work.task.failed.connect(self._on_failed)
        self.take = action_button(tr("Use these values"), self._on_take)
        self.compare = QCheckBox(tr("Draw both lanes, before and after"))
        self.compare.setChecked(True)
        self.compare.toggled.connect(lambda _on: self._show_lanes())
        self.dotted = QLabel()
        self.report = QLabel()
        self.report.setAccessibleName(tr("What the observations say"))
        self.report.setWordWrap(True)
        self.report.setTextFormat(Qt.TextFormat.RichText)
        self.report.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.report.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.report.setMargin(4)
        area = QScrollArea()
        area.setWidget(self.report)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.StyledPanel)
        top = QHBoxLayout()
        top.addWidget(self.short)
        top.addWidget(self.form)
        top.addWidget(self.list)
        top.addStretch(1)
        middle = QHBoxLayout()
        middle.addWidget(QLabel(tr("Start from")))
        middle.addWidget(self.start)
        middle.addWidget(self.by_speed)
        middle.addWidget(self.work, 1)
        below = QHBoxLayout()
        below.addWidget(self.compare)
        below.addWidget(self.dotted, 1)
        below.addWidget(self.take)
        layout = QVBoxLayout(self)
        layout.addWidget(tell)
        layout.addLayout(top)
        layout.addWidget(self.test)
        layout.addLayout(middle)
        layout.addWidget(area, 1)
        layout.addLayout(below)

    def refresh(self) -> None:
        """Show what was found, and offer it while it fits."""
        found = self.found
        fits = found is not None and found.table_key == self._table_key()
        stated = self._session.routine.conditions
        taken = fits and found is not None and _holds(stated, found.calibration.stated)
        self.take.setEnabled(fits and not taken and not self.work.task.running)
        self.compare.setEnabled(found is not None)
        self.dotted.setText(self._session.comparison.words)
        self.test.refresh()
        self.test.begin.setEnabled(not self.work.task.running)
        if self.work.task.running:
            self.report.setText(tr("The observations are being worked out …"))
        elif self._failed:
            told = "<br>".join(escape(line) for line in self._failed.splitlines())
            head = escape(tr("Nothing was worked out:"))
            self.report.setText(f"<p><b>{head}</b></p><p>{told}</p>")
        elif found is None:
            self.report.setText(tr(NONE_YET))
        elif not fits:
            self.report.setText(tr(OTHER_TABLE))
        else:
            self.report.setText(report_html(found))

    def close_down(self) -> None:
        """Stop for good, and leave the table as it was found."""
        self.work.close_down()
        self._session.comparison.hide()

    def _table_key(self) -> object:
        routine = self._session.routine
        measured = routine.measured_table
        return (routine.table, None if measured is None else measured.key)

    def _on_begin(self) -> None:
        path = self.ask_file()
        if path is None:
            return

        def rows() -> tuple[Observation, ...]:
            from engine.calibration import parse_observations
            from engine.storage.reading import read_text

            return parse_observations(read_text(path, kind="observation file"), path.name)

        self._work_out(path.name, rows)

    def _on_test(self) -> None:
        try:
            read = self.test.readings()
        except ValueError as error:
            self._session.messages.warn(
                tr("“{text}” is no number.", text=str(error)), tr("Type a number, such as 1250.")
            )
            return
        table, usual, pace = self._session.table, self._edits.usual, self.test.pace.value()

        def rows() -> tuple[Observation, ...]:
            from engine.calibration.table_test import observed

            return observed(table, usual, read, pace)

        self._work_out(tr("Two-minute test"), rows)

    def _work_out(self, name: str, rows: Callable[[], tuple[Observation, ...]]) -> None:
        table, key, start = self._session.table, self._table_key(), str(self.start.currentData())
        by_speed = self.by_speed.isChecked()
        self.found, self._failed = None, ""

        def work(_progress: Progress) -> object:
            from engine.calibration.calibrate import calibrate

            return Found(name, key, calibrate(rows(), table, start, by_speed=by_speed))

        self.work.start(work)
        self.refresh()

    def _on_found(self, found: Found) -> None:
        self.found, self._before = found, None
        self._show_lanes()
        self.refresh()

    def _on_failed(self, words: str) -> None:
        self._failed = words
        self.refresh()

    def _on_take(self) -> None:
        if self.found is None:
            return
        before = dict(self._session.routine.conditions)
        title = Path(self.found.name).stem
        if self._edits.state(self.found.calibration.stated, title):
            self._before = before
        self._show_lanes()
        self.refresh()

    def _show_lanes(self) -> None:
        comparison = self._session.comparison
        if self.found is None or not self.compare.isChecked():
            comparison.hide()
        elif self._before is not None:
            comparison.show(self._before, tr(DOTTED_BEFORE))
        else:
            stated = {**self._session.routine.conditions, **self.found.calibration.stated}
            comparison.show(stated, tr(DOTTED_AFTER))

    def _on_form(self, ending: str) -> None:
        path = self.ask_target(ending)
        is_table = ending == ".csv"
        kind = "observations" if is_table else "pdf"
        rules = rules_to_write(self, path, kind) if path is not None else None
        if path is None or rules is None:
            return
        from designer.handouts.calibration_form import form_pdf
        from designer.words.calibration import how_to_measure
        from engine.calibration.form import form_csv

        on = (self._session.table, self._edits.usual)
        try:
            data = form_csv(*on, how_to_measure()) if is_table else form_pdf(*on)
            write_file(path, data, kind, rules)
        except (BaizewrightError, OSError) as error:
            self._session.messages.fail(
                tr("“{name}” was not written.", name=path.name), tr("Choose another place."), error
            )
            return
        self._session.messages.note(tr("“{name}” is written.", name=path.name), file=path)

    def _ask_file(self) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(
            self, tr("Observations on this table"), "", tr(OBSERVATIONS)
        )
        return Path(name) if name else None

    def _ask_target(self, ending: str) -> Path | None:
        start = Path("observations" + ending)
        return where_to_write(self, tr("Form to fill in"), start, tr(FORMS[ending]), (ending,))


def report_html(found: Found) -> str:
    """The report as rich text, its lines kept."""
    from designer.words.calibration import report

    head = f"<p><b>{escape(found.name)}</b></p>"
    lines = report(found.calibration).splitlines()
    return head + "".join(f"<p>{escape(line)}</p>" for line in lines if line)


def _holds(stated: object, wanted: object) -> bool:
    assert hasattr(stated, "items") and hasattr(wanted, "items")
    known = dict(stated.items())
    return all(
        (tuple(known[name]) if isinstance(known.get(name), list) else known.get(name)) == value
        for name, value in wanted.items()
    )
