"""The placement table as plain text, aligned in columns."""

from __future__ import annotations

from engine.placement.readings import MarkPlacement, mark_placements, placements
from engine.results import BallPlacement
from engine.routine.context import table_of
from engine.routine.values import Routine
from engine.units import LengthUnit, length_text

_HEAD = ("ball", "mark", "from cushion", "centre", "edge", "from cushion", "centre", "edge", "spot")
#: Columns of figures, set to the right.
_FIGURES = (3, 4, 6, 7)
_MARK_HEAD = ("cloth mark", "from cushion", "place", "from cushion", "place", "note")
_MARK_FIGURES = (2, 4)
CARE_OF_MARKS = (
    "Cloth marks: chalk or removable marks only, with the club's permission; nothing adhesive."
)


def placement_text(routine: Routine, unit: LengthUnit = "mm") -> str:
    """The table of placements in whole millimetres, or inches to the nearest 1/16.

    Lines: title, what is measured, a blank line, the heads, one line a ball; then the cloth marks,
    if there are any. No line end after the last.
    """
    title = routine.title or "Routine without a title"
    told = "inches to the nearest 1/16" if unit == "inch" else "whole millimetres"
    lines = [
        title,
        f"{table_of(routine).title}; from the cushion face to the ball's centre and to its "
        f"near edge, in {told}; left and right as seen from baulk.",
        "",
    ]
    rows = [_row(placement, unit) for placement in placements(routine)]
    lines += _table([_HEAD, *rows], _FIGURES) if rows else ["No balls placed yet."]
    marks = [_mark_row(placement, unit) for placement in mark_placements(routine)]
    if marks:
        lines += ["", CARE_OF_MARKS, "", *_table([_MARK_HEAD, *marks], _MARK_FIGURES)]
    return "\n".join(lines)


def _table(rows: list[tuple[str, ...]], figures: tuple[int, ...]) -> list[str]:
    """Rows as lines, aligned in columns, those of figures to the right."""
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [_line(row, widths, figures) for row in rows]


def _mark_row(placement: MarkPlacement, unit: LengthUnit) -> tuple[str, ...]:
    end = {("line", 1): "from", ("line", 2): "to"}.get((placement.kind, placement.end), "")
    name = f"{placement.number} {placement.kind} {end}".strip()
    cells = [name]
    for reading in (placement.across, placement.along):
        cells += [reading.cushion, length_text(reading.centre_mm, unit)]
    return (*cells, placement.note if placement.end == 1 else "")


def _row(placement: BallPlacement, unit: LengthUnit) -> tuple[str, ...]:
    cells = [placement.ball, placement.letter]
    for reading in (placement.across, placement.along):
        cells += [
            reading.cushion,
            length_text(reading.centre_mm, unit),
            length_text(reading.edge_mm, unit),
        ]
    return (*cells, f"{placement.spot} spot" if placement.spot else "")


def _line(cells: tuple[str, ...], widths: list[int], figures: tuple[int, ...]) -> str:
    parts = [
        cell.rjust(width) if column in figures else cell.ljust(width)
        for column, (cell, width) in enumerate(zip(cells, widths, strict=True))
    ]
    return "  ".join(parts).rstrip()
