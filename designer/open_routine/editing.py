"""What edits need: the document, what is selected in it, and where a refusal is told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from PySide6.QtCore import QObject, Signal

from designer.open_routine.messages import Messages
from designer.open_routine.view import View
from designer.texts import tr
from designer.words.errors import error_told
from designer.words.wording import Wording
from engine.balls import Ball
from engine.conditions import Conditions
from engine.errors import BaizewrightError
from engine.routine.context import conditions_of, table_of
from engine.routine.document import Document, Edit
from engine.routine.values import ClothMark, LaneAsk, Routine, Shot
from engine.tables import Table


class Editing(QObject):
    """A document, its view, and what is selected in it.

    `changed` tells of every change of the document, `pointed` that another ball, shot or lane is
    selected, `view_changed` that the view differs.
    """

    changed = Signal(object)
    pointed = Signal()
    view_changed = Signal()
    #: Asks the window to show a panel, by its name, and go to it.
    attend = Signal(str)

    def __init__(self, document: Document | None = None, view: View | None = None) -> None:
        super().__init__()
        self.document = document or Document()
        self.messages = Messages(self)
        self.view = view or View()
        self.selected_ball = self.selected_mark = ""
        self.also: tuple[str, ...] = ()
        self.shown_shot = ""
        self.shown_lane = ""
        self._hidden: frozenset[tuple[str, str]] = frozenset()

    # What there is ---------------------------------------------------------------------------

    @property
    def routine(self) -> Routine:
        """The routine as it is now."""
        return self.document.routine

    @property
    def table(self) -> Table:
        """The routine's table."""
        return table_of(self.routine)

    @property
    def conditions(self) -> Conditions:
        """The conditions the routine is played in."""
        return conditions_of(self.routine)

    @property
    def wording(self) -> Wording:
        """The names of the routine and the unit its lengths are told in."""
        return Wording(self.routine, self.view.unit)

    @property
    def radius_mm(self) -> float:
        """Radius of the balls."""
        return self.conditions.ball_radius_mm

    def radius_of(self, kind: str) -> float:
        """Radius of a ball of that kind: the cue ball may be of another size."""
        conditions = self.conditions
        return conditions.cue_radius_mm if kind == "cue" else conditions.ball_radius_mm

    @property
    def ball(self) -> Ball | None:
        """The selected ball."""
        return next((b for b in self.routine.balls if b.id == self.selected_ball), None)

    @property
    def mark(self) -> ClothMark | None:
        """The selected cloth mark."""
        return next((m for m in self.routine.cloth_marks if m.id == self.selected_mark), None)

    @property
    def chosen(self) -> tuple[str, ...]:
        """Ids of all chosen balls, the selected one first."""
        return (self.selected_ball, *self.also) if self.selected_ball else ()

    @property
    def shot(self) -> Shot | None:
        """The shot on show."""
        return next((s for s in self.routine.shots if s.id == self.shown_shot), None)

    @property
    def lane(self) -> LaneAsk | None:
        """The selected lane of the shot on show."""
        lanes = self.shot.lanes if self.shot is not None else ()
        return next((lane for lane in lanes if lane.label == self.shown_lane), None)

    # What can be asked for -------------------------------------------------------------------

    def apply(self, name: str, edit: Edit, *, merge: str = "") -> bool:
        """Edit the document; a refused edit becomes a message, and nothing changes."""
        try:
            return self.document.apply(name, edit, merge=merge)
        except BaizewrightError as error:
            self.messages.warn(tr("“{step}” was not done.", step=name), error_told(error))
            return False

    def undo(self) -> None:
        """Take back the last step."""
        self.document.undo()

    def redo(self) -> None:
        """Do the last step taken back once more."""
        self.document.redo()

    def point_at_ball(self, ball_id: str) -> None:
        """Select a ball alone, or none with ""."""
        if ball_id != self.selected_ball or self.also or self.selected_mark:
            self.selected_ball, self.also, self.selected_mark = ball_id, (), ""
            self.pointed.emit()

    def point_at_mark(self, mark_id: str) -> None:
        """Select a cloth mark instead of balls."""
        if mark_id != self.selected_mark:
            self.selected_ball, self.also, self.selected_mark = "", (), mark_id
            self.pointed.emit()

    def choose_balls(self, ball_ids: Sequence[str]) -> None:
        """Select several balls, the first of them as the one whose fields are shown."""
        first, *others = ball_ids or [""]
        if (first, *others) != (self.selected_ball, *self.also):
            self.selected_ball, self.also, self.selected_mark = first, tuple(others), ""
            self.pointed.emit()

    def toggle_ball(self, ball_id: str) -> None:
        """Choose one ball more, or one less."""
        chosen = self.chosen
        if ball_id in chosen:
            self.choose_balls([one for one in chosen if one != ball_id])
        else:
            self.choose_balls([*chosen, ball_id])

    def point_at_lane(self, label: str) -> None:
        """Select a lane of the shot on show."""
        if label != self.shown_lane:
            self.shown_lane = label
            self.pointed.emit()

    def show_shot(self, shot_id: str) -> None:
        """Show another shot."""
        if shot_id != self.shown_shot:
            self.shown_shot = shot_id
            self.keep_pointing()
            self._on_shot_shown()
            self.pointed.emit()

    def _on_shot_shown(self) -> None:
        """What has to be there before anybody hears of another shot."""

    def show_step(self, by: int) -> None:
        """Show the shot that comes so many later in the order of steps, if there is one."""
        ids = [shot.id for shot in self.routine.shots]
        if self.shown_shot in ids:
            at = ids.index(self.shown_shot) + by
            if 0 <= at < len(ids):
                self.show_shot(ids[at])

    def set_view(self, view: View) -> None:
        """Show the routine another way."""
        if view != self.view:
            self.view = view
            self.view_changed.emit()

    def lane_is_shown(self, label: str) -> bool:
        """Whether that lane of the shot on show is to be drawn."""
        return (self.shown_shot, label) not in self._hidden

    def show_lane(self, label: str, on: bool) -> None:
        """Draw that lane of the shot on show, or leave it out."""
        key = frozenset({(self.shown_shot, label)})
        hidden = self._hidden - key if on else self._hidden | key
        if hidden != self._hidden:
            self._hidden = hidden
            self.view_changed.emit()

    def lanes_to_draw(self) -> frozenset[str] | None:
        """Letters of the lanes to draw of the shot on show; None for all."""
        lanes = self.shot.lanes if self.shot is not None else ()
        shown = frozenset(lane.label for lane in lanes if self.lane_is_shown(lane.label))
        return None if len(shown) == len(lanes) else shown

    def set_unit(self, unit: str) -> None:
        """Read lengths in "mm" or "inch"."""
        self.set_view(replace(self.view, unit="inch" if unit == "inch" else "mm"))

    def keep_pointing(self, *, anew: bool = False) -> bool:
        """Keep selections on what exists; True when one had to move."""
        before = (self.chosen, self.selected_mark, self.shown_shot, self.shown_lane)
        if anew:
            self.selected_ball = self.selected_mark = self.shown_shot = self.shown_lane = ""
        ids = {ball.id for ball in self.routine.balls}
        left = [one for one in (() if anew else self.chosen) if one in ids]
        self.selected_ball, self.also = (left[0], tuple(left[1:])) if left else ("", ())
        if self.mark is None:
            self.selected_mark = ""
        if self.shot is None:
            shots = self.routine.shots
            self.shown_shot = shots[0].id if shots else ""
        if self.lane is None:
            lanes = self.shot.lanes if self.shot is not None else ()
            self.shown_lane = lanes[0].label if lanes else ""
        return before != (self.chosen, self.selected_mark, self.shown_shot, self.shown_lane)
