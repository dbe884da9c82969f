"""The page that moves the routine to another table, after a full check of what survives there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from html import escape
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFileDialog,
    QFormLayout,
    QFrame,
    QHBoxLayout,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from designer.open_routine import OpenRoutine
from designer.open_routine.move_edits import MoveEdits
from designer.open_routine.task import Progress
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.side_window import WorkBar
from designer.words.facts import fact
from designer.words.figures import first_up, sentence
from designer.words.moves import claims_kept, claims_moved
from designer.words.wording import Wording
from engine.errors import BaizewrightError
from engine.routine.values import Routine
from engine.tables import MeasuredTable, load_table, table_ids

if TYPE_CHECKING:
    from engine.moving import Moved, MoveReport

WAYS = (
    ("fit", mark("as everything fits: by cushions, else by spots, else in proportion")),
    ("cushions", mark("by cushions: keep the distances to the nearest cushions")),
    ("spots", mark("by spots: keep the offsets from the nearest spots")),
    ("proportion", mark("in proportion: keep the shares of width and length")),
)
CONDITIONS = (
    ("usual", mark("those of the new table")),
    ("keep", mark("those this routine states")),
)
ASK = mark("Nothing is changed until you have seen what survives.")
OLD = mark("The routine has changed since: check again.")
FILES = mark("Own tables (*.json);;All files (*)")


@dataclass(frozen=True, slots=True)
class Checked:
    """A move that was checked: from which routine, what was asked, what came of it."""

    routine: Routine
    asked: tuple[str, str, str]
    moved: Moved
    report: MoveReport


class MovePage(QWidget):
    """Choose table and way, check, read the report, move."""

    def __init__(self, session: OpenRoutine) -> None:
        super().__init__()
        self._session, self._moves = session, MoveEdits(session)
        self._own: dict[str, tuple[str, MeasuredTable]] = {}
        self.checked: Checked | None = None
        #: What was checked last, for what choice, and why that cannot be ("" when it can).
        self._tried: Routine | None = None
        self._tried_for = ("", "", "")
        self._failed = ""
        self.table = _box(tr("Table to move to"))
        self._fill_tables()
        choose(self.table, nearest_table(session.routine.table))
        self.own = action_button(tr("Own table…"), self._on_own)
        #: Asks for the file; tests put another in its place.
        self.ask_file: Callable[[], Path | None] = self._ask_file
        self.way, self.conditions = _box(tr("Way of moving")), _box(tr("Conditions to play in"))
        fill_choices(self.way, [(key, tr(words)) for key, words in WAYS])
        fill_choices(self.conditions, [(key, tr(words)) for key, words in CONDITIONS])
        self.work = WorkBar(tr("Check the move"), tr("moving to another table"), stoppable=False)
        self.check = self.work.begin
        self.work.begun.connect(self._on_check)
        self.work.task.finished.connect(self._on_checked)
        self.work.task.failed.connect(self._on_failed)
        self.apply = action_button(tr("Move the routine"), self._on_apply)
        self.report = QLabel()
        self.report.setAccessibleName(tr("What survives the move"))
        self.report.setWordWrap(True)
        self.report.setTextFormat(Qt.TextFormat.RichText)
        self.report.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        self.report.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.report.setMargin(4)
        for box in (self.table, self.way, self.conditions):
            box.currentIndexChanged.connect(self.refresh)
        self._lay_out()

    def refresh(self) -> None:
        """Offer to move only what was checked just so."""
        fits = self._fits()
        self.apply.setEnabled(fits)
        self.check.setEnabled(not self.work.task.running)
        if self.work.task.running:
            self.report.setText(tr("Both tables are being checked …"))
        elif self._failed and self._is_as_tried():
            told = tr("The routine cannot be moved so: {words}", words=self._failed)
            self.report.setText(escape(told))
        elif self.checked is None:
            self.report.setText(tr(ASK))
        elif not fits:
            self.report.setText(tr(OLD if self.checked.asked == self._asked() else ASK))
        else:
            self.report.setText(report_html(self.checked.moved.routine, self.checked.report))

    def choose_table(self, table_id: str) -> None:
        """Choose where to move to."""
        choose(self.table, table_id)
        self.refresh()

    def close_down(self) -> None:
        """Stop for good."""
        self.work.close_down()

    def _asked(self) -> tuple[str, str, str]:
        return (
            str(self.table.currentData()),
            str(self.way.currentData()),
            str(self.conditions.currentData()),
        )

    def _fits(self) -> bool:
        checked = self.checked
        return (
            checked is not None
            and checked.routine is self._session.routine
            and checked.asked == self._asked()
        )

    def _is_as_tried(self) -> bool:
        return self._session.routine is self._tried and self._asked() == self._tried_for

    def _on_check(self) -> None:
        routine, asked = self._session.routine, self._asked()
        table_id, measured = self._own.get(asked[0], (asked[0], None))
        self.checked, self._failed = None, ""
        self._tried, self._tried_for = routine, asked

        def work(_progress: Progress) -> object:
            from engine.moving import Target, move, report

            target = Target(table_id, measured, keep_conditions=asked[2] == "keep")
            moved = move(routine, target, asked[1])
            return Checked(routine, asked, moved, report(routine, moved))

        self.work.start(work)
        self.refresh()

    def _on_checked(self, found: Checked) -> None:
        self.checked = found
        self.refresh()

    def _on_failed(self, words: str) -> None:
        self._failed = words
        self.refresh()

    def _on_apply(self) -> None:
        if self._fits() and self.checked is not None:
            moved, title = self.checked.moved, self.table.currentText()
            self.checked = None
            self._moves.take(moved, title)
            self.refresh()

    def _on_own(self) -> None:
        path = self.ask_file()
        if path is None:
            return
        from engine.storage import load_measured_table

        try:
            table_id, measured = load_measured_table(path)
        except (BaizewrightError, OSError) as error:
            self._session.messages.fail(
                tr("“{name}” was not opened.", name=path.name), tr("Nothing was changed."), error
            )
            return
        self._own[f"own:{path}"] = (table_id, measured)
        self._fill_tables()
        self.choose_table(f"own:{path}")

    def _ask_file(self) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(self, tr("A table of your own"), "", tr(FILES))
        return Path(name) if name else None

    def _fill_tables(self) -> None:
        own = [
            (key, f"{measured.title or Path(key).stem} ({tr(load_table(table_id).title)})")
            for key, (table_id, measured) in self._own.items()
        ]
        known = [(one, tr(load_table(one).title)) for one in table_ids()]
        fill_choices(self.table, own + known)

    def _lay_out(self) -> None:
        table = QHBoxLayout()
        table.addWidget(self.table, 1)
        table.addWidget(self.own)
        form = QFormLayout()
        form.addRow(tr("Move to"), table)
        form.addRow(tr("Balls go"), self.way)
        form.addRow(tr("Conditions"), self.conditions)
        buttons = QHBoxLayout()
        buttons.addWidget(self.work, 1)
        buttons.addWidget(self.apply)
        area = QScrollArea()
        area.setWidget(self.report)
        area.setWidgetResizable(True)
        area.setFrameShape(QFrame.Shape.StyledPanel)
        layout = QVBoxLayout(self)
        layout.addLayout(form)
        layout.addLayout(buttons)
        layout.addWidget(area, 1)


def nearest_table(table_id: str) -> str:
    """Another table to offer first: one of the same game where there is one.

    >>> nearest_table("snooker-12ft"), nearest_table("carom")
    ('snooker-10ft', 'pool-8ft')
    """
    others = [one for one in table_ids() if one != table_id]
    game = table_id.split("-")[0]
    return next((one for one in others if one.split("-")[0] == game), others[0])


def report_html(moved: Routine, found: MoveReport) -> str:
    """The report of a move as rich text: claims first, then what no longer fits, then notes."""
    wording = Wording(moved)
    head = tr("From {old} to {new}", old=tr(found.old_table), new=tr(found.new_table))
    parts = [f"<p><b>{escape(head)}</b></p>", _paragraph(claims_kept(found))]
    for became, said, why in claims_moved(wording, found):
        parts.append(f"<p><b>{escape(became)}</b>: {escape(f'{said}. {first_up(why)}')}</p>")
    if found.unfit:
        parts.append(f"<p><b>{escape(tr('What no longer fits:'))}</b></p>")
        parts += [_paragraph(sentence(fact(wording, problem.fact))) for problem in found.unfit]
    else:
        parts.append(_paragraph(tr("Everything fits.")))
    parts += [_paragraph(sentence(fact(wording, note))) for note in found.notes]
    return "".join(parts)


def _paragraph(words: str) -> str:
    return f"<p>{escape(words)}</p>"


def _box(name: str) -> QComboBox:
    box = ChoiceField()
    box.setAccessibleName(name)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
    box.setMinimumContentsLength(24)
    return box
