"""What the handout is to hold, and the work of making it: with progress, and it can be stopped."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialogButtonBox,
    QFormLayout,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from designer.exporting.handouts import FOR_SOMEBODY, WITH_TOLERANCE, HandoutWish, handout_bytes
from designer.files.asking import rules_to_write
from designer.files.losses import LossAsker
from designer.open_routine import OpenRoutine
from designer.open_routine.task import Progress
from designer.texts import mark, tr
from designer.widgets.fields import ChoiceField
from designer.widgets.plain_label import PlainLabel
from designer.widgets.side_window import SideWindow, WorkBar
from designer.words.errors import error_told
from designer.words.facts import unplayable, unplayable_told
from designer.words.wording import Wording
from engine.errors import BaizewrightError
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from engine.storage import WriteRules, write_file

Part = tuple[Routine, RoutineAnswer | None]

SHEETS = (
    ("full", mark("Whole sheet: set-up, shots and notes")),
    ("steps", mark("Step by step")),
    ("record", mark("Practice record")),
    ("card", mark("Table cards, four to a page")),
    ("strip", mark("Full-size strips to set clusters by")),
    ("poster", mark("Poster for the wall, one a shot")),
)
PAPERS = [("a3", "A3"), ("a4", "A4"), ("a5", "A5"), ("letter", mark("Letter"))]
ANSWERS = (
    ("none", mark("not told")),
    ("upside-down", mark("upside-down at the foot")),
    ("last-page", mark("on the last page")),
)
TELL = mark("The sheets are written as a PDF, to be printed at full size.")
STOPPED = mark("Cancelled: nothing was written.")


class HandoutDialog(SideWindow):
    """Options above, the work below. `choose_file` asks where to write, None for nowhere.

    `others` brings the routines of the other windows with their answers, for a booklet.
    """

    def __init__(
        self,
        session: OpenRoutine,
        choose_file: Callable[[], Path | None],
        others: Callable[[], list[Part]] = list,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(tr("Make handout"), parent)
        self._session, self._choose_file, self._others = session, choose_file, others
        self._path: Path | None = None
        self._rules = WriteRules()
        self.asker = LossAsker(self)
        self.sheet = _box(tr("Sheet"), [(key, tr(words)) for key, words in SHEETS])
        self.audience = _box(
            tr("For"),
            [("coach", tr("Coach: with the answers")), ("player", tr("Player: without"))],
        )
        self.answers = _box(tr("Answers"), [(key, tr(words)) for key, words in ANSWERS])
        self.paper = _box(tr("Paper"), [(key, tr(name)) for key, name in PAPERS])
        self.paper.setCurrentIndex(self.paper.findData("a4"))
        self.landscape = QCheckBox(tr("Landscape"))
        self.unit = _box(tr("Lengths in"), [("mm", tr("Millimetres")), ("inch", tr("Inches"))])
        self.unit.setCurrentIndex(self.unit.findData(session.view.unit))
        self.tolerance = QCheckBox(tr("Tell how far off its place each ball may be set"))
        self.tolerance.setToolTip(tr("Takes a second or two a routine"))
        self.every_open = QCheckBox(tr("Every open routine"))
        self.every_open.setVisible(bool(others()))
        self.booklet = QCheckBox(tr("Begin with a page of contents"))
        self.title = QLineEdit()
        self.title.setAccessibleName(tr("Title of the contents"))
        self.title.setPlaceholderText(tr("title of the contents"))
        self._told = tr(TELL)
        self.note = PlainLabel(self._told, tr("About the handout"))
        self.work = WorkBar(tr("Choose file and make…"), tr("handout"))
        self.work.begin.setDefault(True)
        self.work.begun.connect(self._on_begun)
        self.work.task.finished.connect(self._on_made)
        self.work.task.failed.connect(self._on_failed)
        self.work.kept.connect(self.note.setText)
        self._lay_out()
        for box in (self.sheet, self.audience):
            box.currentIndexChanged.connect(self._offer)
        self.booklet.toggled.connect(self._offer)
        self.every_open.toggled.connect(self._tell)
        session.answered.connect(self._tell)
        self._offer()
        self._tell()

    def wish(self) -> HandoutWish:
        """What is asked for; options that do not go with the sheet are left out."""
        sheet = self.sheet.currentData()
        return HandoutWish(
            self.paper.currentData(),
            self.audience.currentData(),
            self.unit.currentData(),
            sheet,
            self.landscape.isChecked(),
            self.answers.currentData() if self.answers.isEnabled() else "none",
            self.tolerance.isChecked() and self.tolerance.isEnabled(),
            self.booklet.isChecked(),
            self.title.text().strip() if self.booklet.isChecked() else "",
            self.every_open.isChecked(),
        )

    def may_leave(self) -> bool:
        """A handout in the making is dropped only when the coach says so."""
        return not self.work.task.running or self.asker.may_stop(tr("The handout"))

    def close_down(self) -> None:
        """Stop what is under way."""
        self.work.close_down()

    def _offer(self) -> None:
        """Only what goes with the chosen sheet can be chosen."""
        sheet, player = self.sheet.currentData(), self.audience.currentData() == "player"
        self.audience.setEnabled(sheet in FOR_SOMEBODY)
        self.answers.setEnabled(sheet == "full" and player)
        self.tolerance.setEnabled(sheet in WITH_TOLERANCE)
        self.title.setEnabled(self.booklet.isChecked())

    def _parts(self) -> list[Part]:
        """The routines of the handout with what is known of their answers."""
        session = self._session
        others = self._others() if self.every_open.isChecked() else []
        return [(session.routine, session.answer), *others]

    def _warnings(self) -> str:
        """Which shots cannot be played, as far as is known yet."""
        return " ".join(
            unplayable_told(name, why)
            for routine, answer in self._parts()
            if answer is not None
            for name, why in unplayable(Wording(routine), answer)
        )

    def _tell(self) -> None:
        """Say what the sheets will be before any is made, unless something else has been said."""
        if self.note.text() == self._told:
            self._told = " ".join(filter(None, (tr(TELL), self._warnings())))
            self.note.setText(self._told)

    def _on_begun(self) -> None:
        path = self._choose_file()
        rules = None
        if path is not None:
            rules = rules_to_write(self, path, "pdf", [self._session.document.path])
        if path is None or rules is None:
            return
        self._path, self._rules = path, rules
        wish, full = self.wish(), self._session.answer_is_full
        parts = self._parts()
        routines, known = [one for one, _ in parts], [found for _, found in parts]
        known[0] = known[0] if full else None

        def work(progress: Progress) -> object:
            return handout_bytes(routines, wish, known, progress)

        self.note.setText(tr("Making the handout …"))
        self.work.start(work)

    def _on_made(self, data: bytes | None) -> None:
        if data is None or self._path is None:
            self.note.setText(tr(STOPPED))
            return
        try:
            write_file(self._path, data, "pdf", self._rules)
        except BaizewrightError as error:
            self._on_failed(error_told(error))
            return
        self._session.messages.note(
            tr("The handout is in {path}.", path=self._path), self._warnings(), self._path
        )
        self.accept()

    def _on_failed(self, words: str) -> None:
        self.note.setText(tr("The handout was not written: {reason}", reason=words))

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.addRow(tr("Sheet"), self.sheet)
        form.addRow(tr("For"), self.audience)
        form.addRow(tr("Answers"), self.answers)
        form.addRow(tr("Paper"), self.paper)
        form.addRow("", self.landscape)
        form.addRow(tr("Lengths in"), self.unit)
        form.addRow("", self.tolerance)
        form.addRow("", self.every_open)
        form.addRow("", self.booklet)
        form.addRow("", self.title)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        # Return makes the handout, wherever the keys are.
        buttons.button(QDialogButtonBox.StandardButton.Close).setAutoDefault(False)
        self.sheet.setFocus()
        layout = QVBoxLayout(self)
        layout.addLayout(form)
        layout.addWidget(self.note)
        layout.addWidget(self.work)
        layout.addWidget(buttons)
        self.setMinimumWidth(480)


def _box(name: str, choices: list[tuple[Any, str]]) -> QComboBox:
    box = ChoiceField()
    box.setAccessibleName(name)
    for key, words in choices:
        box.addItem(words, key)
    return box
