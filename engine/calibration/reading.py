"""Observation files: CSV with a head row, every fault told with its line and column.

With semicolons between the cells a decimal comma is understood.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from engine.calibration.kinds import COLUMNS, KINDS, WORDS, Kind, Observation
from engine.errors import short
from engine.routine.rules.breach import Names
from engine.storage.csv_rows import Head, Row, one_of, read_rows
from engine.storage.findings import Findings

MOST_ROWS = 500
_HEAD = Head(
    tuple(COLUMNS), ("kind",), "one row an observation", MOST_ROWS,
    f"columns of {', '.join(COLUMNS)}",
)  # fmt: skip
_KINDS = Names(KINDS)


def parse_observations(text: str, name: str = "observations") -> tuple[Observation, ...]:
    """The observations in CSV text; `RoutineFileError` lists every fault with line and column.

    >>> rows = parse_observations("kind,distance_mm,time_s\\nroll,1500,2.9\\n")
    >>> rows[0].kind, rows[0].number("time_s")
    ('roll', 2.9)
    """
    findings = Findings(name)
    found = [_observation(row, findings) for row in read_rows(text, _HEAD, findings)]
    findings.hold()
    return tuple(one for one in found if one is not None)


def _observation(row: Row, findings: Findings) -> Observation | None:
    """The observation in a row, None when there is a fault in it."""
    before = findings.count
    word = row.cells.get("kind", "")
    if word not in KINDS:
        told = f'is "{short(word)}"' if word else "is empty"
        findings.add(row.where("kind"), lambda: f"{told}, {one_of(word, _KINDS)}")
        return None
    values: dict[str, float | str] = {}
    for column, cell in row.cells.items():
        if column in WORDS:
            values[column] = cell
            continue
        value = _number(cell, row.comma)
        if value is None:
            findings.add(row.where(column), f'is "{short(cell)}", wanted {COLUMNS[column]}')
        else:
            values[column] = value
    values.pop("kind")
    for column, reason in _lacking(KINDS[word], row.cells):
        findings.add(row.where(column), reason)
    return Observation(word, values, row.line) if findings.count == before else None


def _number(cell: str, comma: bool) -> float | None:
    text = cell if comma else cell.replace(",", ".")
    try:
        value = float(text)
    except ValueError:
        return None
    return value if math.isfinite(value) else None


def _lacking(kind: Kind, given: Mapping[str, str]) -> Iterator[tuple[str, str]]:
    for column in kind.needs:
        if column not in given:
            yield column, f'is empty, wanted {COLUMNS[column]} for kind "{kind.id}"'
    if kind.either and not any(all(part in given for part in one) for one in kind.either):
        ways = " or ".join(" and ".join(one) for one in kind.either)
        yield kind.either[0][0], f'is empty, wanted {ways} for kind "{kind.id}"'
