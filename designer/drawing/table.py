"""The table itself: rim, bed, cushions with their jaws, pocket falls, baulk line, D and spots."""

from __future__ import annotations

import math
from functools import lru_cache

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.look import Look
from designer.drawing.model import Arc, Bounds, Disc, Fill, Item, Line, Point, Stroke, Text
from designer.words.names import cushion_name
from engine.tables import Face, Pocket, Table

CUSHION_DEPTH_MM = 60.0
RIM_DEPTH_MM = 130.0
AIR_MM = 8.0

#: For each cushion, the direction from its face away from the bed.
OUTWARD: dict[str, Point] = {
    "left": (-1.0, 0.0),
    "right": (1.0, 0.0),
    "bottom": (0.0, -1.0),
    "top": (0.0, 1.0),
}


def table_bounds(table: Table) -> Bounds:
    """The outside of the rim with a little air round it."""
    x0, y0, x1, y1 = _rim_box(table)
    return (x0 - AIR_MM, y0 - AIR_MM, x1 + AIR_MM, y1 + AIR_MM)


def _rim_box(table: Table) -> Bounds:
    out = RIM_DEPTH_MM
    return (-out, -out, table.width_mm + out, table.length_mm + out)


def table_items(table: Table, look: Look, *, bed: bool, marks: bool) -> tuple[Item, ...]:
    """The table's items; the same arguments give the same objects, so painters may keep them."""
    return _items(_Key(table), look, bed, marks)


def cushion_names(table: Table, look: Look) -> list[Text]:
    """Each cushion's name on the rim behind it, where the rim is wide enough to read it."""
    band = RIM_DEPTH_MM - CUSHION_DEPTH_MM
    size = min(look.least_text_mm, look.text_mm)
    if size > 0.9 * band:
        return []
    out = CUSHION_DEPTH_MM + band / 2.0
    wide, long = table.width_mm, table.length_mm
    places = {
        "left": ((-out, 0.75 * long), 90.0),
        "right": ((wide + out, 0.75 * long), 90.0),
        "bottom": ((wide / 2.0, -out), 0.0),
        "top": ((wide / 2.0, long + out), 0.0),
    }
    return [
        Text(roles.MARKS, at, cushion_name(cushion), size, ink.RIM_INK, angle_deg=angle)
        for cushion, (at, angle) in places.items()
    ]


class _Key:
    """A table as a cache key: the loader gives the same object for the same table."""

    def __init__(self, table: Table) -> None:
        self.table = table

    def __hash__(self) -> int:
        return id(self.table)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and other.table is self.table


@lru_cache(maxsize=32)
def _items(key: _Key, look: Look, bed: bool, marks: bool) -> tuple[Item, ...]:
    items: list[Item] = []
    if bed:
        items += _bed(key.table, look)
    if marks:
        items += _marks(key.table, look)
    return tuple(items)


def _bed(table: Table, look: Look) -> list[Item]:
    width, length = table.width_mm, table.length_mm
    rim = _rounded(_rim_box(table), 70.0)
    bed = ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length))
    items: list[Item] = [Fill(roles.RIM, rim, ink.RIM, 1.0, ink.RIM_EDGE, look.line_mm)]
    for pocket in table.pockets:
        items.append(Disc(roles.POCKET, pocket.fall_mm, pocket.fall_radius_mm + 14.0, ink.RIM_EDGE))
    items.append(Fill(roles.BED, bed, ink.CLOTH))
    for pocket in table.pockets:
        items.append(Fill(roles.BED, _mouth(pocket, table), ink.CLOTH))
        items.append(Disc(roles.POCKET, pocket.fall_mm, pocket.fall_radius_mm, ink.POCKET))
    for face in table.faces:
        outline = _cushion(face, table)
        items.append(Fill(roles.CUSHION, outline, ink.CUSHION))
        items.append(Stroke(roles.CUSHION, (outline[:-2],), look.line_mm * 1.3, ink.INK))
    return items


def _marks(table: Table, look: Look) -> list[Item]:
    items: list[Item] = []
    pen = look.line_mm * 0.8
    if table.baulk_y_mm is not None:
        y = table.baulk_y_mm
        items.append(Stroke(roles.MARKS, (((0.0, y), (table.width_mm, y)),), pen, ink.MARK))
        if table.d_radius_mm is not None:
            middle = (table.width_mm / 2.0, y)
            items.append(Arc(roles.MARKS, middle, table.d_radius_mm, 180, 180, pen, ink.MARK))
    items += [
        Disc(roles.MARKS, (spot.x_mm, spot.y_mm), max(5.0, look.line_mm * 1.1), ink.SOFT_INK)
        for spot in table.spots
    ]
    return items


