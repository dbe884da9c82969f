"""The letters that lanes go by: in a disc at each lane's end, or on the rim for a question."""

from __future__ import annotations

import itertools
import math

import numpy as np

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.lanes import Way
from designer.drawing.model import Disc, Item, Point, Stroke
from designer.drawing.paths import end_heading_deg
from designer.drawing.placing import around
from designer.drawing.scene import Scene
from designer.drawing.table import OUTWARD, RIM_DEPTH_MM
from designer.fonts.metrics import text_width


def disc_radius(scene: Scene) -> float:
    """Radius of a letter's disc."""
    return scene.look.text_mm * 0.95


def letter_items(scene: Scene, found: list[Way]) -> list[Item]:
    """A lettered disc at the end of each lane, nudged off balls and other letters."""
    items: list[Item] = []
    radius = disc_radius(scene)
    bed = (scene.table.width_mm, scene.table.length_mm)
    for index, way in enumerate(found):
        path = way.rest if len(way.rest) else way.free
        end = (float(path[-1][0]), float(path[-1][1]))
        heading = end_heading_deg(path)
        reach = scene.radius_mm + radius * 0.7
        steps = (reach, reach * 1.5, reach * 2.1, reach * 2.8, reach * 3.6)
        places = (p for p in around(end, heading, steps) if _on_bed(p, radius, bed))
        first = next(places, end)
        name = f"lane {index}"
        held = scene.held_at(name, end)
        if held is not None and not _on_bed(held, radius, bed):
            held = None
        place = scene.taken.place_circle(itertools.chain([first], places), radius, held)
        scene.hold(name, end, place)
        pen = scene.look.line_mm
        items.append(Stroke(roles.LETTER, ((end, place),), pen * 0.8, way.pattern.colour))
        items.append(Disc(roles.LETTER, end, pen * 1.6, way.pattern.colour))
        items += _lettered(scene, place, way.lane.label, way.pattern.colour)
    return items


def rim_letter_items(scene: Scene, found: list[Way]) -> list[Item]:
    """Each lane's letter on the rim, where it first meets a cushion or, meeting none, heads for.

    All in one ink and of one size: the disc says where the question's end is, nothing else. One
    that had to make way for another points at its place.
    """
    items: list[Item] = []
    radius = disc_radius(scene)
    for way in sorted(found, key=lambda each: each.lane.label):
        at = _rim_place(way, scene)
        places = _along_rim(at, scene, radius)
        place = scene.taken.place_circle(places, radius)
        if place != at:
            items += _pointer(scene, place, at)
        items += _lettered(scene, place, way.lane.label, ink.INK)
    return items


def _pointer(scene: Scene, letter: Point, at: Point) -> list[Item]:
    """A line from a letter that was moved to the place on the cushion face it stands for."""
    pen = scene.look.line_mm
    width, length = scene.table.width_mm, scene.table.length_mm
    face = (min(max(at[0], 0.0), width), min(max(at[1], 0.0), length))
    return [
        Stroke(roles.LETTER, ((letter, face),), pen, ink.INK),
        Disc(roles.LETTER, face, pen * 2.2, ink.INK),
    ]


def _lettered(scene: Scene, at: Point, label: str, colour: str) -> list[Item]:
    pen = scene.look.line_mm
    radius = disc_radius(scene)
    return [
        Disc(roles.LETTER, at, radius, ink.PAPER, edge_colour=colour, edge_mm=pen * 1.4),
        scene.text(
            roles.LETTER,
            at,
            label,
            ink.INK,
            size_mm=scene.look.text_mm * 1.35,
            bold=True,
            stretch=min(1.0, 1.05 / max(text_width(label, 1.0, bold=True), 0.1)),
        ),
    ]


def _on_bed(point: Point, radius: float, bed: Point) -> bool:
    return radius <= point[0] <= bed[0] - radius and radius <= point[1] <= bed[1] - radius


def _out_mm(scene: Scene) -> float:
    """How far behind the cushion face a letter stands: on the rim, clear of marks on the face."""
    return max(RIM_DEPTH_MM / 2.0, disc_radius(scene) + 3.0 * scene.look.line_mm)


def _rim_place(way: Way, scene: Scene) -> Point:
    """The place on the rim behind the lane's first cushion, or ahead of where it stops."""
    out = _out_mm(scene)
    if way.lane.first_cushion in OUTWARD and way.lane.first_cushion_mm is not None:
        x, y = way.lane.first_cushion_mm
        return {
            "left": (-out, y),
            "right": (scene.table.width_mm + out, y),
            "bottom": (x, -out),
            "top": (x, scene.table.length_mm + out),
        }[way.lane.first_cushion]
    path = np.concatenate((way.free, way.rest)) if len(way.rest) else way.free
    return _rim_point(path, scene, out)


def _rim_point(path: np.ndarray, scene: Scene, out_mm: float) -> Point:
    """Where the last heading of a path, drawn on from its end, meets the rim that far out."""
    heading = math.radians(end_heading_deg(path))
    x, y = float(path[-1][0]), float(path[-1][1])
    dx, dy = math.cos(heading), math.sin(heading)
    steps = []
    for start, rate, size in ((x, dx, scene.table.width_mm), (y, dy, scene.table.length_mm)):
        if rate > 1e-9:
            steps.append((size + out_mm - start) / rate)
        elif rate < -1e-9:
            steps.append((-out_mm - start) / rate)
    step = max(0.0, min(steps))
    return (x + dx * step, y + dy * step)


def _along_rim(at: Point, scene: Scene, radius: float) -> list[Point]:
    """The place itself, then places to either side of it along the rim."""
    out = _out_mm(scene)
    ends = at[1] <= -out + 1.0 or at[1] >= scene.table.length_mm + out - 1.0
    size = scene.table.width_mm if ends else scene.table.length_mm
    spot = at[0] if ends else at[1]
    places = []
    for step in (0.0, 2.1, -2.1, 4.2, -4.2, 6.3, -6.3, 8.4, -8.4):
        moved = min(max(spot + step * radius, -out), size + out)
        places.append((moved, at[1]) if ends else (at[0], moved))
    return places
