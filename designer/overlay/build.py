"""Lay a routine's drawing over a photograph: a pure function of routine, answer and camera.

Everything the drawing holds lies on the cloth, at height 0: a lane is the way of the point where
the ball touches the cloth, its corridor as wide there as the ball. Balls stand over it and hide
what is behind them; the noses of the cushions hide the cloth behind them.
"""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import Geometry

from designer.drawing import Layers, build_drawing, roles
from designer.drawing import look as ink
from designer.drawing.look import BALL_INKS, Look
from designer.drawing.model import Arc, Disc, Fill, Item, Stroke, Text
from designer.drawing.placing import text_box
from designer.drawing.radii import radius_of
from designer.overlay.labels import Gathered, gather
from designer.overlay.lettering import box_of, placed
from designer.overlay.model import Label, Patch, PhotoDrawing
from designer.overlay.seen import View
from designer.overlay.shapes import arc_area, disc_area, fill_area, stroke_area
from engine.photo.balls import outline
from engine.photo.camera import Camera
from engine.photo.places import nose_height_mm
from engine.results import RoutineAnswer
from engine.routine.context import table_of
from engine.routine.values import Routine
from engine.tables import Table
from engine.units import LengthUnit

#: What is drawn over a photograph at first: the table and the balls are in it already.
PHOTO_LAYERS = Layers(table=False, marks=False, balls=False, ball_letters=False)

#: Lines get a pale edge, as they may cross dark cloth; in widths of the finest line.
_EDGED = (
    roles.LANE, roles.POTTING_LINE, roles.NINETY_LINE, roles.AIM_LINE, roles.CONTACT, roles.TOUCH,
    roles.MEASURE, roles.CHECK,
)  # fmt: skip
_EDGE, _EDGE_OPACITY = 0.6, 0.6
#: Tints made for white paper are too faint for a photograph; white laid below them helps.
_STRONGER = {roles.CORRIDOR: 2.4, roles.HATCH: 1.3, roles.BAND: 2.2}
_WHITENED = {roles.CORRIDOR: 3.2, roles.BAND: 3.0}
#: The table is in the photograph: what is filled of the drawn one lets it be seen.
_FAINT = (roles.RIM, roles.BED, roles.CUSHION, roles.POCKET)
_FAINTER = 0.1
#: A scale bar says nothing in perspective.
_LEFT_OUT = (roles.SCALE_BAR,)
#: Balls stand over the cloth and are painted apart.
_BALLS = (roles.BALL, roles.BALL_LETTER)
#: Roles at the height of the cushion's nose, where balls and cushions hide nothing of them.
_ON_NOSE = (roles.RIM, roles.CUSHION)
#: Least and greatest size of letters over the height of the picture.
_LEAST_TEXT, _MOST_TEXT = 0.015, 0.034


@dataclass(frozen=True, slots=True)
class StandingBall:
    """A ball that is in the photograph: where it stands, in table mm, and its radius."""

    x_mm: float
    y_mm: float
    radius_mm: float


def photo_drawing(
    routine: Routine,
    answer: RoutineAnswer | None,
    camera: Camera,
    layers: Layers = PHOTO_LAYERS,
    unit: LengthUnit = "mm",
    *,
    shot: str | None = None,
    lanes: Container[str] | None = None,
    balls: Sequence[StandingBall] | None = None,
) -> PhotoDrawing:
    """The routine's drawing in the pixels of the camera's picture.

    `balls` are those that are in the photograph and hide what lies behind them; without them
    the routine's own are taken to be. `shot` and `lanes` as for `build_drawing`.
    """
    table = table_of(routine)
    cloth, nose = View(camera), View(camera, nose_height_mm(table))
    look = _look(cloth, table)
    plan = build_drawing(routine, answer, layers, unit, look=look, shot=shot, lanes=lanes)
    items, labels = gather(item for item in plan.items if item.role not in _LEFT_OUT)
    ground: list[Patch] = []
    standing: list[Patch] = []
    for item in items:
        if item.role in _BALLS:
            continue
        view = nose if item.role in _ON_NOSE else cloth
        ground += _patches(item, view, look)
    own = [StandingBall(b.x_mm, b.y_mm, radius_of(routine, b.id)) for b in routine.balls]
    if layers.balls:
        standing, lettered = _painted_balls(routine, camera, items)
        labels_on = lettered
    else:
        labels_on = ()
    there = [*(own if balls is None else balls), *(own if layers.balls else ())]
    hiding = tuple(_outlines(camera, there))
    return PhotoDrawing(
        camera.size_px,
        tuple(ground),
        Patch("opening", nose.outlines(_opening(table, layers.table)), "#ffffff"),
        hiding,
        tuple(standing),
        (*_labels(labels, cloth, hiding, _line_points(ground)), *labels_on),
    )


