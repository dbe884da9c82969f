"""Tape readings: a dimension line from the nearest two cushion faces to each ball's centre.

The readings stand outside the rim, beside the cushion they are taken from, spread along it in
the order of the balls: no reading covers another, a ball or the table, however close the balls
are. A ball on a spot needs no tape: its label names the spot.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Bounds, Item, Point, Stroke, Text
from designer.drawing.placing import Box
from designer.drawing.scale_bar import scale_bar
from designer.drawing.scene import Scene
from designer.drawing.spreading import spread
from designer.drawing.table import OUTWARD, RIM_DEPTH_MM
from designer.fonts.metrics import text_width
from designer.texts import tr
from designer.words.names import printed_letters, spot_name
from engine.placement import touching_balls
from engine.results import CushionReading
from engine.units import length_text

#: On paper the readings of more balls than this stand in their table alone: round the drawing they
#: would leave no room for the table.
MOST_READ = 12


@dataclass(frozen=True, slots=True)
class Measured:
    """Dimension lines (to go under the balls), readings, and the bounds that hold them all."""

    lines: list[Item]
    readings: list[Item]
    bounds: Bounds


@dataclass(frozen=True, slots=True)
class _Label:
    """A reading to be laid out: its ball, cushion and the two lines of text.

    `measured` is False for a ball that a spot places; `sideways` labels read along the
    dimension line, on a side too short for all its labels to stand upright.
    """

    centre_mm: Point
    cushion: str
    upper: str
    lower: str
    measured: bool = True
    sideways: bool = False


def measurement_items(scene: Scene, bounds: Bounds) -> Measured:
    """Lay out the readings of every ball along the four sides; `bounds` grows to hold them."""
    labels = _labels(scene)
    _take_marks(scene)
    lines: list[Item] = []
    readings: list[Item] = []
    for cushion in OUTWARD:
        here = _fitting(scene, [label for label in labels if label.cushion == cushion], cushion)
        if not here:
            continue
        for label, place in zip(here, _laid_out(scene, here, cushion), strict=True):
            texts = _texts(scene, label, place)
            lines += _dimension(scene, label, place)
            readings += texts
            bounds = _grown(bounds, _label_box(scene, label, place), scene.look.line_mm * 4)
    bar, bounds = scale_bar(scene, bounds)
    return Measured(lines, readings + bar, bounds)


def _take_marks(scene: Scene) -> None:
    """Keep every text off the marks of the cloth."""
    table = scene.table
    if not scene.layers.marks:
        return
    if table.baulk_y_mm is not None:
        y = table.baulk_y_mm
        scene.taken.take_line(((0.0, y), (table.width_mm, y)))
        if table.d_radius_mm is not None:
            steps = [math.radians(180.0 + 7.5 * i) for i in range(25)]
            r, x = table.d_radius_mm, table.width_mm / 2.0
            scene.taken.take_line([(x + r * math.cos(a), y + r * math.sin(a)) for a in steps])
    for spot in table.spots:
        scene.taken.take_circle((spot.x_mm, spot.y_mm), scene.look.line_mm * 2)


def _labels(scene: Scene) -> list[_Label]:
    if scene.answer is None:
        return []
    balls = {ball.id: ball for ball in scene.routine.balls}
    letters = printed_letters(scene.routine)
    on_paper = scene.look.least_ball_mm > 0.0
    if on_paper and len(scene.answer.placements) > MOST_READ:
        return []
    against = touching_balls(scene.routine) if on_paper else {}
    labels = []
    for placement in scene.answer.placements:
        if placement.ball not in balls:
            continue
        centre = balls[placement.ball].centre_mm
        if placement.ball in against:
            continue  # it is set against balls that stand already
        letter = letters[placement.ball]
        if placement.spot:
            labels.append(
                _Label(
                    centre,
                    placement.across.cushion,
                    tr("{letter} on", letter=letter).strip(),
                    spot_name(placement.spot),
                    False,
                )
            )
            continue
        for reading in (placement.across, placement.along):
            labels.append(_Label(centre, reading.cushion, *_words(scene, letter, reading)))
    return labels


def _words(scene: Scene, letter: str, reading: CushionReading) -> tuple[str, str]:
    """The reading to the centre, and the one to the near edge below it."""
    centre = length_text(reading.centre_mm, scene.unit).removesuffix(" mm")
    edge = length_text(reading.edge_mm, scene.unit).removesuffix(" mm")
    # a colon: a ball called 3 and its 9 7/16" would else read as one length
    told = f"{letter}: {centre}" if letter else centre
    return told, tr("edge {length}", length=edge)


def _size(scene: Scene) -> float:
    return max(scene.look.least_text_mm, scene.look.text_mm * 0.9)


def _extent(scene: Scene, label: _Label) -> tuple[float, float]:
    """Width and height of a label in table x and y, mm."""
    size = _size(scene)
    wide = max(text_width(label.upper, size, bold=True), text_width(label.lower, size))
    high = size * 2.3
    return (high, wide) if scene.look.turned != label.sideways else (wide, high)


def _fitting(scene: Scene, labels: list[_Label], cushion: str) -> list[_Label]:
    """The labels, turned sideways when they would stand out beyond their side of the table."""
    side = cushion in ("left", "right")
    room = (scene.table.length_mm if side else scene.table.width_mm) + 2.0 * RIM_DEPTH_MM
    needed = sum(_room_along(scene, label, side) for label in labels)
    if needed <= room:
        return labels
    turned = [replace(label, sideways=True) for label in labels]
    return turned if sum(_room_along(scene, label, side) for label in turned) < needed else labels


def _room_along(scene: Scene, label: _Label, side: bool) -> float:
    return _extent(scene, label)[1 if side else 0] + _size(scene) * 0.35


def _laid_out(scene: Scene, labels: list[_Label], cushion: str) -> list[Point]:
    """Centres of the labels of one side, in the order given, none over another."""
    side = cushion in ("left", "right")
    wanted = [label.centre_mm[1 if side else 0] for label in labels]
    extents = [_extent(scene, label) for label in labels]
    sizes = [_room_along(scene, label, side) for label in labels]
    length = scene.table.length_mm if side else scene.table.width_mm
    # Labels of the long sides stay beside the bed: the corners are left to those of the ends.
    along = spread(wanted, sizes, (0.0, length) if side else (-math.inf, math.inf))
    deepest = max(extent[0 if side else 1] for extent in extents)
    out = RIM_DEPTH_MM + _size(scene) * 0.45 + deepest / 2
    table = scene.table
    return [
        {
            "left": (-out, place),
            "right": (table.width_mm + out, place),
            "bottom": (place, -out),
            "top": (place, table.length_mm + out),
        }[cushion]
        for place in along
    ]


def _texts(scene: Scene, label: _Label, place: Point) -> list[Text]:
    size = _size(scene)
    x, y = place
    step = size * 0.56
    stands = scene.look.turned != label.sideways
    up = (x - step, y) if stands else (x, y + step)
    down = (x + step, y) if stands else (x, y - step)
    if scene.look.far:
        # Turned by half later on: the first line must then stand above the second.
        up, down = down, up
    angle = 90.0 if stands else 0.0
    return [
        Text(roles.MEASURE, up, label.upper, size, ink.INK, bold=True, angle_deg=angle),
        Text(roles.MEASURE, down, label.lower, size, ink.INK, angle_deg=angle),
    ]


def _dimension(scene: Scene, label: _Label, place: Point) -> list[Item]:
    """From the ball's centre to the cushion face with a tick there, and on to the label."""
    x, y = label.centre_mm
    out = OUTWARD[label.cushion]
    table, pen = scene.table, scene.look.line_mm
    face = {
        "left": (0.0, y),
        "right": (table.width_mm, y),
        "bottom": (x, 0.0),
        "top": (x, table.length_mm),
    }[label.cushion]
    edge_out = RIM_DEPTH_MM + _size(scene) * 0.1
    if out[0]:
        outside = (face[0] + out[0] * edge_out, place[1])
    else:
        outside = (place[0], face[1] + out[1] * edge_out)
    tick = scene.radius_mm * 0.5
    across = ((face[0] - out[1] * tick, face[1] - out[0] * tick),
              (face[0] + out[1] * tick, face[1] + out[0] * tick))  # fmt: skip
    dotted = (pen, pen * 2.5)
    lead = Stroke(
        roles.MEASURE, (((x, y), face),), pen * 0.7, ink.INK if label.measured else ink.SOFT_INK,
        dash=() if label.measured else dotted, cap="butt",
    )  # fmt: skip
    scene.taken.take_line(((x, y), face))
    return [
        lead,
        *([Stroke(roles.MEASURE, (across,), pen, ink.INK, cap="butt")] if label.measured else []),
        Stroke(
            roles.MEASURE, ((face, outside),), pen * 0.6, ink.SOFT_INK, dash=(pen * 2, pen * 1.5),
            cap="butt",
        ),
    ]  # fmt: skip


def _label_box(scene: Scene, label: _Label, place: Point) -> Box:
    wide, high = _extent(scene, label)
    x, y = place
    return (x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)


def _grown(bounds: Bounds, box: Box, pad: float) -> Bounds:
    return (
        min(bounds[0], box[0] - pad),
        min(bounds[1], box[1] - pad),
        max(bounds[2], box[2] + pad),
        max(bounds[3], box[3] + pad),
    )
