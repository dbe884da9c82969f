"""What is looked for: words and conditions typed, and the conditions chosen beside them."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QTimer, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from designer.texts import tr
from designer.widgets.fields import ChoiceField, CountField, NumberField
from designer.words.library import POCKET_WORDS, SKILL_WORDS
from engine.errors import BaizewrightError
from engine.library import Query, query_of

_LAG_MS = 80


class Filters(QWidget):
    """`changed` when something else is looked for; `query()` says what."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = QLineEdit()
        self.words.setPlaceholderText(tr("Words, or conditions such as balls<=3 pocket:middle"))
        self.words.setAccessibleName(tr("Search words"))
        self.words.setClearButtonEnabled(True)
        self.skill = _choice(tr("Skill"), SKILL_WORDS)
        self.pocket = _choice(tr("Pocket"), POCKET_WORDS)
        self.tag = _choice(tr("Tag"), {})
        self.level = _choice(tr("Level"), {str(level): str(level) for level in range(1, 6)})
        self.balls = CountField()
        self.balls.setRange(0, 30)
        self.balls.setSpecialValueText(tr("any"))
        self.balls.setAccessibleName(tr("Balls at most"))
        self.pace = NumberField()
        self.pace.setRange(0.9, 10.0)
        self.pace.setDecimals(1)
        self.pace.setSingleStep(0.5)
        self.pace.setValue(0.9)
        self.pace.setSpecialValueText(tr("any"))
        self.pace.setAccessibleName(tr("Reachable at pace"))
        self.pace.setToolTip(tr("A gap can be threaded at this pace or less, at a quick look"))
        self._lag = QTimer(self)
        self._lag.setSingleShot(True)
        self._lag.setInterval(_LAG_MS)
        self._lag.timeout.connect(self.changed)
        self.words.textChanged.connect(lambda _: self._lag.start())
        for box in (self.skill, self.pocket, self.tag, self.level):
            box.currentIndexChanged.connect(lambda _: self._lag.start())
        self.balls.valueChanged.connect(lambda _: self._lag.start())
        self.pace.valueChanged.connect(lambda _: self._lag.start())
        self._lay_out()

    def query(self) -> Query:
        """What is looked for; an error for a typed condition that cannot be meant."""
        query = query_of(self.words.text())
        changes: dict[str, object] = {}
        for box, field in ((self.skill, "skills"), (self.pocket, "pockets"), (self.tag, "tags")):
            if box.currentData():
                changes[field] = (*getattr(query, field), str(box.currentData()))
        if self.level.currentData():
            level = int(self.level.currentData())
            changes |= {"level_least": level, "level_most": level}
        if self.balls.value() > 0:
            changes["balls_most"] = self.balls.value()
        if self.pace.value() > self.pace.minimum():
            changes["pace_most"] = self.pace.value()
        return replace(query, **changes)  # type: ignore[arg-type]

    def fault(self) -> str:
        """What is wrong with what was typed, "" when nothing is."""
        try:
            self.query()
        except BaizewrightError as error:
            return str(error)
        return ""

    def clear(self) -> None:
        """Look for everything again."""
        self.words.clear()
        for box in (self.skill, self.pocket, self.tag, self.level):
            box.setCurrentIndex(0)
        self.balls.setValue(0)
        self.pace.setValue(self.pace.minimum())

    def offer_tags(self, tags: list[tuple[str, int]]) -> None:
        """Offer these tags; the one chosen stays if it is still there."""
        chosen = self.tag.currentData()
        self.tag.blockSignals(True)
        while self.tag.count() > 1:
            self.tag.removeItem(1)
        for tag, count in tags:
            self.tag.addItem(tr("{tag} ({count})", tag=tag, count=count), tag)
        at = self.tag.findData(chosen)
        self.tag.setCurrentIndex(max(at, 0))
        self.tag.blockSignals(False)
        if at < 0 and chosen:
            self.changed.emit()

    def _lay_out(self) -> None:
        grid = QGridLayout()
        for place, (text, field) in enumerate(
            (
                (tr("Skill"), self.skill),
                (tr("Pot into"), self.pocket),
                (tr("Level"), self.level),
                (tr("Balls at most"), self.balls),
                (tr("Reachable at pace"), self.pace),
                (tr("Tag"), self.tag),
            )
        ):
            label = QLabel(text)
            label.setBuddy(field)
            grid.addWidget(label, place // 3, place % 3 * 2)
            grid.addWidget(field, place // 3, place % 3 * 2 + 1)
        for wide in (1, 3, 5):
            grid.setColumnStretch(wide, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.words)
        column.addLayout(grid)


def _choice(name: str, words: dict[str, str]) -> QComboBox:
    box = ChoiceField()
    box.setAccessibleName(name)
    box.addItem(tr("any"), "")
    for value, text in words.items():
        box.addItem(tr(text), value)
    return box