def _look(cloth: View, table: Table) -> Look:
    """Lines that stay two or three pixels wide in the middle of a small picture."""
    middle = (table.width_mm / 2, table.length_mm / 2)
    scale = cloth.px_per_mm(middle) if cloth.pixel(middle) is not None else 1.0
    usual = Look()
    return replace(usual, line_mm=min(max(usual.line_mm, 1.1 / max(scale, 1e-3)), 9.0))


def _patches(item: Item, view: View, look: Look) -> list[Patch]:
    """One item as patches, what lies lowest first."""
    parts: list[tuple[Geometry, str, float]] = []
    if isinstance(item, Stroke | Arc):
        area = stroke_area if isinstance(item, Stroke) else arc_area
        if item.role in _EDGED and item.colour != ink.PAPER:
            wider = area(item, 2.0 * _EDGE * look.line_mm)  # type: ignore[arg-type]
            parts.append((wider, ink.PAPER, _EDGE_OPACITY * item.opacity))
        parts += _tinted(area(item), item)  # type: ignore[arg-type]
    elif isinstance(item, Disc | Fill):
        inside, edge = disc_area(item) if isinstance(item, Disc) else fill_area(item)
        parts += _tinted(inside, item)
        if item.edge_mm > 0.0:
            parts.append((edge, item.edge_colour, 1.0))
    found = [(view.outlines(area), colour, opacity) for area, colour, opacity in parts]
    return [Patch(item.role, rings, colour, opacity) for rings, colour, opacity in found if rings]


def _tinted(area: Geometry, item: Stroke | Arc | Disc | Fill) -> list[tuple[Geometry, str, float]]:
    """An area in its colour, as strong as a photograph needs it."""
    if item.role in _FAINT and isinstance(item, Disc | Fill):
        return [(area, item.colour, item.opacity * _FAINTER)]
    white = item.opacity * _WHITENED.get(item.role, 0.0)
    strong = min(item.opacity * _STRONGER.get(item.role, 1.0), 1.0)
    below = [(area, ink.PAPER, white)] if white else []
    return [*below, (area, item.colour, strong)]


def _opening(table: Table, drawn: bool) -> Geometry:
    """What the noses of the cushions leave open: the bed and the mouths of the pockets.

    With the table itself drawn nothing is cut off, as its rim lies outside.
    """
    bed = shapely.box(0.0, 0.0, table.width_mm, table.length_mm)
    if drawn:
        return shapely.buffer(bed, 400.0)
    parts = [bed]
    for pocket in table.pockets:
        fall = shapely.Point(pocket.fall_mm).buffer(pocket.fall_radius_mm)
        mouth = shapely.MultiPoint(pocket.jaws_mm).convex_hull
        jaws = [shapely.Point(jaw).buffer(pocket.jaw_radius_mm) for jaw in pocket.jaws_mm]
        throat = shapely.union_all([mouth.buffer(1.0), shapely.Point(pocket.throat_mm)])
        hull = shapely.union_all([throat, fall]).convex_hull
        parts.append(shapely.difference(hull, shapely.union_all(jaws)))
    return shapely.union_all(parts)


