"""Player levels: how far strikes stray, for the chances told of every gap."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFileDialog,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
    QWidget,
)

from designer.files.asking import rules_to_write, where_to_write
from designer.open_routine import Message, OpenRoutine
from designer.open_routine.levels import MOST
from designer.texts import mark, tr
from designer.widgets.buttons import action_button
from designer.widgets.plain_label import PlainLabel
from designer.widgets.side_window import RoutineWindow
from designer.widgets.text_fields import TextField

TITLE = mark("Player levels")
TELL = mark(
    "How far a strike strays from what was meant: standard errors, so that two strikes in three "
    "stray less. The three levels at the start are a guess, not a measurement. Chances of gaps are "
    "told for every level, the weakest first; the strike that forgives most is the one that the "
    "middle level, {middle}, makes most often. Levels are kept for all routines."
)
FILES = mark("Player levels (*.json);;All files (*)")
HEADS = (
    mark("Level"), mark("Aim, degrees"), mark("Tip height, mm"), mark("Side, mm"), mark("Pace"),
)  # fmt: skip
#: The figures of a level, with the words for their fields.
FIGURES = (
    ("aim_deg", mark("Aim of {name}, degrees")),
    ("tip_height", mark("Tip height of {name}, mm")),
    ("side", mark("Side of {name}, mm")),
    ("pace", mark("Pace of {name}")),
)
#: Figures shown in mm of the tip, though kept as shares of the radius.
AS_LENGTHS = ("tip_height", "side")


class PlayersDialog(RoutineWindow):
    """A row of fields for each level; every change counts at once."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(session, tr(TITLE), parent)
        self.resize(680, 340)
        self._levels = session.levels
        self.rows: list[LevelRow] = []
        self.tell, self.note = (
            PlainLabel(name=tr("About player levels")),
            PlainLabel(name=tr("Message")),
        )
        #: Ask for the files; tests put others in their place.
        self.ask_file: Callable[[], Path | None] = self._ask_file
        self.ask_where: Callable[[], Path | None] = self._ask_where
        self.add = action_button(tr("Add level"), self._levels.add)
        self.usual = action_button(tr("Usual three levels"), self._levels.reset)
        self.load = action_button(tr("Load…"), self._on_load)
        self.save = action_button(tr("Save as…"), self._on_save)
        self._lay_out()
        self._levels.changed.connect(self._on_changed)
        session.messages.told.connect(self._on_message)

    def refresh(self) -> None:
        """Show the levels as they are."""
        players = self._levels.players
        self.tell.setText(tr(TELL, middle=self._levels.middle.name))
        while len(self.rows) > len(players):
            self.rows.pop().drop()
        while len(self.rows) < len(players):
            row = LevelRow(self.session, len(self.rows))
            row.put(self._grid)
            self.rows.append(row)
        for row in self.rows:
            row.refresh(len(players) > 1)
        self.add.setEnabled(len(players) < MOST)

    def _on_changed(self) -> None:
        self.note.setText("")
        self.catch_up()

    def _on_message(self, message: Message) -> None:
        self.note.setText(f"{message.what} {message.todo}".strip())
        self.catch_up()

    def _on_load(self) -> None:
        path = self.ask_file()
        if path is not None:
            self._levels.load(path)

    def _on_save(self) -> None:
        path = self.ask_where()
        rules = rules_to_write(self, path, "players") if path is not None else None
        if path is not None and rules is not None:
            self._levels.save(path, rules)

    def _ask_file(self) -> Path | None:
        name, _ = QFileDialog.getOpenFileName(self, tr("Load player levels"), "", tr(FILES))
        return Path(name) if name else None

    def _ask_where(self) -> Path | None:
        start = Path(tr("players") + ".json")
        return where_to_write(self, tr("Save player levels"), start, tr(FILES), (".json",))

    def _lay_out(self) -> None:
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(12)
        for column, head in enumerate(HEADS):
            self._grid.addWidget(QLabel(f"<b>{tr(head)}</b>"), 0, column)
        self._grid.setColumnStretch(0, 1)
        changes = QHBoxLayout()
        for button in (self.add, self.usual, self.load, self.save):
            changes.addWidget(button)
        changes.addStretch(1)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.close)
        layout = QVBoxLayout(self)
        layout.addWidget(self.tell)
        layout.addLayout(self._grid)
        layout.addLayout(changes)
        layout.addStretch(1)
        layout.addWidget(self.note)
        layout.addWidget(buttons)


class LevelRow:
    """The fields of one level."""

    def __init__(self, session: OpenRoutine, index: int) -> None:
        self._session, self._levels, self._index = session, session.levels, index
        self.name = TextField()
        self.name.setMaxLength(60)
        self.name.setMinimumWidth(160)
        self.name.committed.connect(self._on_name)
        self.figures: dict[str, TextField] = {}
        for field, _ in FIGURES:
            made = TextField()
            made.setMaximumWidth(96)
            made.committed.connect(lambda text, f=field: self._on_figure(f, text))
            self.figures[field] = made
        self.remove = action_button(tr("Remove"), lambda: self._levels.remove(self._index))

    def put(self, grid: QGridLayout) -> None:
        """Into its row of the grid."""
        for column, part in enumerate((self.name, *self.figures.values(), self.remove)):
            grid.addWidget(part, self._index + 1, column)

    def drop(self) -> None:
        """Take the fields away."""
        for part in (self.name, *self.figures.values(), self.remove):
            part.hide()
            part.deleteLater()

    def refresh(self, removable: bool) -> None:
        """Show the level as it is."""
        player = self._levels.players[self._index]
        self.name.show_text(player.name)
        self.name.setAccessibleName(tr("Name of level {number}", number=self._index + 1))
        for field, words in FIGURES:
            value = getattr(player, field) * self._scale(field)
            places = 2 if field in AS_LENGTHS else 3
            self.figures[field].show_text(f"{value:.{places}f}".rstrip("0").rstrip("."))
            self.figures[field].setAccessibleName(tr(words, name=player.name))
        self.remove.setAccessibleName(tr("Remove {name}", name=player.name))
        self.remove.setEnabled(removable)

    def _scale(self, field: str) -> float:
        return self._session.conditions.cue_radius_mm if field in AS_LENGTHS else 1.0

    def _on_name(self, text: str) -> None:
        self._levels.set_value(self._index, "name", text.strip())

    def _on_figure(self, field: str, text: str) -> None:
        try:
            value = float(text.strip().replace(",", "."))
        except ValueError:
            self._session.messages.warn(
                tr("“{text}” is no number.", text=text.strip()),
                tr("Type a number, such as 0.25."),
            )
            return
        self._levels.set_value(self._index, field, value / self._scale(field))
