"""The lesson plan: routines in order, minutes, aims, what changes on the table, the booklet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QFormLayout,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
)

from designer.files.asking import rules_to_write
from designer.files.unsaved_copy import UnsavedCopy, remove
from designer.open_routine import Settings
from designer.open_routine.task import Progress
from designer.plans.booklet import Booklet, write_booklet
from designer.plans.left_plans import LeftPlan, keep_plan, plans_folder
from designer.texts import tr, tr_count
from designer.widgets.buttons import action_button
from designer.widgets.side_window import OwnWindow, WorkBar
from designer.words.library import balls_told, booklet_told, change_told, minutes_told
from engine.errors import BaizewrightError
from engine.plans import (
    EXACT_MOST,
    LessonPlan,
    lesson_plan_of,
    load_lesson_plan,
    propose_order,
    reordered,
)
from engine.routine.values import Routine
from engine.storage import Plan, PlanItem, load_plan, load_routine, named_from, save_plan
from engine.storage.own_plans import file_of

_ROUTINE, _MINUTES, _AIM, _CHANGE = range(4)
_PLANS = "*.json"


class PlanWindow(OwnWindow):
    """One plan; nothing is lost by closing without being asked about."""

    def __init__(self, settings: Settings) -> None:
        super().__init__(settings, tr("Lesson plan"))
        self.resize(980, 680)
        self.lesson = lesson_plan_of(Plan(), [])
        self.path: Path | None = None
        self._unsaved = False
        self.kept = UnsavedCopy(
            plans_folder(settings), self, lambda: self.unsaved, self._keep_apart
        )
        self._filling = self._day_told = False
        self.title, self.day, self.coach = QLineEdit(), QLineEdit(), QLineEdit()
        self.day.setPlaceholderText(tr("as 2026-03-31"))
        self.aims = QPlainTextEdit()
        self.aims.setMaximumHeight(64)
        self.aims.setTabChangesFocus(True)
        for field, name in (
            (self.title, tr("Title")),
            (self.day, tr("Day")),
            (self.coach, tr("Coach")),
            (self.aims, tr("Aims of the lesson")),
        ):
            field.setAccessibleName(name)
        for field in (self.title, self.day, self.coach):
            field.textEdited.connect(self._on_sheet)
        self.day.editingFinished.connect(self._day_is_sound)
        self.aims.textChanged.connect(self._on_sheet)
        self.rows = QTableWidget(0, 4)
        self.rows.setAccessibleName(tr("Routines of the plan"))
        self.rows.setHorizontalHeaderLabels(
            [tr("Routine"), tr("Minutes"), tr("Aim"), tr("On the table")]
        )
        self.rows.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        header = self.rows.horizontalHeader()
        header.setSectionResizeMode(_ROUTINE, QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(_AIM, QHeaderView.ResizeMode.Stretch)
        self.rows.setColumnWidth(_CHANGE, 210)
        self.rows.cellChanged.connect(self._on_cell)
        self.total = QLabel()
        self.total.setWordWrap(True)
        self.keep_first = QCheckBox(tr("first stays first"))
        self.keep_last = QCheckBox(tr("last stays last"))
        self.work = WorkBar(tr("Print booklet…"), tr("booklet"))
        self.work.begun.connect(self.print_booklet)
        self.work.task.finished.connect(self._on_done)
        self.work.task.failed.connect(self.tell)
        self.work.kept.connect(self.tell)
        self._lay_out()
        self._show()

    @property
    def unsaved(self) -> bool:
        """Whether closing would lose something; while it is so the plan is kept apart."""
        return self._unsaved

    @unsaved.setter
    def unsaved(self, is_so: bool) -> None:
        self._unsaved = is_so
        self.kept.touch()

    # Editing ---------------------------------------------------------------------------------

    def add(self, *paths: Path) -> bool:
        """Add routines' files at the end; False, told why, when some cannot be read."""
        items, routines, told, faults = self._items(), self._routines(), [], []
        for path in paths:
            try:
                routine = load_routine(path)
            except BaizewrightError as error:
                faults.append(str(error))
                continue
            items.append(PlanItem(self._named(path)))
            routines.append(routine)
            told.append(tr("“{title}” added.", title=routine.title or path.stem))
        if told:
            self._take(items, routines)
            self.rows.selectRow(len(items) - 1)
        self.tell("\n".join(faults + told))
        return not faults

    def remove(self) -> None:
        """Take the chosen routine out of the plan; its file stays."""
        at = self.rows.currentRow()
        if 0 <= at < len(self.lesson.parts):
            items, routines = self._items(), self._routines()
            del items[at], routines[at]
            self._take(items, routines)

    def shift(self, by: int) -> None:
        """The chosen routine earlier (−1) or later (+1)."""
        at, to = self.rows.currentRow(), self.rows.currentRow() + by
        count = len(self.lesson.parts)
        if 0 <= at < count and 0 <= to < count:
            order = list(range(count))
            order[at], order[to] = order[to], order[at]
            self._reorder(order)
            self.rows.selectRow(to)

    def propose(self) -> None:
        """Put the routines in the order with the least balls to handle."""
        lesson = self.lesson
        first, last = self.keep_first.isChecked(), self.keep_last.isChecked()
        if len(lesson.parts) <= EXACT_MOST:
            self._take_order(lesson, propose_order(lesson, keep_first=first, keep_last=last))
            return

        def work(progress: Progress) -> object:
            return lesson, propose_order(
                lesson, keep_first=first, keep_last=last,
                progress=lambda done, wanted: progress(done / max(wanted, 1)),
            )  # fmt: skip

        self.tell(tr("Looking …"))
        self.work.start(work)

    def _take_order(self, lesson: LessonPlan, order: Sequence[int]) -> None:
        """Put the routines in an order proposed, if they are still those it was proposed for."""
        before = lesson.handled
        if lesson is not self.lesson:
            self.tell(tr("The plan has changed meanwhile: ask again."))
            return
        if list(order) == list(range(len(order))):
            self.tell(tr("No order needs fewer balls handled: it stays as it is."))
            return
        self._reorder(order)
        self.tell(
            tr("{now} balls handled between routines, before it were {before}.",
               now=self.lesson.handled, before=before)
        )  # fmt: skip

    # Files -----------------------------------------------------------------------------------

    def open_file(self, path: Path | None = None) -> bool:
        """Open a plan's file, asked for when none is given; the present one may be kept first."""
        if path is None:
            path = self.asker.file_to_open(
                tr("Open lesson plan"), self.settings.folder, tr("Plans ({ending})", ending=_PLANS)
            )
        if path is None or not self._plan_may_go():
            return False
        try:
            self.lesson = load_lesson_plan(load_plan(path), path)
        except BaizewrightError as error:
            self.tell(str(error))
            return False
        self.path, self.unsaved = path, False
        self._show_sheet()
        self._show()
        self.tell(tr("{file} opened.", file=str(path)))
        return True

    def take_up(self, left: LeftPlan) -> bool:
        """Go on with a plan that was not saved; told when its routines cannot be read.

        Its kept file goes as soon as this window keeps it.
        """
        if not self._plan_may_go():
            return False
        try:
            self.lesson = load_lesson_plan(left.plan, left.file)
        except BaizewrightError as error:
            self.tell(str(error))
            return False
        self.path, self.unsaved = left.path, True
        self._show_sheet()
        self._show()
        if self.kept.keep():
            remove(left.file)
        self.tell(tr("This plan was not saved last time."))
        return True

    def save(self) -> bool:
        """Save the plan, asked where for the first time."""
        if not self._day_is_sound():
            self.day.setFocus()
            return False
        target = self.path or self.asker.file_to_write(
            tr("Save lesson plan"), self.settings.folder / "plan.json",
            tr("Plans ({ending})", ending=_PLANS), ".json",
        )  # fmt: skip
        rules = rules_to_write(self, target, "plan") if target is not None else None
        if target is None or rules is None:
            return False
        items = tuple(
            replace(item, file=named_from(self._file(item), target))
            for item in self.lesson.plan.items
        )
        plan = replace(self.lesson.plan, items=items)
        try:
            save_plan(plan, target, rules)
        except BaizewrightError as error:
            self.tell(str(error))
            return False
        self.path, self.unsaved = target, False
        self.lesson = lesson_plan_of(plan, self._routines())
        self.tell(tr("Saved as {file}.", file=str(target)))
        return True

    def print_booklet(self) -> None:
        """Write the plan and every sheet as a PDF, in the background."""
        if not self.lesson.parts:
            self.tell(tr("Add a routine first."))
            return
        start = self.path.with_suffix(".pdf") if self.path else self.settings.folder / "plan.pdf"
        target = self.asker.file_to_write(
            tr("Print booklet"), start, tr("PDF ({ending})", ending="*.pdf"), ".pdf"
        )
        lesson, read = self.lesson, [self.path, *map(self._file, self._items())]
        rules = rules_to_write(self, target, "pdf", read) if target is not None else None
        if target is None or rules is None:
            return
        self.tell(tr("Making the booklet …"))
        self.work.start(lambda progress: write_booklet(lesson, target, progress, rules))

    def keep(self) -> None:
        """Keep the plan apart, now, if it is not saved."""
        self.kept.keep()

    def may_leave(self) -> bool:
        """Ask before a booklet in the making, or changes of the plan, are dropped."""
        if self.work.task.running and not self.asker.may_stop(tr("The booklet")):
            return False
        return self._plan_may_go()

    def close_down(self) -> None:
        """Stop what is under way; nothing is kept apart any more."""
        self.work.close_down()
        self.kept.drop()

    def _plan_may_go(self) -> bool:
        # Ends typing in a cell, so that it counts as a change.
        self.rows.setFocus()
        if not self.unsaved:
            return True
        answer = self.asker.about_unsaved(
            tr("The plan has changes that are not saved."), tr("Save them first?")
        )
        return self.save() if answer == "save" else answer == "drop"

    # Showing ---------------------------------------------------------------------------------

    def _items(self) -> list[PlanItem]:
        return list(self.lesson.plan.items)

    def _routines(self) -> list[Routine]:
        return [part.routine for part in self.lesson.parts]

    @property
    def _named_from(self) -> Path:
        """The path that the routines' files are named from."""
        return self.path or Path.home() / "plan.json"

    def _file(self, item: PlanItem) -> Path:
        return file_of(item, self._named_from)

    def _named(self, path: Path) -> str:
        return named_from(path, self._named_from)

    def _keep_apart(self, file: Path) -> None:
        keep_plan(self.lesson.plan, self.path, self._named_from, file)

    def _take(self, items: Sequence[PlanItem], routines: Sequence[Routine]) -> None:
        self.lesson = lesson_plan_of(replace(self.lesson.plan, items=tuple(items)), routines)
        self.unsaved = True
        self._show()

    def _reorder(self, order: Sequence[int]) -> None:
        self.lesson = reordered(self.lesson, order)
        self.unsaved = True
        self._show()

    def _show_sheet(self) -> None:
        plan = self.lesson.plan
        self._filling = True
        self.title.setText(plan.title)
        self.day.setText(plan.day)
        self.coach.setText(plan.coach)
        self.aims.setPlainText(plan.aims)
        self._filling = False

    def _show(self) -> None:
        self._filling = True
        self.rows.setRowCount(len(self.lesson.parts))
        for row, part in enumerate(self.lesson.parts):
            title = part.routine.title or Path(part.item.file).stem
            change = change_told(part.change, first=row == 0)
            for column, text in enumerate((title, f"{part.item.minutes:g}", part.item.aim, change)):
                cell = QTableWidgetItem(text)
                if column in (_ROUTINE, _CHANGE):
                    cell.setFlags(cell.flags() & ~Qt.ItemFlag.ItemIsEditable)
                self.rows.setItem(row, column, cell)
        self._filling = False
        told = [
            minutes_told(self.lesson.plan.minutes),
            tr_count("{count} ball handled between routines", "{count} balls handled between "
                     "routines", self.lesson.handled),
            tr("balls needed: {balls}", balls=balls_told(self.lesson.balls)),
        ]  # fmt: skip
        if len(self.lesson.tables) > 1:
            told.append(tr("these are for more than one kind of table"))
        self.total.setText("  ·  ".join(told))

    def _day_is_sound(self) -> bool:
        """Whether the day is one, or empty; told as soon as it is left when it is none."""
        day = self.lesson.plan.day
        told = tr(
            "“{day}” is no day: type year, month and day as in 2026-03-31, or leave it empty.",
            day=day,
        )
        if is_day(day):
            if self._day_told:
                self.tell("")
            self._day_told = False
            return True
        self.tell(told)
        self._day_told = True
        return False

    def _on_sheet(self, *_: object) -> None:
        if self._filling:
            return
        plan = replace(
            self.lesson.plan, title=self.title.text(), day=self.day.text().strip(),
            coach=self.coach.text(), aims=self.aims.toPlainText(),
        )  # fmt: skip
        self.lesson = replace(self.lesson, plan=plan)
        self.unsaved = True

    def _on_cell(self, row: int, column: int) -> None:
        if self._filling or column not in (_MINUTES, _AIM):
            return
        cell = self.rows.item(row, column)
        items, text = self._items(), cell.text().strip() if cell is not None else ""
        if column == _AIM:
            items[row] = replace(items[row], aim=text)
        else:
            try:
                minutes = float(text.replace(",", "."))
            except ValueError:
                minutes = -1.0
            if not 0.0 <= minutes <= 600.0:
                self.tell(tr("“{text}” is no number of minutes from 0 to 600.", text=text))
                self._show()
                return
            items[row] = replace(items[row], minutes=minutes)
        self._take(items, self._routines())

    def _on_done(self, target: object) -> None:
        if target is None:
            self.tell(tr("Cancelled; no booklet was written."))
        elif isinstance(target, Booklet):
            self.tell(booklet_told(target.file, target.unplayable), target.file)
        elif isinstance(target, tuple):
            self._take_order(*target)

    def _lay_out(self) -> None:
        form = QFormLayout()
        first = QHBoxLayout()
        first.addWidget(self.title, 3)
        first.addWidget(QLabel(tr("Day")))
        first.addWidget(self.day, 1)
        first.addWidget(QLabel(tr("Coach")))
        first.addWidget(self.coach, 2)
        form.addRow(tr("Title"), first)
        form.addRow(tr("Aims"), self.aims)
        order = QVBoxLayout()
        self.buttons: dict[str, QPushButton] = {}
        for name, text, does in (
            ("add", tr("Add routines…"), self._on_add),
            ("earlier", tr("Earlier"), lambda: self.shift(-1)),
            ("later", tr("Later"), lambda: self.shift(1)),
            ("remove", tr("Remove"), self.remove),
            ("propose", tr("Propose order"), self.propose),
        ):
            self.buttons[name] = action_button(text, does)
            order.addWidget(self.buttons[name])
        order.addWidget(self.keep_first)
        order.addWidget(self.keep_last)
        order.addStretch(1)
        order.addWidget(action_button(tr("Open plan…"), self.open_file))
        order.addWidget(action_button(tr("Save plan…"), self.save))
        middle = QHBoxLayout()
        middle.addWidget(self.rows, 1)
        middle.addLayout(order)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addLayout(middle, 1)
        column.addWidget(self.total)
        column.addWidget(self.work)
        column.addLayout(self.foot)

    def _on_add(self) -> None:
        paths = self.asker.files_to_open(
            tr("Add routines"), self.settings.folder, tr("Routines ({ending})", ending="*.json")
        )
        if paths:
            self.add(*paths)


def is_day(text: str) -> bool:
    """Whether a text is empty or a day of the calendar as a plan's file has it.

    >>> is_day("2026-03-31"), is_day(""), is_day("31.3.2026"), is_day("2026-02-30")
    (True, True, False, False)
    """
    try:
        return not text or date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False
