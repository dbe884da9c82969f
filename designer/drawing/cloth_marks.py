"""The marks a routine puts on the cloth: crosses, dots and lines, each with what it is for."""

from __future__ import annotations

from collections.abc import Iterator

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.model import Disc, Item, Line, Point, Stroke, Text
from designer.drawing.placing import around
from designer.drawing.scene import Scene, on_bed
from designer.texts import tr
from designer.words.names import shortened
from engine.routine.values import ClothMark

#: Half the size of a cross and the radius of a dot as they are on the table, at least, mm.
CROSS_MM, DOT_MM = 20.0, 14.0
#: A note longer than this is cut short on the drawing; the sheet has it in full.
LONGEST_NOTE = 28
_STEPS = (1.0, 1.4, 1.9, 2.5, 3.2, 4.0)


def mark_items(scene: Scene) -> list[Item]:
    """The marks without their words; their places are taken."""
    items: list[Item] = []
    for mark in scene.routine.cloth_marks:
        items += _drawn(scene, mark)
        for place in mark.places_mm:
            scene.taken.take_circle(place, _reach(scene))
        if mark.kind == "line":
            scene.taken.take_line(mark.places_mm)
    return items


def mark_names(scene: Scene) -> list[Item]:
    """What each mark is for, beside it where there is room; with measurements, its number."""
    names: list[Item] = []
    for number, mark in enumerate(scene.routine.cloth_marks, start=1):
        words = shortened(mark.note, LONGEST_NOTE)
        if scene.layers.measurements or not words:
            words = tr("mark {number}", number=number)
        text = scene.taken.best_text(_beside(scene, mark, words), scene.look.line_mm)
        if text is not None:
            names.append(text)
    return names


def _reach(scene: Scene) -> float:
    return max(CROSS_MM, scene.look.line_mm * 4.0)


def _drawn(scene: Scene, mark: ClothMark) -> list[Item]:
    """In ink with a light edge, to be seen on cloth, lanes and corridors alike."""
    (x, y), pen, role = mark.places_mm[0], scene.look.line_mm, roles.CLOTH_MARK
    if mark.kind == "dot":
        radius = max(DOT_MM, pen * 2.2)
        return [Disc(role, (x, y), radius, ink.INK, edge_colour=ink.PAPER, edge_mm=pen)]
    lines: tuple[Line, ...] = (mark.places_mm,)
    if mark.kind == "cross":
        half = _reach(scene) * 0.75
        lines = (
            ((x - half, y - half), (x + half, y + half)),
            ((x - half, y + half), (x + half, y - half)),
        )
    return [Stroke(role, lines, pen * 3.4, ink.PAPER), Stroke(role, lines, pen * 1.7, ink.INK)]


def _beside(scene: Scene, mark: ClothMark, words: str) -> Iterator[Text]:
    """Places for the words round the mark, a line's round its middle."""
    places = mark.places_mm
    middle: Point = (
        sum(x for x, _ in places) / len(places),
        sum(y for _, y in places) / len(places),
    )
    size = max(scene.look.text_mm * 0.8, scene.look.least_text_mm)
    half = Text(roles.CLOTH_MARK, middle, words, size, ink.INK).width_mm / 2
    # Upright texts reach farther sideways than up and down.
    reach = _reach(scene) + size * 0.7
    for at in around(middle, 90.0 if not scene.look.turned else 0.0, [reach * s for s in _STEPS]):
        dx, dy = at[0] - middle[0], at[1] - middle[1]
        along = dy if scene.look.turned else dx
        shift = half * along / max(abs(dx), abs(dy), 1e-9)
        place = (at[0], at[1] + shift) if scene.look.turned else (at[0] + shift, at[1])
        text = scene.text(roles.CLOTH_MARK, place, words, ink.INK, size_mm=size)
        if on_bed(scene, text):
            yield text
