"""The selected cloth mark: its form, what it is for, and its place as a tape reads it."""

from __future__ import annotations

from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from designer.open_routine import OpenRoutine
from designer.texts import mark as to_translate
from designer.texts import tr
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.lengths import LengthField
from designer.widgets.text_fields import TextField
from designer.words.figures import first_up
from designer.words.names import MARK_NAMES, cushion_name, mark_name
from engine.placement import mark_placements
from engine.routine.values import ClothMark

CARE = to_translate("Only with the club’s permission: chalk or removable marks, nothing adhesive.")


class MarkEditor(QWidget):
    """Fields of one mark; a line has two rows of lengths."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self.name = QLabel()
        self.name.setObjectName("heading")
        self.kind = ChoiceField()
        self.kind.setAccessibleName(tr("Form of the mark"))
        self.kind.activated.connect(
            lambda i: session.marks.set_kind(session.selected_mark, self.kind.itemData(i))
        )
        self.note = TextField()
        self.note.setAccessibleName(tr("What the mark is for"))
        self.note.setPlaceholderText(tr("what it is for"))
        self.note.committed.connect(
            lambda text: session.marks.set_note(session.selected_mark, text)
        )
        self.remove = QPushButton(tr("Remove mark"))
        self.remove.clicked.connect(lambda: session.marks.remove(session.selected_mark))
        self.fields: list[LengthField] = []
        self.cushions: list[QLabel] = []
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.addWidget(self.name, 0, 0, 1, 3)
        grid.addWidget(self.kind, 1, 0)
        grid.addWidget(self.note, 1, 1, 1, 2)
        for row in range(4):
            field, cushion = LengthField(), QLabel()
            field.setAccessibleName(tr("Distance of the mark from the cushion"))
            field.typed.connect(lambda length, r=row: self._on_typed(r, length))
            field.refused.connect(self._on_refused)
            grid.addWidget(field, row + 2, 0)
            grid.addWidget(cushion, row + 2, 1, 1, 2)
            self.fields.append(field)
            self.cushions.append(cushion)
        care = QLabel(tr(CARE))
        care.setWordWrap(True)
        grid.addWidget(care, 6, 0, 1, 3)
        grid.addWidget(self.remove, 7, 0, 1, 3)
        grid.setColumnStretch(2, 1)

    def refresh(self) -> None:
        """Show the selected mark."""
        session, mark = self._session, self._session.mark
        if mark is None:
            return
        unit = session.view.unit
        self.name.setText(first_up(mark_name(session.routine, mark.id)))
        fill_choices(self.kind, [(kind, tr(words)) for kind, words in MARK_NAMES.items()])
        choose(self.kind, mark.kind)
        self.note.show_text(mark.note)
        readings = [
            reading
            for one in mark_placements(session.routine)
            if one.mark == mark.id
            for reading in (one.across, one.along)
        ]
        for row, (field, label) in enumerate(zip(self.fields, self.cushions, strict=True)):
            there = row < len(readings)
            field.setVisible(there)
            label.setVisible(there)
            if there:
                field.show_length(readings[row].centre_mm, unit)
                label.setText(tr("from the {cushion}", cushion=cushion_name(readings[row].cushion)))

    def _on_typed(self, row: int, length_mm: float) -> None:
        session, mark = self._session, self._session.mark
        if mark is None:
            return
        end, axis = divmod(row, 2)
        place = [p for p in mark_placements(session.routine) if p.mark == mark.id][end]
        reading = (place.across, place.along)[axis]
        size = (session.table.width_mm, session.table.length_mm)[axis]
        far = reading.cushion in ("right", "top")
        to = list(mark.places_mm[end])
        to[axis] = size - length_mm if far else length_mm
        session.marks.move(mark.id, (to[0], to[1]), end, whole=_is_point(mark))
        session.marks.rest()
        self.refresh()

    def _on_refused(self, text: str) -> None:
        self._session.messages.warn(
            tr("“{text}” is not a length.", text=text), tr("The mark stays where it is.")
        )
        self.refresh()


def _is_point(mark: ClothMark) -> bool:
    return len(mark.places_mm) == 1
