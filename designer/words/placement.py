"""The placement table as plain text, aligned in columns."""

from __future__ import annotations

from designer.texts import mark, tr
from designer.words.figures import length
from designer.words.names import MARK_NAMES, cushion_side, spot_name
from engine.placement import MarkPlacement, mark_placements, placements
from engine.results import BallPlacement
from engine.routine.context import table_of
from engine.routine.values import Routine
from engine.units import LengthUnit

_READ = (mark("from cushion"), mark("centre"), mark("edge"))
_HEAD = (mark("ball"), mark("mark"), *_READ, *_READ, mark("spot"))
#: Columns of figures, set to the right.
_FIGURES = (3, 4, 6, 7)
_MARK_READ = (mark("from cushion"), mark("place"))
_MARK_HEAD = (mark("cloth mark"), *_MARK_READ, *_MARK_READ, mark("note"))
_MARK_FIGURES = (2, 4)
CARE_OF_MARKS = mark(
    "Cloth marks: chalk or removable marks only, with the club’s permission; nothing adhesive."
)


def placement_text(routine: Routine, unit: LengthUnit = "mm") -> str:
    """The table of placements in whole millimetres, or inches to the nearest 1/16.

    Lines: title, what is measured, a blank line, the heads, one line a ball; then the cloth marks,
    if there are any. No line end after the last.
    """
    told = tr("whole millimetres")
    if unit == "inch":
        told = tr("inches to the nearest 1/16")
    how = tr(
        "{table}; from the cushion face to the ball’s centre and to its near edge, in {unit}; left "
        "and right as seen from baulk.",
        table=tr(table_of(routine).title),
        unit=told,
    )
    lines = [routine.title or tr("Routine without a title"), how, ""]
    rows = [_row(placement, unit) for placement in placements(routine)]
    lines += _table([_HEAD, *rows], _FIGURES) if rows else [tr("No balls placed yet.")]
    marks = [_mark_row(placement, unit) for placement in mark_placements(routine)]
    if marks:
        lines += ["", tr(CARE_OF_MARKS), "", *_table([_MARK_HEAD, *marks], _MARK_FIGURES)]
    return "\n".join(lines)


def _table(rows: list[tuple[str, ...]], figures: tuple[int, ...]) -> list[str]:
    """Rows as lines under their heads, aligned in columns, those of figures to the right."""
    rows = [tuple(map(tr, rows[0])), *rows[1:]]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    return [_line(row, widths, figures) for row in rows]


def _mark_row(placement: MarkPlacement, unit: LengthUnit) -> tuple[str, ...]:
    end = {1: tr("from"), 2: tr("to")}.get(placement.end, "") if placement.kind == "line" else ""
    name = f"{placement.number} {tr(MARK_NAMES[placement.kind])} {end}".strip()
    cells = [name]
    for reading in (placement.across, placement.along):
        cells += [cushion_side(reading.cushion), length(reading.centre_mm, unit)]
    return (*cells, placement.note if placement.end == 1 else "")


def _row(placement: BallPlacement, unit: LengthUnit) -> tuple[str, ...]:
    cells = [placement.ball, placement.letter]
    for reading in (placement.across, placement.along):
        cells += [
            cushion_side(reading.cushion),
            length(reading.centre_mm, unit),
            length(reading.edge_mm, unit),
        ]
    return (*cells, spot_name(placement.spot) if placement.spot else "")


def _line(cells: tuple[str, ...], widths: list[int], figures: tuple[int, ...]) -> str:
    parts = [
        cell.rjust(width) if column in figures else cell.ljust(width)
        for column, (cell, width) in enumerate(zip(cells, widths, strict=True))
    ]
    return "  ".join(parts).rstrip()
