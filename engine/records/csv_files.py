"""Practice as CSV: read with every fault by line and column, and written to be given away."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from datetime import date
from difflib import get_close_matches

from engine.errors import Fault, OutOfRangeError, RoutineFileError
from engine.records.values import MISSES, Practice

_MISSED = {f"missed_{kind}": kind for kind in MISSES}
COLUMNS: tuple[str, ...] = (
    "player", "routine", "step", "date", "attempts", "made", *_MISSED, "note",
)  # fmt: skip
_NEEDED = ("player", "routine", "date", "attempts", "made")
MOST_ROWS = 20_000


def parse_practice(text: str, name: str = "practice", player: str = "") -> tuple[Practice, ...]:
    """The lines in CSV text; `RoutineFileError` lists every fault with line and column.

    Commas or semicolons part the cells. With `player` the column of that name may be left out.
    Empty lines and lines that begin with # are left out.

    >>> parse_practice("routine,date,attempts,made\\nBlue,2026-03-01,10,6\\n", player="QZ")[0].made
    6
    """
    lines = [
        (number, line)
        for number, line in enumerate(text.lstrip("\ufeff").splitlines(), start=1)
        if line.strip() and not line.lstrip().startswith("#")
    ]
    if not lines:
        raise RoutineFileError(name, [Fault("the file", "is empty, wanted a head row and lines")])
    head_at, head = lines[0]
    parting = ";" if head.count(";") > head.count(",") else ","
    columns = [cell.strip() for cell in next(csv.reader([head], delimiter=parting))]
    faults = list(_head_faults(columns, head_at, bool(player)))
    if len(lines) - 1 > MOST_ROWS:
        faults.append(Fault("the file", f"has {len(lines) - 1} lines, wanted at most {MOST_ROWS}"))
    if faults:
        raise RoutineFileError(name, faults)
    found: list[Practice] = []
    for number, line in lines[1:]:
        one = _row(line, number, columns, parting, player, faults)
        if one is not None:
            found.append(one)
    if not found and not faults:
        faults.append(Fault("the file", "has a head row only, wanted one line a practice"))
    if faults:
        raise RoutineFileError(name, faults)
    return tuple(found)


def practice_csv(practice: Iterable[Practice]) -> str:
    """The lines as CSV text that `parse_practice` reads back."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    for one in practice:
        misses = [one.misses.get(kind, "") for kind in MISSES]
        writer.writerow(
            [one.player, one.routine, one.step, one.day.isoformat(), one.attempts, one.made,
             *misses, one.note]
        )  # fmt: skip
    return out.getvalue()


def _head_faults(columns: list[str], line: int, has_player: bool) -> Iterator[Fault]:
    where = f"line {line}, the head row"
    for index, column in enumerate(columns):
        if column not in COLUMNS:
            near = get_close_matches(column, COLUMNS, n=1)
            advice = f'; did you mean "{near[0]}"?' if near else ""
            wanted = f"wanted one of {', '.join(COLUMNS)}{advice}"
            yield Fault(where, f'has a column "{column}", {wanted}')
        elif column in columns[:index]:
            yield Fault(where, f'has the column "{column}" twice, wanted once')
    for column in _NEEDED:
        if column not in columns and not (column == "player" and has_player):
            yield Fault(where, f'has no column "{column}", wanted {", ".join(_NEEDED)}')


def _row(
    line: str, number: int, columns: list[str], parting: str, player: str, faults: list[Fault]
) -> Practice | None:
    try:
        cells = next(csv.reader([line], delimiter=parting, strict=True))
    except csv.Error as error:
        faults.append(Fault(f"line {number}", f"cannot be parted into cells: {error}"))
        return None
    if len(cells) > len(columns):
        wanted = f"has {len(cells)} cells, wanted {len(columns)} as in the head row"
        faults.append(Fault(f"line {number}", wanted))
        return None
    given = {name: cell.strip() for name, cell in zip(columns, cells, strict=False)}
    before = len(faults)
    counts: dict[str, int] = {}
    for column in ("step", "attempts", "made", *_MISSED):
        cell = given.get(column, "")
        if cell:
            value = _whole(cell)
            if value is None:
                where = f"line {number}, column {column}"
                faults.append(Fault(where, f'is "{cell}", wanted a whole number'))
            else:
                counts[column] = value
        elif column in ("attempts", "made"):
            faults.append(Fault(f"line {number}, column {column}", "is empty, wanted a number"))
    day = _day(given.get("date", ""), number, faults)
    if len(faults) > before or day is None:
        return None
    try:
        return Practice(
            given.get("player") or player, given.get("routine", ""), day, counts["attempts"],
            counts["made"], counts.get("step", 1),
            {kind: counts[column] for column, kind in _MISSED.items() if column in counts},
            given.get("note", ""),
        )  # fmt: skip
    except OutOfRangeError as error:
        column = error.what.removeprefix("missed ")
        column = f"missed_{column}" if column in MISSES else column
        where = f"line {number}, column {column}" if column in COLUMNS else f"line {number}"
        faults.append(Fault(where, f"is {error.got}, wanted {error.wanted}"))
    return None


def _whole(cell: str) -> int | None:
    try:
        return int(cell)
    except ValueError:
        return None


def _day(cell: str, number: int, faults: list[Fault]) -> date | None:
    try:
        return date.fromisoformat(cell)
    except ValueError:
        given = f'is "{cell}"' if cell else "is empty"
        wanted = "wanted a day as 2026-03-31 (year, month, day)"
        faults.append(Fault(f"line {number}, column date", f"{given}, {wanted}"))
        return None
