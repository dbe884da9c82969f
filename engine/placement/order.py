"""In which order to set the balls, so that no ball already standing is in the tape's way."""

from __future__ import annotations

from engine.balls import Ball
from engine.placement.readings import placements
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine
from engine.tables.model import Table

Box = tuple[float, float, float, float]

#: Half the width of the strip a tape needs beside a ball's centre line.
TAPE_MM = 15.0


def set_up_order(routine: Routine) -> tuple[str, ...]:
    """Ball ids in the order to set them.

    A ball whose tape would run over another's place is set before it. As far as that leaves
    free: balls on spots first (they need no tape), then from baulk up the table, the cue ball
    last. That order is common practice, no source.

    >>> cue, near = Ball("cue", "cue", 300, 800), Ball("r", "red", 120, 800)
    >>> set_up_order(Routine(balls=(cue, near, Ball("b", "blue", 889, 1784.5))))
    ('b', 'cue', 'r')
    """
    table, conditions = table_of(routine), conditions_of(routine)
    on_spot = {found.ball: bool(found.spot) for found in placements(routine)}
    left = sorted(
        routine.balls, key=lambda b: (b.is_cue, not on_spot[b.id], round(b.y_mm), b.x_mm, b.id)
    )
    needed = {ball.id: _tapes(ball, table) for ball in left if not on_spot[ball.id]}
    order: list[str] = []
    while left:
        free = next(
            (ball for ball in left if not _waits(ball, left, needed, conditions.radius_of(ball))),
            left[0],
        )
        order.append(free.id)
        left.remove(free)
    return tuple(order)


def _waits(ball: Ball, left: list[Ball], needed: dict[str, list[Box]], radius_mm: float) -> bool:
    """Whether a ball yet to be measured has its tape over this one's place."""
    x, y = ball.centre_mm
    for other in left:
        if other.id == ball.id:
            continue
        for x0, y0, x1, y1 in needed.get(other.id, ()):
            dx, dy = max(x0 - x, 0.0, x - x1), max(y0 - y, 0.0, y - y1)
            if dx * dx + dy * dy < radius_mm * radius_mm:
                return True
    return False


def _tapes(ball: Ball, table: Table) -> list[Box]:
    """The strips a ball's two tapes lie on, from the nearer cushion faces to its centre."""
    x, y = ball.centre_mm
    across = (0.0, x) if x <= table.width_mm - x else (x, table.width_mm)
    along = (0.0, y) if y <= table.length_mm - y else (y, table.length_mm)
    return [
        (across[0], y - TAPE_MM, across[1], y + TAPE_MM),
        (x - TAPE_MM, along[0], x + TAPE_MM, along[1]),
    ]
