"""Table and conditions: what the predictions rest on, with sources, and moving to another table."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QDialogButtonBox,
    QHBoxLayout,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from designer.open_routine import Message, OpenRoutine
from designer.open_routine.condition_edits import ConditionEdits
from designer.tables.calibration_page import CalibrationPage
from designer.tables.conditions_page import ConditionsPage
from designer.tables.measured_page import MeasuredPage
from designer.tables.move_page import MovePage
from designer.tables.pace_page import PacePage
from designer.tables.table_page import TablePage
from designer.texts import mark, tr
from designer.widgets.file_links import FileLinks
from designer.widgets.plain_label import PlainLabel
from designer.widgets.side_window import RoutineWindow

PAGES = (TablePage, MeasuredPage, ConditionsPage, CalibrationPage, PacePage, MovePage)
TITLE = mark("Table and conditions")


class TableDialog(RoutineWindow):
    """Six pages; every change is a step of the document at once."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, tr(TITLE), parent)
        self.resize(1040, 660)
        edits = ConditionEdits(session)
        self.table = TablePage(session)
        self.measured = MeasuredPage(session)
        self.conditions = ConditionsPage(session, edits)
        self.calibration = CalibrationPage(session, edits)
        self.pace = PacePage(session, edits)
        self.move_page = MovePage(session)
        self.parts = QTabWidget()
        self.parts.addTab(self.table, tr("Table"))
        self.parts.addTab(self.measured, tr("Measured"))
        self.parts.addTab(self.conditions, tr("Conditions"))
        self.parts.addTab(self.calibration, tr("Calibration"))
        self.parts.addTab(self.pace, tr("Pace scale"))
        self.parts.addTab(self.move_page, tr("Another table"))
        self.parts.currentChanged.connect(self.refresh_soon)
        self.table.move_wanted.connect(self._on_move_wanted)
        self.note = PlainLabel(name=tr("Message"))
        self.links = FileLinks()
        self.links.failed.connect(self.note.setText)
        for page in (self.move_page, self.calibration):
            page.work.kept.connect(session.messages.note)
        session.messages.told.connect(self._on_message)
        session.changed.connect(self._on_edited)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.close)
        layout = QVBoxLayout(self)
        layout.addWidget(self.parts, 1)
        foot = QHBoxLayout()
        foot.addWidget(self.note, 1)
        foot.addWidget(self.links)
        layout.addLayout(foot)
        layout.addWidget(buttons)

    def _on_edited(self, _change: object) -> None:
        # Not a lambda: Qt lets go of a method when the dialog goes, of a lambda never.
        self.note.setText("")
        self.links.show_file(None)

    def refresh(self) -> None:
        """Bring the page on show up to date."""
        page = self.parts.currentWidget()
        if isinstance(page, PAGES):
            page.refresh()

    def close_down(self) -> None:
        """Stop what is under way."""
        self.move_page.close_down()
        self.calibration.close_down()

    def _on_move_wanted(self, table_id: str) -> None:
        self.move_page.choose_table(table_id)
        self.parts.setCurrentWidget(self.move_page)

    def _on_message(self, message: Message) -> None:
        self.note.setText(f"{message.what} {message.todo}".strip())
        self.links.show_file(message.file)
