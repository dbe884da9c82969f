"""Rows of CSV text by the names in its head row, with every fault told by line and column.

Commas or semicolons part the cells. Empty lines and lines that begin with # are left out. No cell
holds the end of a line: a quote that was never closed spoils its own line alone.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from engine.errors import Fault, RoutineFileError, short
from engine.routine.rules.breach import Names
from engine.storage.findings import Findings
from engine.storage.paths import FILE

#: Line ends of files as systems write them. Others (U+2028, say) are letters of a text.
_LINE_END = re.compile(r"\r\n|\r|\n")
#: A spreadsheet takes a cell that begins so for a formula, or strips it (OWASP, "CSV Injection",
#: with its full-width forms); and # begins a remark here.
_LIVE = tuple("=+-@\t\r\n＝＋－＠#")


@dataclass(frozen=True, slots=True)
class Head:
    """The columns a file may have, those it must have, what it holds, and its most rows.

    `wanted` names the columns a file lacks one of.
    """

    columns: tuple[str, ...]
    needed: tuple[str, ...]
    row_of: str
    most_rows: int
    wanted: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its line in the file, and the cells that are not empty by column.

    `comma` tells that commas part the cells, so that none stands in a number.
    """

    line: int
    cells: dict[str, str]
    comma: bool

    def where(self, column: str) -> str:
        """The place of a cell, for messages."""
        return f"line {self.line}, column {column}"


def read_rows(text: str, head: Head, findings: Findings) -> Iterator[Row]:
    """The rows one after the other; what cannot be parted into cells is added to `findings`.

    `RoutineFileError` before the first when the head row is at fault, or there are too many rows.
    """
    lines = list(_lines(text))
    if not lines:
        raise _refused(findings, f"is empty, wanted a head row and {head.row_of}")
    comma = lines[0][1].count(";") <= lines[0][1].count(",")
    columns = _columns(lines[0], comma, head, findings)
    if len(lines) - 1 > head.most_rows:
        raise _refused(findings, f"has {len(lines) - 1} rows, wanted at most {head.most_rows}")
    if len(lines) == 1:
        raise _refused(findings, f"has a head row only, wanted {head.row_of}")
    for number, line in lines[1:]:
        cells = _cells(number, line, comma, findings)
        if any(cell.strip() for cell in cells[len(columns) :]):
            wanted = f"has {len(cells)} cells, wanted {len(columns)} as in the head row"
            findings.add(f"line {number}", wanted)
        elif cells:
            given = {name: plain_text(cell) for name, cell in zip(columns, cells, strict=False)}
            yield Row(number, {name: cell for name, cell in given.items() if cell}, comma)


def safe_cell(text: str) -> str:
    """A text as a cell that no spreadsheet runs; `plain_text` gives the text back.

    As OWASP advises ("CSV Injection"), an apostrophe stands before what would be run. It also
    guards what would be lost: blanks at an end, and a # that begins the line.

    >>> safe_cell("=1+1"), safe_cell("'=1+1"), safe_cell("'t Hooft")
    ("'=1+1", "''=1+1", "'t Hooft")
    """
    return f"'{text}" if _needs_guard(text) else text


def plain_text(cell: str) -> str:
    """The text in a cell: without the apostrophe of `safe_cell`, without blanks at its ends.

    >>> plain_text("'=1+1"), plain_text("=1+1"), plain_text(" 't Hooft ")
    ('=1+1', '=1+1', "'t Hooft")
    """
    return cell[1:] if cell.startswith("'") and _needs_guard(cell[1:]) else cell.strip()


def _needs_guard(text: str) -> bool:
    bare = text.lstrip("'")
    return bare != bare.strip() or bare.startswith(_LIVE)


def _lines(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(_LINE_END.split(text.removeprefix("\ufeff")), start=1):
        stripped = line.strip()
        if stripped and not stripped.startswith("#") and stripped.strip(",; \t"):
            yield number, line


def _columns(first: tuple[int, str], comma: bool, head: Head, findings: Findings) -> list[str]:
    """The names in the head row; `RoutineFileError` when there is a fault in it."""
    where = f"line {first[0]}, the head row"
    columns = [cell.strip() for cell in _cells(*first, comma, findings)]
    known, seen = Names(head.columns), set[str]()
    for index, column in enumerate(columns):
        if not column:
            findings.add(where, f"has no name over column {index + 1}")
        elif column not in known:
            _add_unknown(column, known, where, findings)
        elif column in seen:
            findings.add(where, f'has the column "{column}" twice, wanted once')
        seen.add(column)
    for column in head.needed:
        if column not in seen:
            findings.add(where, f'has no column "{column}", wanted {head.wanted}')
    findings.hold()
    return columns


def _add_unknown(column: str, known: Names, where: str, findings: Findings) -> None:
    told = f'has a column "{short(column)}"'
    findings.add(where, lambda: f"{told}, {one_of(column, known)}")


def one_of(given: str, known: Names) -> str:
    """What is wanted in place of a word that is not known, and the one that was probably meant."""
    near = known.near(given)
    advice = f'; did you mean "{near}"?' if near else ""
    return f"wanted one of {known.listed}{advice}"


def _cells(number: int, line: str, comma: bool, findings: Findings) -> Sequence[str]:
    try:
        return next(csv.reader([line], delimiter="," if comma else ";", strict=True), [])
    except csv.Error as error:
        findings.add(f"line {number}", f"cannot be parted into cells: {error}")
        return []


def _refused(findings: Findings, why: str) -> RoutineFileError:
    return RoutineFileError(findings.name, [Fault(FILE, why)])
