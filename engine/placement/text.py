"""The placement table as plain text, aligned in columns."""

from __future__ import annotations

from engine.answers.values import BallPlacement
from engine.placement.readings import placements
from engine.routine.context import table_of
from engine.routine.values import Routine
from engine.units import LengthUnit, length_text

_HEAD = ("ball", "mark", "from cushion", "centre", "edge", "from cushion", "centre", "edge", "spot")
#: Columns of figures, set to the right.
_FIGURES = (3, 4, 6, 7)


def placement_text(routine: Routine, unit: LengthUnit = "mm") -> str:
    """The table of placements in whole millimetres, or inches to the nearest 1/16.

    Lines: title, what is measured, a blank line, the heads, one line a ball. No line end after
    the last.
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
    if not rows:
        return "\n".join([*lines, "No balls placed yet."])
    table = [_HEAD, *rows]
    widths = [max(len(row[column]) for row in table) for column in range(len(_HEAD))]
    return "\n".join(lines + [_line(row, widths) for row in table])


def _row(placement: BallPlacement, unit: LengthUnit) -> tuple[str, ...]:
    cells = [placement.ball, placement.letter]
    for reading in (placement.across, placement.along):
        cells += [
            reading.cushion,
            length_text(reading.centre_mm, unit),
            length_text(reading.edge_mm, unit),
        ]
    return (*cells, f"{placement.spot} spot" if placement.spot else "")


def _line(cells: tuple[str, ...], widths: list[int]) -> str:
    parts = [
        cell.rjust(width) if column in _FIGURES else cell.ljust(width)
        for column, (cell, width) in enumerate(zip(cells, widths, strict=True))
    ]
    return "  ".join(parts).rstrip()
