"""Observation files: CSV with a head row, every fault told with its line and column.

Commas or semicolons part the cells; with semicolons a decimal comma is understood. Empty lines
and lines that begin with # are left out.
"""

from __future__ import annotations

import csv
import math
from collections.abc import Iterator, Mapping
from difflib import get_close_matches

from engine.calibration.kinds import COLUMNS, KINDS, WORDS, Kind, Observation
from engine.errors import Fault, RoutineFileError

MOST_ROWS = 500


def parse_observations(text: str, name: str = "observations") -> tuple[Observation, ...]:
    """The observations in CSV text; `RoutineFileError` lists every fault with line and column.

    >>> rows = parse_observations("kind,distance_mm,time_s\\nroll,1500,2.9\\n")
    >>> rows[0].kind, rows[0].number("time_s")
    ('roll', 2.9)
    """
    lines = list(_lines(text))
    if not lines:
        raise RoutineFileError(
            name, [Fault("the file", "is empty, wanted a head row and one row an observation")]
        )
    number, head = lines[0]
    parting = ";" if head.count(";") > head.count(",") else ","
    columns = [cell.strip() for cell in next(csv.reader([head], delimiter=parting))]
    faults = list(_head_faults(columns, number))
    if faults:
        raise RoutineFileError(name, faults)
    if len(lines) - 1 > MOST_ROWS:
        wanted = f"has {len(lines) - 1} rows, wanted at most {MOST_ROWS}"
        raise RoutineFileError(name, [Fault("the file", wanted)])
    found: list[Observation] = []
    for number, line in lines[1:]:
        try:
            cells = next(csv.reader([line], delimiter=parting, strict=True))
        except csv.Error as error:
            faults.append(Fault(f"line {number}", f"cannot be parted into cells: {error}"))
            continue
        row = _row(columns, cells, number, parting, faults)
        if row is not None:
            found.append(row)
    if not found and not faults:
        faults = [Fault("the file", "has a head row only, wanted one row an observation")]
    if faults:
        raise RoutineFileError(name, faults)
    return tuple(found)


def _lines(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1):
        stripped = line.strip()
        if stripped and not stripped.startswith("#") and stripped.strip(",; \t"):
            yield number, line


def _head_faults(columns: list[str], line: int) -> Iterator[Fault]:
    where = f"line {line}, the head row"
    if "kind" not in columns:
        yield Fault(where, f'has no column "kind", wanted columns of {", ".join(COLUMNS)}')
        return
    for index, column in enumerate(columns):
        if not column:
            yield Fault(where, f"has no name over column {index + 1}")
        elif column not in COLUMNS:
            yield Fault(where, f'has a column "{column}", {_near(column, tuple(COLUMNS))}')
        elif column in columns[:index]:
            yield Fault(where, f'has the column "{column}" twice, wanted once')


def _near(given: str, known: tuple[str, ...]) -> str:
    near = get_close_matches(given, known, n=1)
    advice = f'; did you mean "{near[0]}"?' if near else ""
    return f"wanted one of {', '.join(known)}{advice}"


def _row(
    columns: list[str], cells: list[str], line: int, parting: str, faults: list[Fault]
) -> Observation | None:
    if len(cells) > len(columns) and any(cell.strip() for cell in cells[len(columns) :]):
        wanted = f"has {len(cells)} cells, wanted {len(columns)} as in the head row"
        faults.append(Fault(f"line {line}", wanted))
        return None
    given = {
        column: cell.strip() for column, cell in zip(columns, cells, strict=False) if cell.strip()
    }
    word = given.get("kind", "")
    if word not in KINDS:
        told = f'is "{word}", ' if word else "is empty, "
        faults.append(Fault(f"line {line}, column kind", told + _near(word, tuple(KINDS))))
        return None
    before = len(faults)
    values: dict[str, float | str] = {}
    for column, cell in given.items():
        if column == "kind":
            continue
        if column in WORDS:
            values[column] = cell
            continue
        value = _number(cell, parting)
        if value is None:
            wanted = f'is "{cell}", wanted {COLUMNS[column]}'
            faults.append(Fault(f"line {line}, column {column}", wanted))
        else:
            values[column] = value
    for column, reason in _lacking(KINDS[word], given):
        faults.append(Fault(f"line {line}, column {column}", reason))
    return Observation(word, values, line) if len(faults) == before else None


def _number(cell: str, parting: str) -> float | None:
    text = cell.replace(",", ".") if parting == ";" else cell
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
