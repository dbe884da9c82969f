"""On the measured drawing no text touches another, a ball, a pocket or a line.

Checked with the letters' own ink, as Qt reads it from the font, on the drawings as they stand on
the sheets of paper. A share of the routines runs by default; with BAIZEWRIGHT_FULL=1 all 200 do,
and the tightest places are listed.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
import shapely
from shapely import affinity

from designer.drawing import roles
from designer.drawing.model import Arc, Disc, Drawing, Fill, Stroke, Text
from designer.handouts.papers import paper_of
from designer.handouts.setting import setting_figure
from designer.handouts.sheet import Sheet
from designer.painters.qt import text_outline
from designer.words.names import printed_letters
from engine.placement import placements
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from tests.designer.samples.random_tables import random_balls
from tests.shares import FULL, share

ROUTINES = 200 if FULL else 16
VARIANTS = [
    ("a4", False, "mm"), ("a4", True, "mm"), ("letter", False, "inch"), ("letter", True, "inch"),
]  # fmt: skip
_EM = 256.0


@dataclass(frozen=True)
class Tight:
    """How near a text comes to something else, in mm of paper."""

    paper_mm: float
    seed: int
    text: str
    other: str


def as_drawn(routine: Routine, paper: str, landscape: bool, unit: str) -> tuple[Drawing, float]:
    """The measured drawing as it stands on the sheet, and table mm for a mm of paper."""
    answer = RoutineAnswer("test", (), (), (), (), placements(routine))
    sheet = Sheet(routine, answer, unit)
    page = paper_of(paper, landscape)
    body = page.body
    share = 0.66 if landscape else 0.55
    figure = setting_figure(sheet, body.width * share, 0.8 * body.height, landscape)
    return figure.drawing, figure.scale


def ink_of(text: Text) -> shapely.Geometry:
    """The box round a text's ink, in table mm."""
    ink = text_outline(text.text, text.bold).boundingRect()
    size = text.size_mm / _EM
    left = text.start_shift_mm + ink.left() * size * text.stretch
    right = text.start_shift_mm + ink.right() * size * text.stretch
    low, high = -ink.bottom() * size, -ink.top() * size
    drop = text.baseline_drop_mm
    box = shapely.box(left, low - drop, right, high - drop)
    turned = affinity.rotate(box, text.angle_deg, origin=(0, 0))
    return affinity.translate(turned, *text.at)


def shapes_of(drawing: Drawing) -> list[tuple[str, shapely.Geometry]]:
    """Everything a text must keep off: strokes with their width, discs, bars and their edges."""
    found = []
    for item in drawing.items:
        if isinstance(item, Stroke):
            lines = [shapely.LineString(line) for line in item.lines]
            found += [(item.role, line.buffer(item.width_mm / 2)) for line in lines]
        elif isinstance(item, Arc):
            turn = np.radians(item.start_deg + np.linspace(0.0, item.sweep_deg, 121))
            x, y = item.centre
            curve = np.column_stack((x + item.radius_mm * np.cos(turn),
                                     y + item.radius_mm * np.sin(turn)))  # fmt: skip
            found.append((item.role, shapely.LineString(curve).buffer(item.width_mm / 2)))
        elif isinstance(item, Disc):
            radius = item.radius_mm + item.edge_mm / 2
            found.append((item.role, shapely.Point(item.centre).buffer(radius, 32)))
        elif isinstance(item, Fill) and item.role == roles.SCALE_BAR:
            found.append((item.role, shapely.Polygon(item.points)))
        elif isinstance(item, Fill) and item.edge_mm > 0.0:
            found.append((item.role, shapely.Polygon(item.points).exterior))
    return found


def tightest(seed: int, drawing: Drawing, scale: float) -> list[Tight]:
    """The nearest text, and the nearest other thing, of each text."""
    texts = [item for item in drawing.items if isinstance(item, Text)]
    inks = np.array([ink_of(text) for text in texts])
    shapes = shapes_of(drawing)
    solids = np.array([shape for _, shape in shapes])
    found = []
    between = shapely.distance(inks[:, None], inks[None, :])
    np.fill_diagonal(between, np.inf)
    away = shapely.distance(inks[:, None], solids[None, :])
    for index, text in enumerate(texts):
        nearest = int(np.argmin(between[index]))
        found.append(Tight(between[index, nearest] / scale, seed, text.text, texts[nearest].text))
        row = away[index].copy()
        if text.role == roles.BALL_LETTER:
            row[_own_ball(text, inks[index], shapes)] = np.inf
        nearest = int(np.argmin(row))
        found.append(Tight(row[nearest] / scale, seed, text.text, shapes[nearest][0]))
    return found


