"""Pockets and cushion faces worked out from a table's measured numbers.

A jaw is an arc of radius r tangent to the cushion face, its centre r behind the face. A corner
pocket's arcs touch the two faces at the same distance a from the corner, so that the opening
is W = sqrt(2)·(a + r) − 2r; a middle pocket's arcs touch the face at b = W/2 + r either side of
the middle. Behind the jaws lies the fall, a circle of radius W/2.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from engine.tables.model import Face, Pocket

Span = tuple[float, float]


@dataclass(frozen=True, slots=True)
class PocketShape:
    """The numbers that shape one pocket, millimetres.

    `fall_mm` is, for a corner, how far the centre of the fall lies behind the narrowest place;
    for a middle pocket, how far the edge of the fall lies behind the line of the cushion face.
    """

    opening_mm: float
    jaw_radius_mm: float
    fall_mm: float


def corner_reach_mm(shape: PocketShape) -> float:
    """How far from the corner a straight face begins, along either cushion.

    >>> round(corner_reach_mm(PocketShape(88.9, 60.0, 30.0)), 3)
    87.715
    """
    return (shape.opening_mm + 2 * shape.jaw_radius_mm) / math.sqrt(2) - shape.jaw_radius_mm


def middle_reach_mm(shape: PocketShape) -> float:
    """How far from the middle of a long cushion its straight face begins.

    >>> middle_reach_mm(PocketShape(104.0, 60.0, 8.0))
    112.0
    """
    return shape.opening_mm / 2 + shape.jaw_radius_mm


def corner_pocket(
    pocket_id: str, title: str, corner_mm: tuple[float, float], shape: PocketShape
) -> Pocket:
    """The pocket at a corner of the bed; its first jaw is the long cushion's, its second the end's.

    `corner_mm` is where the two faces' lines meet; a corner at 0 opens towards +, else towards −.
    """
    x, y = corner_mm
    into_x, into_y = (1.0 if x == 0 else -1.0), (1.0 if y == 0 else -1.0)
    reach, radius = corner_reach_mm(shape), shape.jaw_radius_mm
    jaws = (
        (x - into_x * radius, y + into_y * reach),
        (x + into_x * reach, y - into_y * radius),
    )
    throat = (reach - radius) / 2
    step = throat - shape.fall_mm / math.sqrt(2)
    fall = (x + into_x * step, y + into_y * step)
    return Pocket(
        pocket_id, title, shape.opening_mm, jaws, radius, fall, shape.opening_mm / 2
    )  # fmt: skip


def middle_pocket(
    pocket_id: str, title: str, middle_mm: tuple[float, float], shape: PocketShape
) -> Pocket:
    """The pocket in the middle of a long cushion; its first jaw is the one nearer baulk."""
    x, y = middle_mm
    into = 1.0 if x == 0 else -1.0
    reach, radius = middle_reach_mm(shape), shape.jaw_radius_mm
    jaws = ((x - into * radius, y - reach), (x - into * radius, y + reach))
    fall_radius = shape.opening_mm / 2
    fall = (x - into * (shape.fall_mm + fall_radius), y)
    return Pocket(pocket_id, title, shape.opening_mm, jaws, radius, fall, fall_radius)


def faces(width_mm: float, length_mm: float, pockets: Iterable[Pocket]) -> tuple[Face, ...]:
    """The straight stretches of cushion face left between the jaws, seen going up or right.

    Order: left, right (each from baulk), bottom, top. A table without pockets has four.
    """
    known = tuple(pockets)
    found: list[Face] = []
    for name, x in (("left", 0.0), ("right", width_mm)):
        cuts = [_cut(1, pocket, length_mm) for pocket in known if _beside(pocket, 0, x)]
        found += [Face(name, (x, a), (x, b)) for a, b in _left_over(length_mm, cuts)]
    for name, y in (("bottom", 0.0), ("top", length_mm)):
        cuts = [_cut(0, pocket, width_mm) for pocket in known if _beside(pocket, 1, y)]
        found += [Face(name, (a, y), (b, y)) for a, b in _left_over(width_mm, cuts)]
    return tuple(found)


def _beside(pocket: Pocket, axis: int, line_mm: float) -> bool:
    """Whether one of the pocket's jaws continues the face along that line."""
    return any(
        math.isclose(abs(jaw[axis] - line_mm), pocket.jaw_radius_mm) for jaw in pocket.jaws_mm
    )


def _cut(axis: int, pocket: Pocket, size_mm: float) -> Span:
    """The span a pocket takes out of a face that runs along `axis` from 0 to `size_mm`."""
    low, high = sorted(jaw[axis] for jaw in pocket.jaws_mm)
    if low < 0:
        return (0.0, high)
    return (low, size_mm) if high > size_mm else (low, high)


def _left_over(size_mm: float, cuts: list[Span]) -> list[Span]:
    spans, start = [], 0.0
    for low, high in sorted(cuts):
        if low > start:
            spans.append((start, low))
        start = max(start, high)
    if start < size_mm:
        spans.append((start, size_mm))
    return spans
