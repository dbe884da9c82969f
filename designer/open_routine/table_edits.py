"""Edits of what was measured on the table the routine lies on."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from designer.open_routine.editing import Editing
from designer.texts import tr
from engine.errors import BaizewrightError
from engine.routine import edits
from engine.routine.document import Edit
from engine.tables import MeasuredTable, Table, load_table

if TYPE_CHECKING:
    from engine.storage import WriteRules


class TableEdits:
    """Typing a measurement, taking it back, and own tables from and into files."""

    def __init__(self, session: Editing) -> None:
        self._session = session

    @property
    def base(self) -> Table:
        """The table as its rule has it."""
        return load_table(self._session.routine.table)

    @property
    def measured(self) -> MeasuredTable:
        """What has been measured so far."""
        return self._session.routine.measured_table or MeasuredTable()

    def set_size(self, name: str, title: str, value: float | None) -> bool:
        """State a measured size; None takes it back."""
        return self._apply(title, lambda r: edits.set_measured_size(r, name, value))

    def set_spot(self, spot_id: str, title: str, axis: int, at_mm: float | None) -> bool:
        """State where a spot was measured, across (axis 0) or along (1) the table.

        The other reading is the rule's while it is not measured; None takes both back.
        """
        known = self.measured.spots_mm.get(spot_id)
        spot = self.base.spot(spot_id)
        place: tuple[float, float] | None = None
        if at_mm is not None:
            x, y = known if known is not None else (spot.x_mm, spot.y_mm)
            place = (at_mm, y) if axis == 0 else (x, at_mm)
        return self._apply(title, lambda r: edits.set_measured_spot(r, spot_id, place))

    def set_opening(self, pocket_id: str, title: str, opening_mm: float | None) -> bool:
        """State a pocket's measured opening; None takes it back."""
        return self._apply(title, lambda r: edits.set_measured_opening(r, pocket_id, opening_mm))

    def set_title(self, title: str) -> bool:
        """Name the table; only one that has been measured has a name of its own."""
        if self._session.routine.measured_table is None or title == self.measured.title:
            return False
        named = replace(self.measured, title=title)
        return self._session.apply(
            tr("Name of the table"), lambda r: edits.set_measured_table(r, named)
        )

    def forget(self) -> bool:
        """Go back to the table as its rule has it."""
        if self._session.routine.measured_table is None:
            return False
        return self._session.apply(
            tr("Table as its rule has it"), lambda r: edits.set_measured_table(r, None)
        )

    def load(self, path: Path) -> bool:
        """Take over a file of measurements; a faulty one or another table’s changes nothing."""
        from engine.storage import load_measured_table

        session = self._session
        try:
            table_id, found = load_measured_table(path)
        except (BaizewrightError, OSError) as error:
            session.messages.fail(
                tr("“{name}” was not taken over.", name=path.name),
                tr("The table is as it was."),
                error,
            )
            return False
        if table_id != session.routine.table:
            session.messages.warn(
                tr(
                    "“{name}” was measured on another kind of table ({table}).",
                    name=path.name,
                    table=tr(load_table(table_id).title),
                ),
                tr("Move the routine there on the page “Another table”."),
            )
            return False
        title = found.title or path.stem
        return session.apply(
            tr("Measured table {title}", title=title),
            lambda r: edits.set_measured_table(r, replace(found, title=title)),
        )

    def save(self, path: Path, rules: WriteRules | None = None) -> bool:
        """Write the measurements as a table file of their own."""
        from engine.storage import WriteRules, save_measured_table

        session, rules = self._session, rules or WriteRules()
        try:
            save_measured_table(session.routine.table, self.measured, path, rules)
        except (BaizewrightError, OSError) as error:
            session.messages.fail(
                tr("“{name}” was not written.", name=path.name),
                tr("The measurements stay in the routine; choose another place."),
                error,
            )
            return False
        session.messages.note(tr("“{name}” is written.", name=path.name))
        return True

    def _apply(self, title: str, edit: Edit) -> bool:
        return self._session.apply(tr("Measured: {title}", title=title), edit)
