"""The selected ball's place as a tape reads it, typed: so far from this cushion and from that."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox, QGridLayout, QLabel, QWidget

from designer.open_routine import OpenRoutine
from designer.texts import mark, tr
from designer.widgets.fields import ChoiceField
from designer.widgets.lengths import LengthField
from designer.words.names import cushion_name
from engine.balls import Ball
from engine.placement import placements

_SPOT_HINT = mark("off the spots")


class PlaceEditor(QWidget):
    """Two lengths to the ball's centre, each with the cushion it is taken from, and a spot."""

    def __init__(self, session: OpenRoutine, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._session = session
        self._ball = ""
        self._filling = False
        self.across, self.along = LengthField(), LengthField()
        self.across_from, self.along_from = _cushions("left", "right"), _cushions("bottom", "top")
        self.spot = ChoiceField()
        self.spot.setAccessibleName(tr("Spot"))
        self.spot.activated.connect(self._on_spot)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        fields = ((self.across, self.across_from), (self.along, self.along_from))
        for row, (field, cushion) in enumerate(fields):
            field.setAccessibleName(tr("Distance from the cushion to the ball’s centre"))
            field.typed.connect(self._on_typed)
            field.refused.connect(self._on_refused)
            cushion.activated.connect(self._show)
            grid.addWidget(field, row, 0)
            grid.addWidget(QLabel(tr("from")), row, 1)
            grid.addWidget(cushion, row, 2)
        grid.addWidget(QLabel(tr("Spot")), 2, 0)
        grid.addWidget(self.spot, 2, 1, 1, 2)
        grid.setColumnStretch(2, 1)

    def show_ball(self, ball: Ball | None) -> None:
        """Show a ball's place; another ball is first shown from its nearest cushions."""
        if ball is None:
            self._ball = ""
            self.across.show_text("")
            self.along.show_text("")
            self._fill_spots("")
            return
        placement = next(p for p in placements(self._session.routine) if p.ball == ball.id)
        nearest = (placement.across.cushion, placement.along.cushion)
        typing = self.across.being_typed or self.along.being_typed
        if ball.id != self._ball or not (typing or self.isAncestorOf(self.focusWidget())):
            self.across_from.setCurrentIndex(self.across_from.findData(nearest[0]))
            self.along_from.setCurrentIndex(self.along_from.findData(nearest[1]))
        self._ball = ball.id
        self.setEnabled(not ball.locked)
        self._fill_spots(placement.spot)
        self._show()

    def _show(self) -> None:
        ball = self._session.ball
        if ball is None:
            return
        table, unit = self._session.table, self._session.view.unit
        right, top = (
            self.across_from.currentData() == "right",
            self.along_from.currentData() == "top",
        )
        self.across.show_length(table.width_mm - ball.x_mm if right else ball.x_mm, unit)
        self.along.show_length(table.length_mm - ball.y_mm if top else ball.y_mm, unit)

    def _on_typed(self, length_mm: float) -> None:
        ball, table = self._session.ball, self._session.table
        if ball is None:
            return
        x, y = ball.centre_mm
        if self.sender() is self.across:
            far = self.across_from.currentData() == "right"
            x = table.width_mm - length_mm if far else length_mm
        else:
            far = self.along_from.currentData() == "top"
            y = table.length_mm - length_mm if far else length_mm
        self._session.balls.place(ball.id, (x, y))
        self._show()

    def _on_refused(self, text: str) -> None:
        example = "12 3/4" if self._session.view.unit == "inch" else "324"
        self._session.messages.warn(
            tr("“{text}” is not a length.", text=text),
            tr("Type a number such as {example}; the ball stays.", example=example),
        )
        self._show()

    def _on_spot(self, index: int) -> None:
        spot_id = self.spot.itemData(index)
        if spot_id and self._session.ball is not None:
            self._session.balls.to_spot(self._session.selected_ball, spot_id)

    def _fill_spots(self, here: str) -> None:
        wanted = [("", tr(_SPOT_HINT))] + [(s.id, tr(s.title)) for s in self._session.table.spots]
        present = [(self.spot.itemData(i), self.spot.itemText(i)) for i in range(self.spot.count())]
        if present != wanted:
            self.spot.clear()
            for spot_id, title in wanted:
                self.spot.addItem(title, spot_id)
        self.spot.setCurrentIndex(self.spot.findData(here))


def _cushions(low: str, high: str) -> QComboBox:
    box = ChoiceField()
    box.addItem(cushion_name(low), low)
    box.addItem(cushion_name(high), high)
    box.setAccessibleName(tr("Cushion measured from"))
    return box
