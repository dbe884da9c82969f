"""Clusters of balls, and the pieces of paper that show them at full size.

A piece is placed by the distances of its corner from the two cushions its cluster lies nearest
to; they are whole centimetres, or whole inches, so that they are easily measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from designer.drawing.radii import radius_of
from engine.balls import Ball
from engine.routine.values import Routine
from engine.tables import Table
from engine.units import MM_PER_INCH, LengthUnit

#: Balls with no more than this between their near edges belong together, mm.
NEAR_MM = 75.0
#: Paper round the outermost balls, mm.
ROUND_MM = 8.0

GRID_MM = {"mm": 10.0, "inch": MM_PER_INCH}


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece: `row` and `column` from 1, and its box (x0, y0, x1, y1) on the table, mm.

    `corner_mm` is the corner to lay it by, `across_mm` and `along_mm` its distances from the
    cushions named by its strip.
    """

    row: int
    column: int
    box_mm: tuple[float, float, float, float]
    corner_mm: tuple[float, float]
    across_mm: float
    along_mm: float


@dataclass(frozen=True, slots=True)
class Strip:
    """The pieces of one cluster: its balls, the cushions they are laid from, rows and columns.

    A `turned` strip is printed a quarter turn clockwise: the top cushion lies to the right.
    """

    balls: tuple[Ball, ...]
    across: str
    along: str
    rows: int
    columns: int
    turned: bool
    pieces: tuple[Piece, ...]


def clusters(routine: Routine) -> list[tuple[Ball, ...]]:
    """Groups of two or more balls that stand near each other, in the routine's order.

    >>> balls = [Ball("a", "red", 500, 500), Ball("b", "red", 600, 500), Ball("c", "blue", 900, 9)]
    >>> [[ball.id for ball in group] for group in clusters(Routine(balls=tuple(balls)))]
    [['a', 'b']]
    """
    group = {ball.id: ball.id for ball in routine.balls}
    for index, one in enumerate(routine.balls):
        for other in routine.balls[index + 1 :]:
            free = math.dist(one.centre_mm, other.centre_mm)
            free -= radius_of(routine, one.id) + radius_of(routine, other.id)
            if free <= NEAR_MM:
                old, new = group[other.id], group[one.id]
                group = {key: new if value == old else value for key, value in group.items()}
    found: dict[str, list[Ball]] = {}
    for ball in routine.balls:
        found.setdefault(group[ball.id], []).append(ball)
    return [tuple(balls) for balls in found.values() if len(balls) > 1]


def strip_of(
    routine: Routine,
    table: Table,
    balls: tuple[Ball, ...],
    page_mm: tuple[float, float],
    unit: LengthUnit,
) -> Strip:
    """Cut a cluster into pieces no larger than `page_mm` (width, height), as few as can be.

    Pieces that would show no ball are left out.
    """
    radii = {ball.id: radius_of(routine, ball.id) for ball in balls}
    box = (
        min(ball.x_mm - radii[ball.id] for ball in balls) - ROUND_MM,
        min(ball.y_mm - radii[ball.id] for ball in balls) - ROUND_MM,
        max(ball.x_mm + radii[ball.id] for ball in balls) + ROUND_MM,
        max(ball.y_mm + radii[ball.id] for ball in balls) + ROUND_MM,
    )
    across = "left" if box[0] + box[2] <= table.width_mm else "right"
    along = "bottom" if box[1] + box[3] <= table.length_mm else "top"
    grid = GRID_MM[unit]
    spans = (
        _from_cushion(box[0], box[2], table.width_mm, across == "right", grid),
        _from_cushion(box[1], box[3], table.length_mm, along == "top", grid),
    )
    rings = _rings(table, balls, radii, across == "right", along == "top")
    tries = []
    for turned in (False, True):
        wide, high = page_mm[::-1] if turned else page_mm
        cuts = (_cuts(spans[0], wide, grid, rings[0]), _cuts(spans[1], high, grid, rings[1]))
        tries.append(((len(cuts[0]) - 1) * (len(cuts[1]) - 1), turned, cuts))
    _, turned, (xs, ys) = min(tries, key=lambda each: each[:2])
    whole = [
        _piece(table, across, along, (row, column), (xs[column], xs[column + 1]),
               (ys[row], ys[row + 1]))
        for row in range(len(ys) - 1) for column in range(len(xs) - 1)
    ]  # fmt: skip
    # Each piece is laid by its own corner, so those that would be empty are not needed.
    pieces = tuple(
        piece for piece in whole if any(shows(piece, ball, radii[ball.id]) for ball in balls)
    )
    return Strip(balls, across, along, len(ys) - 1, len(xs) - 1, turned, pieces)


def shows(piece: Piece, ball: Ball, radius_mm: float) -> bool:
    """Whether some of a ball's ring lies on a piece."""
    x0, y0, x1, y1 = piece.box_mm
    dx = max(x0 - ball.x_mm, 0.0, ball.x_mm - x1)
    dy = max(y0 - ball.y_mm, 0.0, ball.y_mm - y1)
    return math.hypot(dx, dy) < radius_mm


def _from_cushion(
    low: float, high: float, size: float, far: bool, grid: float
) -> tuple[float, float]:
    """From where to where, in distances from the nearer cushion, on the grid and on the bed."""
    if far:
        low, high = size - high, size - low
    start = max(0.0, math.floor(low / grid) * grid)
    return start, min(math.ceil(high / grid) * grid, size)


def _rings(
    table: Table, balls: tuple[Ball, ...], radii: dict[str, float], right: bool, top: bool
) -> tuple[list[tuple[float, float]], list[tuple[float, float]]]:
    """How far each ring's middle lies from the nearer cushions, and its radius, both ways."""
    across = [(table.width_mm - b.x_mm if right else b.x_mm, radii[b.id]) for b in balls]
    along = [(table.length_mm - b.y_mm if top else b.y_mm, radii[b.id]) for b in balls]
    return across, along


def _cuts(
    span: tuple[float, float], most: float, grid: float, rings: list[tuple[float, float]]
) -> list[float]:
    """Where a span is cut on the grid, into as few pieces as can be, none longer than `most`.

    A cut goes through as few rings as it can, else where the pieces are most even.
    """
    start, end = span
    longest = max(grid, math.floor(most / grid + 1e-9) * grid)
    count = max(1, math.ceil((end - start) / longest - 1e-9))
    cuts = [start]
    for left in range(count - 1, 0, -1):
        low = max(end - left * longest, cuts[-1] + grid)
        steps = range(
            math.ceil(low / grid - 1e-9), math.floor((cuts[-1] + longest) / grid + 1e-9) + 1
        )
        even = cuts[-1] + (end - cuts[-1]) / (left + 1)
        options = [step * grid for step in steps if step * grid < end - 1e-9]
        cuts.append(
            min(
                options,
                key=lambda at: (
                    sum(abs(at - middle) < radius for middle, radius in rings),
                    abs(at - even),
                ),
            )
        )
    return [*cuts, end]


def _piece(
    table: Table,
    across: str,
    along: str,
    place: tuple[int, int],
    xs: tuple[float, float],
    ys: tuple[float, float],
) -> Piece:
    x0, x1 = xs if across == "left" else (table.width_mm - xs[1], table.width_mm - xs[0])
    y0, y1 = ys if along == "bottom" else (table.length_mm - ys[1], table.length_mm - ys[0])
    corner = (x0 if across == "left" else x1, y0 if along == "bottom" else y1)
    return Piece(place[0] + 1, place[1] + 1, (x0, y0, x1, y1), corner, xs[0], ys[0])
