"""Make harder or easier: by how much, for whom; what was changed, and the routine to keep."""

from __future__ import annotations

import math
from functools import partial
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QVBoxLayout,
)

from designer.files.asking import agrees_to_replace, rules_to_write
from designer.library.pictures import pixmap_of
from designer.open_routine import Settings
from designer.open_routine.task import Progress
from designer.texts import listed, tr, tr_count
from designer.widgets.buttons import action_button
from designer.widgets.fields import ChoiceField, CountField, NumberField
from designer.widgets.side_window import OwnWindow, WorkBar
from designer.words.figures import first_up
from designer.words.library import LEVEL_WORDS, WAY_WORDS
from designer.words.names import ball_name, gap_name, shot_name
from designer.words.steps import as_near, step_title, step_told
from designer.words.wording import Wording
from engine.errors import BaizewrightError
from engine.players import PLAYERS, Player
from engine.routine.values import Routine
from engine.storage import WriteRules, in_the_way, save_routine
from engine.storage.writing import SAVING

_PICTURE_PX = 520
_JSON = "*.json"


class HarderWindow(OwnWindow):
    """Steps from one routine; `made(path)` when files were written."""

    made = Signal(Path)

    def __init__(
        self,
        settings: Settings,
        routine: Routine,
        path: Path | None,
        players: tuple[Player, ...] = PLAYERS,
    ) -> None:
        super().__init__(settings, tr("Harder or easier"))
        self.resize(620, 720)
        self.routine, self.path = routine, path
        self.steps: tuple = ()
        self.unsaved = False
        self.shown = 0
        self.shot, self.gap = _choice(tr("Shot")), _choice(tr("Gap"))
        for shot in routine.shots:
            self.shot.addItem(first_up(shot_name(routine, shot.id)), shot.id)
        for gap in routine.gaps:
            self.gap.addItem(first_up(gap_name(routine, gap)), gap.id)
        self.gap.addItem(tr("none: the pot alone"), "")
        self.player = _choice(tr("Player"))
        self.players = players
        for player in players:
            usual = LEVEL_WORDS.get(player.name)
            self.player.addItem(tr(usual) if usual else player.name, player.name)
        self.player.setCurrentIndex(len(players) // 2)
        self.way = _choice(tr("Harder or easier"))
        self.way.addItem(tr("harder"), 1)
        self.way.addItem(tr("easier"), -1)
        self.points = NumberField()
        self.points.setDecimals(1)
        self.points.setRange(0.2, 6.0)
        self.points.setSingleStep(0.5)
        self.points.setValue(1.5)
        self.points.setSuffix(tr(" in 10"))
        self.points.setAccessibleName(tr("Change of the success chance"))
        self.count = CountField()
        self.count.setRange(1, 8)
        self.count.setAccessibleName(tr("Number of steps"))
        self.ways: dict[str, QCheckBox] = {}
        for name, words in WAY_WORDS.items():
            self.ways[name] = QCheckBox(tr(words))
            self.ways[name].setChecked(True)
        self.work = WorkBar(tr("Look for it"), tr("steps"))
        self.work.begun.connect(self.look)
        self.work.task.finished.connect(self._on_found)
        self.work.task.failed.connect(self.tell)
        self.work.kept.connect(self.tell)
        self.picture = QLabel()
        self.picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.picture.setMinimumHeight(_PICTURE_PX * 11 // 20)
        self.before = action_button(tr("Step before"), lambda: self._show(self.shown - 1))
        self.after = action_button(tr("Next step"), lambda: self._show(self.shown + 1))
        self.save = action_button(tr("Save as routine files…"), lambda: self.write())
        self._lay_out()
        self._show(0)
        if not routine.shots:
            self.tell(tr("The routine has no shot yet."))
            self.work.begin.setEnabled(False)

    def look(self) -> None:
        """Look for the steps asked for."""
        from engine.progressions import WAYS, a_chain

        routine, shot, gap = self.routine, self.shot.currentData(), self.gap.currentData()
        player = self.players[self.player.currentIndex()]
        drop = int(self.way.currentData()) * self.points.value() / 10.0
        ways = tuple(name for name in WAYS if self.ways[name].isChecked())
        if not ways:
            self.tell(tr("Tick at least one thing that may be changed."))
            return
        count = self.count.value()

        def work(progress: Progress) -> object:
            return a_chain(
                routine, shot, gap, player, count, drop, ways=ways,
                titled=partial(step_title, routine.title), progress=progress,
            )  # fmt: skip

        self.tell(tr("Looking …"))
        self.work.start(work)

    def write(self) -> bool:
        """Write the steps to files beside the routine, asked for by the first one's name."""
        if not self.steps:
            return False
        start = self.path or self.settings.folder / "routine.json"
        first = start.with_name(f"{start.stem}-step-2.json")
        target = self.asker.file_to_write(
            tr("Save the first step as"), first, tr("Routines ({ending})", ending=_JSON), ".json"
        )
        if target is None:
            return False
        stem = target.stem.removesuffix("-step-2")
        others = range(3, len(self.steps) + 2)
        paths = [target, *(target.with_name(f"{stem}-step-{number}.json") for number in others)]
        rules = [self._rules(path, asked=path == target) for path in paths]
        if None in rules:
            return False
        try:
            for step, one, rule in zip(self.steps, paths, rules, strict=True):
                save_routine(step.routine, one, rule or SAVING)
                self.made.emit(one)
        except BaizewrightError as error:
            self.tell(str(error))
            return False
        self.unsaved = False
        self.tell(
            tr_count(
                "{count} routine saved beside {file}.", "{count} routines saved beside {file}.",
                len(self.steps), file=str(target),
            )
        )  # fmt: skip
        return True

    def _rules(self, path: Path, *, asked: bool) -> WriteRules | None:
        """How a step may be written; names made up from the one chosen are asked about here."""
        there = path.exists() and not asked and not in_the_way(path, "routine")
        if there and not agrees_to_replace(self, path, "routine"):
            return None
        return rules_to_write(self, path, "routine", [self.path])

    def may_leave(self) -> bool:
        """Ask before steps that were found and not saved are dropped."""
        if not self.unsaved:
            return True
        answer = self.asker.about_unsaved(
            tr("The routines found are not saved."), tr("Save them first?")
        )
        return self.write() if answer == "save" else answer == "drop"

    def close_down(self) -> None:
        """Stop what is under way."""
        self.work.close_down()

    def _on_found(self, steps: tuple) -> None:
        self.steps, self.unsaved = steps, bool(steps)
        if not steps:
            self.tell(
                tr("Cancelled.") if self.work.task.called_off else
                tr("No change was found that gives this chance. Allow more to be changed, or ask "
                   "for less.")
            )  # fmt: skip
        self._show(0)

    def _show(self, at: int) -> None:
        steps = self.steps
        self.shown = min(max(at, 0), max(len(steps) - 1, 0))
        self.before.setEnabled(self.shown > 0)
        self.after.setEnabled(self.shown + 1 < len(steps))
        self.save.setEnabled(bool(steps))
        routine = steps[self.shown].routine if steps else self.routine
        self.picture.setPixmap(pixmap_of(routine, _PICTURE_PX, self.devicePixelRatio()))
        if not steps:
            return
        step = steps[self.shown]
        lines = [f"{self.shown + 1}/{len(steps)}  {step_told(Wording(step.routine), step)}"]
        moved = [
            tr("{ball} by {length}", ball=ball_name(self.routine, ball),
               length=Wording(self.routine).length(math.dist(start, end)))
            for ball, start, end in step.moves
        ]  # fmt: skip
        if moved:
            lines.append(tr("Moved: {balls}.", balls=listed(moved)))
        if not step.exact:
            lines.append(as_near(step))
        if step.claims_lost:
            lines.append(
                tr_count(
                    "{count} claim no longer holds: mend it and the texts.",
                    "{count} claims no longer hold: mend them and the texts.",
                    len(step.claims_lost),
                )
            )
        self.tell("\n".join(lines))

    def _lay_out(self) -> None:
        amount = QHBoxLayout()
        amount.addWidget(self.way)
        amount.addWidget(QLabel(tr("by")))
        amount.addWidget(self.points)
        amount.addWidget(QLabel(tr("steps")))
        amount.addWidget(self.count)
        amount.addStretch(1)
        ways = QHBoxLayout()
        for box in self.ways.values():
            ways.addWidget(box)
        ways.addStretch(1)
        form = QFormLayout()
        form.addRow(tr("Routine"), QLabel(self.routine.title or tr("Routine without a title")))
        form.addRow(tr("Shot"), self.shot)
        form.addRow(tr("Gap"), self.gap)
        form.addRow(tr("For a"), self.player)
        form.addRow(tr("Make it"), amount)
        form.addRow(tr("By changing"), ways)
        steps = QHBoxLayout()
        steps.addWidget(self.before)
        steps.addWidget(self.after)
        steps.addStretch(1)
        steps.addWidget(self.save)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(self.work)
        column.addWidget(self.picture, 1)
        column.addLayout(self.foot)
        column.addLayout(steps)


def _choice(name: str) -> QComboBox:
    box = ChoiceField()
    box.setAccessibleName(name)
    return box