def _own_ball(text: Text, ink: shapely.Geometry, shapes) -> list[int]:
    """The ball a letter is printed on, and lines that this ball hides under the letter."""
    own = [k for k, (role, shape) in enumerate(shapes)
           if role == roles.BALL and shape.contains(shapely.Point(text.at))]  # fmt: skip
    if not own or not shapes[own[0]][1].buffer(1e-6).contains(ink):
        return []
    disc = shapes[own[0]][1]
    hidden = [k for k, (_, shape) in enumerate(shapes) if k < own[0] and shape.intersects(disc)]
    return own + hidden


@pytest.mark.parametrize(("paper", "landscape", "unit"), share(VARIANTS, 2))
@pytest.mark.slow
def test_no_text_touches_anything(qapp, capsys, paper, landscape, unit):
    found: list[Tight] = []
    lettered = wanted = 0
    for seed in range(ROUTINES):
        routine = random_balls(seed)
        drawing, scale = as_drawn(routine, paper, landscape, unit)
        readings = [i for i in drawing.with_roles(roles.MEASURE) if isinstance(i, Text)]
        assert len(readings) >= 2 * len(routine.balls)
        named = {i.text for i in drawing.with_roles(roles.BALL_LETTER) if isinstance(i, Text)}
        letters = printed_letters(routine)
        # an inset names those that lie too close to be named here
        own = [ball.id for ball in routine.balls if ball.id not in drawing.crowded]
        lettered += len([ball_id for ball_id in own if letters[ball_id] in named])
        wanted += len(own)
        bounds = shapely.box(*drawing.bounds)
        assert all(bounds.contains(ink_of(i)) for i in drawing.items if isinstance(i, Text))
        found += tightest(seed, drawing, scale)
    found.sort(key=lambda one: one.paper_mm)
    if FULL:
        with capsys.disabled():
            print(f"\nTightest places, {ROUTINES} routines, {paper}, "
                  f"{'landscape' if landscape else 'portrait'}, {unit}:")  # fmt: skip
            for one in found[:6]:
                print(f"  {one.paper_mm:.2f} mm  seed {one.seed}: {one.text!r} to {one.other!r}")
            print(f"  {wanted - lettered} of {wanted} balls without a letter beside them")
    assert wanted - lettered <= 0.01 * wanted
    touching = [one for one in found if one.paper_mm <= 0.0]
    assert not touching, touching[:5]


def test_second_distances_are_mostly_drawn(qapp):
    """Room is found for most of the second distances that are long enough to draw."""
    drawn = wanted = 0
    for seed in range(ROUTINES):
        routine = random_balls(seed)
        drawing, scale = as_drawn(routine, "a4", False, "mm")
        from engine.placement import checking_distances

        long = [c for c in checking_distances(routine) if c.edge_mm > 8.0 * scale]
        wanted += len(long)
        drawn += len([i for i in drawing.with_roles(roles.CHECK) if isinstance(i, Text)])
    assert drawn >= 0.8 * wanted > 0


def test_a_text_on_a_line_is_seen(qapp):
    """The measure of the test itself: a reading laid over another and over a line is found."""
    drawing, scale = as_drawn(random_balls(3), "a4", False, "mm")
    one, other = [i for i in drawing.with_roles(roles.MEASURE) if isinstance(i, Text)][:2]
    doubled = Drawing((*drawing.items, Text(other.role, one.at, "1234", one.size_mm, "#000000"),
                       Stroke("x", ((other.at, one.at),), 1.0, "#000000")),
                      drawing.bounds)  # fmt: skip
    bad = [t for t in tightest(0, doubled, scale) if t.paper_mm <= 0.0]
    assert {t.other for t in bad} >= {"x", "1234"}
