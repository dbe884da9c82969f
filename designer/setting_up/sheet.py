"""What stands on the sheet: title, coach, club, level, notes, the table, and the shot's words."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QFormLayout, QLabel, QWidget

from designer.open_routine import OpenRoutine
from designer.texts import mark, tr
from designer.widgets.choices import choose, fill_choices
from designer.widgets.fields import ChoiceField
from designer.widgets.panel import Panel
from designer.widgets.text_fields import TextArea, TextField
from engine.tables import load_table, table_ids

LEVELS = (
    ("1", mark("1, first lessons")),
    ("2", "2"),
    ("3", "3"),
    ("4", "4"),
    ("5", mark("5, advanced")),
)
_LINES = (("title", mark("Title")), ("coach", mark("Coach")), ("club", mark("Club")))
_SHOT_WORDS = (
    ("question", mark("Question"), mark("What the player is asked")),
    ("answer", mark("Answer"), mark("What should be found out")),
    ("note", mark("Coach’s note"), mark("For the coach’s sheet only")),
)


class SheetPanel(Panel):
    """Fields for every word that goes onto the handout."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, parent)
        form = QFormLayout(self)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.DontWrapRows)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.lines: dict[str, TextField] = {}
        for what, name in _LINES:
            field = TextField()
            field.setAccessibleName(tr(name))
            field.committed.connect(lambda text, w=what: self._on_text(w, text))
            self.lines[what] = field
            form.addRow(tr(name), field)
        self.level = ChoiceField()
        self.level.setAccessibleName(tr("Level"))
        fill_choices(self.level, [(key, tr(words)) for key, words in LEVELS])
        self.level.activated.connect(lambda i: session.sheet.set_level(int(self.level.itemData(i))))
        form.addRow(tr("Level"), self.level)
        self.table = ChoiceField()
        self.table.setAccessibleName(tr("Table"))
        self.table.setSizeAdjustPolicy(
            QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon
        )
        self.table.setMinimumContentsLength(12)
        fill_choices(self.table, [(name, tr(load_table(name).title)) for name in table_ids()])
        self.table.activated.connect(lambda i: session.sheet.set_table(self.table.itemData(i)))
        form.addRow(tr("Table"), self.table)
        self.notes = _area(tr("Notes"), tr("Notes for the whole routine"))
        self.notes.committed.connect(lambda text: self._on_text("notes", text))
        _put_under(form, tr("Notes"), self.notes)
        self.shot = QLabel()
        self.shot.setObjectName("heading")
        form.addRow(self.shot)
        self.words: dict[str, TextArea] = {}
        for what, name, hint in _SHOT_WORDS:
            area = _area(tr(name), tr(hint))
            area.committed.connect(lambda text, w=what: session.shots.set_words(w, text))
            self.words[what] = area
            _put_under(form, tr(name), area)

    def refresh(self) -> None:
        """Show the routine's words and those of the shot on show."""
        routine, shot = self.session.routine, self.session.shot
        for what, field in self.lines.items():
            field.show_text(getattr(routine, what))
        choose(self.level, str(routine.level))
        choose(self.table, routine.table)
        self.notes.show_text(routine.notes)
        number = routine.shots.index(shot) + 1 if shot is not None else 1
        self.shot.setText(tr("Words for shot {number}", number=number))
        for what, area in self.words.items():
            area.show_text(getattr(shot, what) if shot is not None else "")

    def _on_text(self, what: str, text: str) -> None:
        self.session.sheet.set_text(what, text)
        self.session.sheet.rest()


def _put_under(form: QFormLayout, name: str, area: TextArea) -> None:
    """A field as wide as the column, its name above it."""
    label = QLabel(name)
    label.setBuddy(area)
    form.addRow(label)
    form.addRow(area)


def _area(name: str, hint: str) -> TextArea:
    area = TextArea()
    area.setAccessibleName(name)
    area.setPlaceholderText(hint)
    area.setMinimumHeight(52)
    return area
