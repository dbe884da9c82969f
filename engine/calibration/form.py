"""The form to collect observations with: for each kind what to play, the columns, the rows."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from dataclasses import dataclass

from engine.calibration.design import suggested
from engine.calibration.kinds import COLUMNS, KINDS, Kind
from engine.conditions import Conditions
from engine.tables import Table

#: Blank rows of each kind beyond the suggested ones, for what the coach would rather play.
BLANK_ROWS = 1


@dataclass(frozen=True, slots=True)
class FormPart:
    """One kind's part of the form: its columns in order and rows of cells, "" where to write."""

    kind: Kind
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def form_parts(table: Table, conditions: Conditions) -> tuple[FormPart, ...]:
    """Every kind with the suggested rows of that table."""
    planned = suggested(table, conditions)
    parts = []
    for kind in KINDS.values():
        mine = [one for one in planned if one.kind == kind.id]
        columns = _columns(kind, {column for one in mine for column in one.cells})
        rows = [tuple(_cell(one.cells.get(column)) for column in columns) for one in mine]
        rows += [("",) * len(columns)] * BLANK_ROWS
        parts.append(FormPart(kind, columns, tuple(rows)))
    return tuple(parts)


def _columns(kind: Kind, filled: set[str]) -> tuple[str, ...]:
    """The columns a coach needs: all that must be there, one of the choices, what is filled in."""
    wanted = {*kind.needs, *filled, *(kind.optional if kind.id == "roll" else ())}
    if kind.either and not any(set(one) <= wanted for one in kind.either):
        wanted |= set(kind.either[0])
    return tuple(column for column in COLUMNS if column in wanted)


def _cell(value: object) -> str:
    if value is None:
        return ""
    return f"{value:g}" if isinstance(value, int | float) else str(value)


def form_csv(table: Table, conditions: Conditions, how: Mapping[str, str]) -> str:
    """The form as an observation file with a head row and the suggested rows, results open.

    `how` says by kind what to do, in remarks at the head of the file.
    Rows left without a result are faults when it is read: take them out or fill them in.
    """
    columns = list(COLUMNS)
    store = io.StringIO()
    for kind, told in how.items():
        store.write(f"# {kind}: {told}\n")
    writer = csv.DictWriter(store, columns, lineterminator="\n")
    writer.writeheader()
    for part in form_parts(table, conditions):
        for row in part.rows[: len(part.rows) - BLANK_ROWS]:
            cells = dict(zip(part.columns, row, strict=True))
            writer.writerow({"kind": part.kind.id, **cells})
    return store.getvalue()
