"""The balls on the table: add them, see where each stands, type its place, lock or remove it."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from designer.open_routine import OpenRoutine
from designer.setting_up.mark_editor import MarkEditor
from designer.setting_up.place_editor import PlaceEditor
from designer.texts import tr
from designer.widgets.badges import BALL_ICON_SIZE, ball_icon, mark_icon
from designer.widgets.lists import Row, bare_list, fill_list, remove_by_key
from designer.widgets.panel import Panel
from designer.widgets.text_fields import TextField
from designer.words.figures import first_up
from designer.words.names import (
    ball_name,
    cushion_side,
    mark_name,
    printed_letters,
)
from engine.balls import LETTERS
from engine.placement import MarkPlacement, mark_placements, placements
from engine.results import CushionReading
from engine.units import LengthUnit, length_text

#: Marks a cloth mark among the keys of the list.
MARK = "mark:"


class BallsPanel(Panel):
    """The list of the balls and marks on the table, and the selected one's fields."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        self.list = bare_list((tr("Ball"), tr("Side"), tr("End")), wide=0)
        self.list.setIconSize(BALL_ICON_SIZE)
        self.list.setAccessibleName(tr("Balls on the table"))
        self.list.itemSelectionChanged.connect(self._on_selected)
        self.place = PlaceEditor(session)
        self.letter = TextField()
        self.letter.setMaxLength(3)
        self.letter.setMaximumWidth(60)
        self.letter.setAccessibleName(tr("Letter on the ball"))
        self.letter.committed.connect(self._on_letter)
        self.lock = QCheckBox(tr("Lock where it is"))
        self.lock.clicked.connect(self._on_lock)
        self.remove = QPushButton(tr("Remove"))
        self.remove.clicked.connect(lambda: session.balls.remove(session.selected_ball))
        remove_by_key(self.list, self._on_delete)
        self.name = QLabel()
        self.name.setObjectName("heading")
        layout = QVBoxLayout(self)
        layout.addWidget(self.list, 1)
        layout.addWidget(self._selected_box())
        self.mark = MarkEditor(session)
        layout.addWidget(self.mark)
        layout.addStretch(0)

    def refresh(self) -> None:
        """Show all balls and the selected one."""
        session, unit = self.session, self.session.view.unit
        printed = printed_letters(session.routine)
        rows: list[Row] = []
        for ball, placement in zip(session.routine.balls, placements(session.routine), strict=True):
            name = ball_name(session.routine, ball.id)
            name = tr("{ball} (locked)", ball=name) if ball.locked else name
            across, along = (
                reading_text(placement.across, unit),
                reading_text(placement.along, unit),
            )
            rows.append((ball.id, (name, across, along), ball_icon(ball.kind, printed[ball.id])))
        rows += [self._mark_of(one) for one in mark_placements(session.routine) if one.end == 1]
        pointed = MARK + session.selected_mark if session.selected_mark else session.selected_ball
        fill_list(self.list, rows, pointed)
        chosen = session.ball
        self._box.setVisible(session.mark is None)
        self.mark.setVisible(session.mark is not None)
        self.mark.refresh()
        self._box.setEnabled(chosen is not None)
        self.name.setText(
            first_up(ball_name(session.routine, chosen.id)) if chosen else tr("No ball selected")
        )
        self.place.show_ball(chosen)
        self.letter.show_text(chosen.letter if chosen else "")
        self.lock.setChecked(chosen is not None and chosen.locked)

    def _mark_of(self, placed: MarkPlacement) -> Row:
        """A mark's row: its name with what it is for, and its readings."""
        routine, unit = self.session.routine, self.session.view.unit
        name = mark_name(routine, placed.mark)
        if placed.note:
            name = tr("{mark}: {note}", mark=name, note=placed.note)
        readings = (reading_text(placed.across, unit), reading_text(placed.along, unit))
        return (MARK + placed.mark, (name, *readings), mark_icon(placed.kind))

    def _selected_box(self) -> QWidget:
        self._box = QWidget()
        grid = QGridLayout(self._box)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(self.name, 0, 0, 1, 2)
        grid.addWidget(self.place, 1, 0, 1, 2)
        marks = QHBoxLayout()
        marks.addWidget(QLabel(tr("Letter")))
        marks.addWidget(self.letter)
        marks.addStretch(1)
        grid.addLayout(marks, 2, 0)
        grid.addWidget(self.lock, 2, 1)
        grid.addWidget(self.remove, 3, 0, 1, 2)
        return self._box

    def _on_selected(self) -> None:
        items = self.list.selectedItems()
        if not items or self.filling:
            return
        key = str(items[0].data(0, Qt.ItemDataRole.UserRole))
        if key.startswith(MARK):
            self.session.point_at_mark(key.removeprefix(MARK))
        else:
            self.session.point_at_ball(key)

    def _on_delete(self) -> None:
        session = self.session
        if session.mark is not None:
            session.marks.remove(session.selected_mark)
        elif session.ball is not None:
            session.balls.remove(session.selected_ball)

    def _on_letter(self, text: str) -> None:
        ball = self.session.ball
        if ball is not None:
            usual = LETTERS.get(ball.kind, "")
            self.session.balls.relabel(ball.id, "" if text.strip() == usual else text)

    def _on_lock(self, locked: bool) -> None:
        if self.session.ball is not None:
            self.session.balls.lock(self.session.selected_ball, locked)


def reading_text(reading: CushionReading, unit: LengthUnit) -> str:
    """A reading as "324 mm top": to the ball's centre, from that cushion."""
    return tr(
        "{length} {cushion}",
        length=length_text(reading.centre_mm, unit),
        cushion=cushion_side(reading.cushion),
    )