def _outlines(camera: Camera, balls: Sequence[StandingBall]) -> list[np.ndarray]:
    found = []
    for ball in balls:
        centre = np.array([ball.x_mm, ball.y_mm, ball.radius_mm])
        rim = outline(camera, centre, ball.radius_mm)
        if np.isfinite(rim).all():
            found.append(rim)
    return found


def _painted_balls(
    routine: Routine, camera: Camera, items: Sequence[Item]
) -> tuple[list[Patch], tuple[Label, ...]]:
    """Balls painted where the routine has them, farthest first, with their letters upright."""
    texts = {i.at: i for i in items if isinstance(i, Text) and i.role == roles.BALL_LETTER}
    deep = {
        ball.id: camera.seen_from(np.array([ball.x_mm, ball.y_mm, 0.0]))[2]
        for ball in routine.balls
    }
    patches: list[Patch] = []
    labels: list[Label] = []
    for ball in sorted(routine.balls, key=lambda one: -deep[one.id]):
        radius = radius_of(routine, ball.id)
        found = _outlines(camera, [StandingBall(ball.x_mm, ball.y_mm, radius)])
        if not found:
            continue
        rim = found[0]
        middle = rim.mean(axis=0)
        inner = middle + (rim - middle) * 0.9
        fill = BALL_INKS.get(ball.kind, BALL_INKS["plain"]).fill
        patches += [Patch(roles.BALL, (rim,), ink.INK), Patch(roles.BALL, (inner,), fill)]
        text = texts.get(ball.centre_mm)
        if text is not None:
            size = float(np.hypot(*(rim - middle).T).mean()) / radius
            labels.append(Label((float(middle[0]), float(middle[1])), size, text.at, (text,)))
    return patches, tuple(labels)


def _labels(
    gathered: Sequence[Gathered], cloth: View, taken: Sequence[np.ndarray], lines: np.ndarray
) -> list[Label]:
    """The labels whose middle is in the picture, their letters neither too small nor too large.

    They keep off the balls and each other where there is room, and lead to where they belong.
    """
    found: list[Label] = []
    boxes = [(*rim.min(axis=0), *rim.max(axis=0)) for rim in taken]
    high = min(cloth.camera.size_px)
    for one in gathered:
        at = cloth.pixel(one.about_mm)
        if at is None:
            continue
        texts = [item.size_mm for item in one.items if isinstance(item, Text)]
        scale = cloth.px_per_mm(one.lead.lines[0][1] if one.lead else one.about_mm)
        if texts:
            scale = max(scale, _LEAST_TEXT * high / min(texts))
            scale = min(scale, _MOST_TEXT * high / max(texts))
        label = Label(at, scale, one.about_mm, _on_plate(one))
        if one.lead is not None:
            end = cloth.pixel(one.lead.lines[0][1])
            wide = max(one.lead.width_mm * scale, 1.5)
            label = replace(label, leads_to_px=end, lead_colour=one.lead.colour, lead_px=wide)
        label = placed(label, boxes, lines, cloth.camera.size_px)
        boxes.append(box_of(label))
        found.append(label)
    return found


def _line_points(ground: Sequence[Patch]) -> np.ndarray:
    """Points (n, 2), px, along the lines that labels had better not cover."""
    wanted = (roles.LANE, roles.POTTING_LINE, roles.GAP, roles.CONTACT, roles.TOUCH)
    rings = [ring for one in ground if one.role in wanted for ring in one.outlines]
    return np.concatenate(rings) if rings else np.empty((0, 2))


def _on_plate(one: Gathered) -> tuple[Disc | Fill | Text, ...]:
    """The items, with a pale plate below texts that have none."""
    texts = [item for item in one.items if isinstance(item, Text)]
    if len(texts) < len(one.items):
        return tuple(one.items)
    boxes = np.array([text_box(item, item.size_mm * 0.12) for item in texts])
    (x0, y0), (x1, y1) = boxes[:, :2].min(axis=0), boxes[:, 2:].max(axis=0)
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return (Fill(one.items[0].role, corners, ink.PAPER, 0.8), *one.items)
