"""Practice as CSV: read with every fault by line and column, and written to be given away."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from datetime import date

from engine.errors import OutOfRangeError, short
from engine.records.values import MISSES, Practice
from engine.storage.csv_rows import Head, Row, read_rows, safe_cell
from engine.storage.findings import Findings

_MISSED = {f"missed_{kind}": kind for kind in MISSES}
COLUMNS: tuple[str, ...] = (
    "player", "routine", "step", "date", "attempts", "made", *_MISSED, "note",
)  # fmt: skip
_NEEDED = ("player", "routine", "date", "attempts", "made")
MOST_ROWS = 20_000


def parse_practice(text: str, name: str = "practice", player: str = "") -> tuple[Practice, ...]:
    """The lines in CSV text; `RoutineFileError` lists every fault with line and column.

    With `player` the column of that name may be left out. A formula is the text it is written as.

    >>> parse_practice("routine,date,attempts,made\\nBlue,2026-03-01,10,6\\n", player="QZ")[0].made
    6
    """
    needed = _NEEDED[1:] if player else _NEEDED
    head = Head(COLUMNS, needed, "one row a practice", MOST_ROWS, ", ".join(_NEEDED))
    findings = Findings(name)
    found = [_practice(row, player, findings) for row in read_rows(text, head, findings)]
    findings.hold()
    return tuple(one for one in found if one is not None)


def practice_csv(practice: Iterable[Practice]) -> str:
    """The lines as CSV text that `parse_practice` reads back, and that no spreadsheet runs."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for one in practice:
        misses = [one.misses.get(kind, "") for kind in MISSES]
        writer.writerow(
            [safe_cell(one.player), safe_cell(one.routine), one.step, one.day.isoformat(),
             one.attempts, one.made, *misses, safe_cell(one.note)]
        )  # fmt: skip
    return out.getvalue()


def _practice(row: Row, player: str, findings: Findings) -> Practice | None:
    """The practice in a row, None when there is a fault in it."""
    before = findings.count
    counts: dict[str, int] = {}
    for column in ("step", "attempts", "made", *_MISSED):
        cell = row.cells.get(column, "")
        if cell:
            value = _whole(cell)
            if value is None:
                findings.add(row.where(column), f'is "{short(cell)}", wanted a whole number')
            else:
                counts[column] = value
        elif column in ("attempts", "made"):
            findings.add(row.where(column), "is empty, wanted a number")
    day = _day(row, findings)
    if findings.count > before or day is None:
        return None
    try:
        return Practice(
            row.cells.get("player") or player, row.cells.get("routine", ""), day,
            counts["attempts"], counts["made"], counts.get("step", 1),
            {kind: counts[column] for column, kind in _MISSED.items() if column in counts},
            row.cells.get("note", ""),
        )  # fmt: skip
    except OutOfRangeError as error:
        column = error.what.removeprefix("missed ")
        column = f"missed_{column}" if column in MISSES else column
        where = row.where(column) if column in COLUMNS else f"line {row.line}"
        findings.add(where, f"is {error.got}, wanted {error.wanted}")
    return None


def _whole(cell: str) -> int | None:
    try:
        return int(cell)
    except ValueError:
        return None


def _day(row: Row, findings: Findings) -> date | None:
    cell = row.cells.get("date", "")
    try:
        return date.fromisoformat(cell)
    except ValueError:
        given = f'is "{short(cell)}"' if cell else "is empty"
        findings.add(row.where("date"), f"{given}, wanted a day as 2026-03-31 (year, month, day)")
        return None