def _cushion(face: Face, table: Table) -> Line:
    """Outline of one cushion: jaw, face, jaw, then the two corners of its back edge."""
    points = _jaw(face.start_mm, face, table)[::-1] + _jaw(face.end_mm, face, table)
    out = OUTWARD[face.cushion]
    return (*points, _on_back(points[-1], face, out), _on_back(points[0], face, out))


def _on_back(point: Point, face: Face, out: Point) -> Point:
    """The point moved along `out` to the cushion's back edge."""
    x, y = face.start_mm
    if out[0]:
        return (x + out[0] * CUSHION_DEPTH_MM, point[1])
    return (point[0], y + out[1] * CUSHION_DEPTH_MM)


def _jaw(end: Point, face: Face, table: Table) -> list[Point]:
    """From the end of a straight face round its jaw to the narrowest place, and on to the back."""
    found = _jaw_at(end, table)
    if found is None:
        return [end]
    pocket, centre, other = found
    radius = pocket.jaw_radius_mm
    first = math.atan2(end[1] - centre[1], end[0] - centre[0])
    last = math.atan2(other[1] - centre[1], other[0] - centre[0])
    sweep = math.remainder(last - first, math.tau)
    points = [
        (centre[0] + radius * math.cos(a), centre[1] + radius * math.sin(a))
        for a in (first + sweep * i / 10 for i in range(11))
    ]
    out = OUTWARD[face.cushion]
    depth = (points[-1][0] - end[0]) * out[0] + (points[-1][1] - end[1]) * out[1]
    onward = (-math.sin(last) * _sign(sweep), math.cos(last) * _sign(sweep))
    rate = onward[0] * out[0] + onward[1] * out[1]
    if rate > 1e-9 and depth < CUSHION_DEPTH_MM:
        step = (CUSHION_DEPTH_MM - depth) / rate
        points.append((points[-1][0] + onward[0] * step, points[-1][1] + onward[1] * step))
    return points


def _jaw_at(end: Point, table: Table) -> tuple[Pocket, Point, Point] | None:
    """The pocket whose jaw starts at this end of a face, its centre, and what its end looks to.

    A rounded jaw ends towards the other jaw's centre, a small tip where its straight jaw begins.
    """
    for pocket in table.pockets:
        for index, centre in enumerate(pocket.jaws_mm):
            if abs(math.dist(centre, end) - pocket.jaw_radius_mm) >= 1e-6:
                continue
            if pocket.facings:
                return pocket, centre, pocket.facings[index].start_mm
            return pocket, centre, pocket.jaws_mm[1 - index]
    return None


def _mouth(pocket: Pocket, table: Table) -> Line:
    """The cloth between the jaws, from the ends of the two faces back to the fall."""
    ends = [
        _inward(end, face)
        for centre in pocket.jaws_mm
        for face in table.faces
        for end in (face.start_mm, face.end_mm)
        if abs(math.dist(centre, end) - pocket.jaw_radius_mm) < 1e-6
    ]
    (ax, ay), (bx, by) = pocket.jaws_mm
    apart = math.dist((ax, ay), (bx, by))
    ux, uy = (bx - ax) / apart, (by - ay) / apart
    jaw, fall = pocket.jaw_radius_mm, pocket.fall_radius_mm
    fx, fy = pocket.fall_mm
    behind = (
        (bx - ux * jaw, by - uy * jaw),
        (fx + ux * fall, fy + uy * fall),
        (fx - ux * fall, fy - uy * fall),
        (ax + ux * jaw, ay + uy * jaw),
    )
    return (*ends, *behind)


def _inward(point: Point, face: Face) -> Point:
    """A little into the bed, so that no seam shows between the mouth and the bed."""
    out = OUTWARD[face.cushion]
    return (point[0] - 6.0 * out[0], point[1] - 6.0 * out[1])


def _rounded(bounds: Bounds, radius: float) -> Line:
    """A rectangle with rounded corners, as a polygon."""
    x0, y0, x1, y1 = bounds
    corners = ((x1 - radius, y0 + radius, -90), (x1 - radius, y1 - radius, 0),
               (x0 + radius, y1 - radius, 90), (x0 + radius, y0 + radius, 180))  # fmt: skip
    points = []
    for cx, cy, start in corners:
        for i in range(9):
            a = math.radians(start + i * 90 / 8)
            points.append((cx + radius * math.cos(a), cy + radius * math.sin(a)))
    return tuple(points)


def _sign(value: float) -> float:
    return -1.0 if value < 0 else 1.0
