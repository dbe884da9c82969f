"""Practice records: written down, imported, charted, reported, given away and deleted."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTabWidget,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from designer.drawing.charts import misses_chart, success_chart
from designer.files.asking import rules_to_write
from designer.open_routine import Settings
from designer.open_routine.task import Progress
from designer.practice.chart_view import ChartView
from designer.practice.record_form import RecordForm
from designer.texts import tr, tr_count
from designer.widgets.buttons import action_button
from designer.widgets.fields import ChoiceField
from designer.widgets.side_window import OwnWindow, WorkBar
from designer.words.library import MISS_WORDS, RECORDS_CAUTION, line_name
from engine.errors import BaizewrightError
from engine.records import (
    MISSES,
    NOT_SAID,
    Kept,
    Practice,
    Records,
    days_of,
    lines_of,
    parse_practice,
    practice_csv,
)
from engine.storage import WriteRules, write_file
from engine.storage.reading import read_text


class RecordsWindow(OwnWindow):
    """The records of one file; it stays on this computer."""

    def __init__(self, settings: Settings, file: Path | None = None) -> None:
        super().__init__(settings, tr("Practice record"))
        self.resize(1120, 760)
        self.records = Records(file or self.keeping.records_file)
        self.caution = QLabel(tr(RECORDS_CAUTION))
        self.caution.setWordWrap(True)
        self.caution.setObjectName("caution")
        self.form = RecordForm()
        self.form.written.connect(self._on_written)
        self.form.refused.connect(self.tell)
        self.player = ChoiceField()
        self.player.setAccessibleName(tr("Shown player"))
        self.player.setMinimumContentsLength(14)
        self.player.currentIndexChanged.connect(lambda _: self._show())
        self.routine = ChoiceField()
        self.routine.setAccessibleName(tr("Shown routine"))
        self.routine.setMinimumContentsLength(24)
        self.routine.currentIndexChanged.connect(lambda _: self._show_chart())
        self.success = ChartView(tr("Success over time"))
        self.misses = ChartView(tr("Misses"))
        self.lines = QTreeWidget()
        self.lines.setAccessibleName(tr("Lines of the record"))
        self.lines.setRootIsDecorated(False)
        self.lines.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.lines.setHeaderLabels(
            [tr("Day"), tr("Routine"), tr("Step"), tr("Attempts"), tr("Made"), tr("Misses, note")]
        )
        self.work = WorkBar(tr("Report…"), tr("report"))
        self.work.begun.connect(self.report)
        self.work.task.finished.connect(self._on_written_out)
        self.work.task.failed.connect(self.tell)
        self.work.kept.connect(self.tell)
        self._lay_out()
        self.refresh()

    @property
    def shown_player(self) -> str:
        """The player on show, "" for none."""
        return str(self.player.currentData() or "")

    def refresh(self, player: str = "") -> None:
        """Show the records as they are, of that player if named."""
        players = self.records.players()
        wanted = player or self.shown_player
        self.player.blockSignals(True)
        self.player.clear()
        for name in players:
            self.player.addItem(name, name)
        self.player.setCurrentIndex(max(self.player.findData(wanted), 0 if players else -1))
        self.player.blockSignals(False)
        self.form.offer(players, self.records.routines())
        self._show()

    def suggest(self, title: str) -> None:
        """The routine that is on the table now, for the form."""
        if title and not self.form.routine.currentText():
            self.form.routine.setCurrentText(title)

    # What can be done ------------------------------------------------------------------------

    def import_file(self, path: Path | None = None) -> None:
        """Take in practice from a CSV file; all of it or nothing."""
        if path is None:
            path = self.asker.file_to_open(
                tr("Import practice"), self.settings.folder, tr("Tables ({ending})", ending="*.csv")
            )
        if path is None:
            return
        try:
            done = self.records.take_in(
                parse_practice(read_text(path, kind="practice file"), path.name)
            )
        except BaizewrightError as error:
            self.tell(tr("Nothing was taken in.") + "\n" + str(error))
            return
        self.refresh()
        self.tell(
            tr("{taken} lines taken in, {before} were there before.",
               taken=done.taken, before=done.there_before)
        )  # fmt: skip

    def export(self) -> None:
        """Everything kept of the player on show, as CSV."""
        player = self.shown_player
        if not player:
            return
        target = self._target(tr("Export record"), "csv")
        rules = self._rules(target, "practice")
        if target is None or rules is None:
            return
        practice = [kept.practice for kept in self._practice()]
        try:
            write_file(target, practice_csv(practice), "practice", rules)
        except BaizewrightError as error:
            self.tell(str(error))
            return
        self._on_written_out(target)

    def report(self) -> None:
        """The report of the player on show as a PDF, in the background."""
        player = self.shown_player
        if not player:
            self.tell(tr("There is no record yet."))
            return
        target = self._target(tr("Write report"), "pdf")
        rules = self._rules(target, "pdf")
        if target is None or rules is None:
            return
        practice = [kept.practice for kept in self._practice()]

        def work(progress: Progress) -> object:
            from designer.handouts.practice_report import report_pdf

            data = report_pdf(
                player, practice, progress=lambda done, wanted: progress(done / max(wanted, 1))
            )
            write_file(target, data, "pdf", rules)
            return target

        self.work.start(work)

    def delete_player(self) -> None:
        """Delete everything kept of the player on show, after asking."""
        player = self.shown_player
        if not player:
            return
        count = len(self._practice())
        question = tr_count(
            "Delete {player} and {count} line? It cannot be brought back.",
            "Delete {player} and {count} lines? They cannot be brought back.",
            count, player=player,
        )  # fmt: skip
        if not self.asker.agrees(tr("Delete a player"), question, tr("Delete")):
            self.tell(tr("Nothing was deleted."))
            return
        try:
            self.records.delete_player(player)
        except BaizewrightError as error:
            self.tell(str(error))
        else:
            self.tell(
                tr("Deleted from this computer’s record. Files you exported or printed are not "
                   "touched.")
            )  # fmt: skip
        if self.form.player.currentText() == player:
            self.form.player.clearEditText()
        self.refresh()

    def remove_line(self) -> None:
        """Take the chosen line out of the record, after asking."""
        item = self.lines.currentItem()
        if item is None:
            return
        question = tr("Remove this line from the record? It cannot be brought back.")
        if self.asker.agrees(tr("Remove line"), question, tr("Remove")):
            try:
                self.records.remove(int(item.data(0, Qt.ItemDataRole.UserRole)))
            except BaizewrightError as error:
                self.tell(str(error))
            self.refresh()

    def may_leave(self) -> bool:
        """Ask before a report in the making, or practice not written down, is dropped."""
        if self.work.task.running and not self.asker.may_stop(tr("The report")):
            return False
        if not self.form.unsaved:
            return True
        answer = self.asker.about_unsaved(
            tr("The practice typed here is not written down yet."), tr("Write it down first?")
        )
        return self.form.hand_over() if answer == "save" else answer == "drop"

    def close_down(self) -> None:
        """Close the file with the window."""
        self.work.close_down()
        self.records.close()

    # Showing ---------------------------------------------------------------------------------

    def _target(self, title: str, kind: str) -> Path | None:
        start = self.settings.folder / f"practice.{kind}"
        words = tr("Files ({ending})", ending=f"*.{kind}")
        return self.asker.file_to_write(title, start, words, f".{kind}")

    def _rules(self, target: Path | None, kind: str) -> WriteRules | None:
        """How a file about a player may be written: for its owner's eyes alone."""
        if target is None:
            return None
        return rules_to_write(self, target, kind, [self.records.file], private=True)

    def _on_written(self, practice: Practice) -> None:
        try:
            self.records.add(practice)
        except BaizewrightError as error:
            self.tell(str(error))
            return
        self.form.clear_counts()
        self.refresh(practice.player)
        self.tell(
            tr("Written down: {player}, {made} of {attempts}.",
               player=practice.player, made=practice.made, attempts=practice.attempts)
        )  # fmt: skip

    def _on_written_out(self, target: Path) -> None:
        self.tell(tr("{file} written. Take care who gets it.", file=str(target)), target)

    def _practice(self) -> tuple[Kept, ...]:
        """The lines of the player on show; none, and told why, when they cannot be read."""
        try:
            return self.records.practice(self.shown_player) if self.shown_player else ()
        except BaizewrightError as error:
            self.tell(str(error))
            return ()

    def _show(self) -> None:
        kept = self._practice()
        lines = lines_of(one.practice for one in kept)
        chosen = self.routine.currentData()
        self.routine.blockSignals(True)
        self.routine.clear()
        self.routine.addItem(tr("All together"), "")
        for line in lines:
            self.routine.addItem(line_name(line), f"{line.step} {line.routine}")
        self.routine.setCurrentIndex(max(self.routine.findData(chosen), 0))
        self.routine.blockSignals(False)
        self.lines.clear()
        for one in reversed(kept):
            self.lines.addTopLevelItem(_item(one))
        for column in range(self.lines.columnCount() - 1):
            self.lines.resizeColumnToContents(column)
        for button in self.buttons:
            button.setEnabled(bool(kept))
        self._show_chart()

    def _show_chart(self) -> None:
        kept = self._practice()
        wanted = str(self.routine.currentData() or "")
        practice = [
            one.practice
            for one in kept
            if not wanted or f"{one.practice.step} {one.practice.routine}" == wanted
        ]
        self.success.show_drawing(success_chart(self.routine.currentText(), days_of(practice)))
        lines = lines_of(practice)
        kinds = [tr(MISS_WORDS[kind]) for kind in (*MISSES, NOT_SAID)]
        missed = any(count for line in lines for count in line.misses)
        self.misses.show_drawing(
            misses_chart(
                lines,
                kinds,
                tr("How it was missed (darker: more often)"),
            )
            if missed
            else None
        )

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.addWidget(_heading(tr("Write down")))
        left.addWidget(self.form)
        left.addWidget(action_button(tr("Import CSV…"), self.import_file))
        left.addStretch(1)
        shown = QHBoxLayout()
        shown.addWidget(QLabel(tr("Player")))
        shown.addWidget(self.player)
        shown.addWidget(QLabel(tr("Routine")))
        shown.addWidget(self.routine, 1)
        charts = QWidget()
        column = QVBoxLayout(charts)
        column.addWidget(self.success)
        column.addWidget(self.misses)
        column.addStretch(1)
        parts = QTabWidget()
        parts.addTab(charts, tr("Charts"))
        parts.addTab(self.lines, tr("Lines"))
        self.lines.header().setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.buttons: list[QPushButton] = []
        under = QHBoxLayout()
        for text, does in (
            (tr("Export…"), self.export),
            (tr("Remove line…"), self.remove_line),
            (tr("Delete player…"), self.delete_player),
        ):
            self.buttons.append(action_button(text, does))
            under.addWidget(self.buttons[-1])
        under.addStretch(1)
        right = QVBoxLayout()
        right.addWidget(_heading(tr("What is kept")))
        right.addLayout(shown)
        right.addWidget(parts, 1)
        right.addWidget(self.work)
        right.addLayout(under)
        middle = QHBoxLayout()
        middle.addLayout(left, 1)
        middle.addLayout(right, 2)
        whole = QVBoxLayout(self)
        whole.addWidget(self.caution)
        whole.addLayout(middle, 1)
        whole.addLayout(self.foot)


def _heading(words: str) -> QLabel:
    made = QLabel(words)
    made.setObjectName("heading")
    return made


def _item(kept: Kept) -> QTreeWidgetItem:
    one = kept.practice
    misses = ", ".join(f"{tr(MISS_WORDS[kind])} {count}" for kind, count in one.misses.items())
    told = "; ".join(part for part in (misses, one.note) if part)
    item = QTreeWidgetItem(
        [one.day.isoformat(), one.routine, str(one.step), str(one.attempts), str(one.made), told]
    )
    item.setData(0, Qt.ItemDataRole.UserRole, kept.number)
    return item
