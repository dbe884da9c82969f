"""Pockets and cushion faces worked out from a table's measured numbers.

A jaw is an arc of radius r tangent to the cushion face, its centre r behind the face. A corner
pocket's arcs touch the two faces at the same distance a from the corner, so that the opening
is W = sqrt(2)·(a + r) − 2r; a middle pocket's arcs touch the face at b = W/2 + r either side of
the middle. Behind the jaws lies the fall, a circle of radius W/2.

A straight-cut pocket is measured from nose tip to nose tip, a tip being where the lines of face
and facing meet. Its tips are rounded by a small arc tangent to both, and the facings run straight
back from there at the cut angle (180 degrees would carry the face straight on).
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from engine.tables.model import Face, Facing, Pocket

Span = tuple[float, float]
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class PocketShape:
    """The numbers that shape one pocket, millimetres.

    `fall_mm` is, for a corner, how far the centre of the fall lies behind the narrowest place;
    for a middle pocket, how far the edge of the fall lies behind the line of the cushion face.
    With `cut_deg`, the angle between face and facing, the jaws are straight and `facing_mm` long,
    the opening is the mouth between the nose tips, and `fall_mm` is, for a corner too, how far the
    edge of the fall lies behind the mouth.
    """

    opening_mm: float
    jaw_radius_mm: float
    fall_mm: float
    cut_deg: float | None = None
    facing_mm: float = 0.0

    @property
    def turn_rad(self) -> float:
        """How far a facing turns off its cushion face."""
        return math.pi - math.radians(self.cut_deg or 180.0)

    @property
    def tip_mm(self) -> float:
        """From a nose tip to where its rounding meets the face."""
        return self.jaw_radius_mm * math.tan(self.turn_rad / 2.0)


def corner_reach_mm(shape: PocketShape) -> float:
    """How far from the corner a straight face begins, along either cushion.

    >>> round(corner_reach_mm(PocketShape(88.9, 60.0, 30.0)), 3)
    87.715
    """
    if shape.cut_deg is not None:
        return shape.opening_mm / math.sqrt(2) + shape.tip_mm
    return (shape.opening_mm + 2 * shape.jaw_radius_mm) / math.sqrt(2) - shape.jaw_radius_mm


def middle_reach_mm(shape: PocketShape) -> float:
    """How far from the middle of a long cushion its straight face begins.

    >>> middle_reach_mm(PocketShape(104.0, 60.0, 8.0))
    112.0
    """
    if shape.cut_deg is not None:
        return shape.opening_mm / 2 + shape.tip_mm
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
    if shape.cut_deg is None:
        throat, back = (reach - radius) / 2, shape.fall_mm
    else:
        throat = shape.opening_mm / math.sqrt(2) / 2
        back = shape.fall_mm + shape.opening_mm / 2
    step = throat - back / math.sqrt(2)
    fall = (x + into_x * step, y + into_y * step)
    facings = _facings(
        shape,
        (jaws[0], (into_x, 0.0), (0.0, -into_y)),
        (jaws[1], (0.0, into_y), (-into_x, 0.0)),
    )
    return Pocket(
        pocket_id, title, shape.opening_mm, jaws, radius, fall, shape.opening_mm / 2, facings
    )


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
    facings = _facings(
        shape, (jaws[0], (into, 0.0), (0.0, 1.0)), (jaws[1], (into, 0.0), (0.0, -1.0))
    )
    return Pocket(pocket_id, title, shape.opening_mm, jaws, radius, fall, fall_radius, facings)


def _facings(shape: PocketShape, *jaws: tuple[Point, Point, Point]) -> tuple[Facing, ...]:
    """The straight jaws: each from its arc's centre, the way off the face, and along to the pocket.

    Turning the face's line by the cut carries it along the arc and then straight back.
    """
    if shape.cut_deg is None:
        return ()
    cos, sin = math.cos(shape.turn_rad), math.sin(shape.turn_rad)
    found = []
    for (cx, cy), (ox, oy), (ax, ay) in jaws:
        into = (ox * cos + ax * sin, oy * cos + ay * sin)
        back = (ax * cos - ox * sin, ay * cos - oy * sin)
        start = (cx + shape.jaw_radius_mm * into[0], cy + shape.jaw_radius_mm * into[1])
        end = (start[0] + shape.facing_mm * back[0], start[1] + shape.facing_mm * back[1])
        found.append(Facing(start, end, into, (ox, oy)))
    return tuple(found)


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
