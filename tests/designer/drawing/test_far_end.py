"""Seen from the top end: everything turned by half, every text upright in the room it had."""

import itertools
import math

import pytest

from designer.drawing import PLACEMENT_LAYERS, Layers, Look, build_drawing
from designer.drawing.far_end import from_far_end
from designer.drawing.model import Text
from engine.answers import answer
from tests.designer.samples.random_tables import random_balls


def middle(text):
    shift = text.start_shift_mm + text.width_mm / 2
    angle = math.radians(text.angle_deg)
    return (text.at[0] + shift * math.cos(angle), text.at[1] + shift * math.sin(angle))


@pytest.mark.parametrize("turned", [False, True])
@pytest.mark.parametrize("layers", [Layers(), PLACEMENT_LAYERS])
def test_texts_keep_their_room_and_read_upright(layers, turned):
    routine = random_balls(3, least=5, most=8)
    found = answer(routine)
    near = build_drawing(routine, found, layers, look=Look(turned=turned))
    far = build_drawing(routine, found, layers, look=Look(turned=turned, far=True))
    assert far.far and not near.far and far.bounds == near.bounds
    texts = [item for item in far.items if isinstance(item, Text)]
    assert len(texts) == sum(isinstance(item, Text) for item in near.items) >= 3
    corners = {tuple(round(v, 6) for v in middle(t)) for t in near.items if isinstance(t, Text)}
    a, b, *_ = far.page_matrix(1000.0, y_down=False)
    c, d = far.page_matrix(1000.0, y_down=False)[2:4]
    for text in texts:
        assert tuple(round(v, 6) for v in middle(text)) in corners, text.text
        if text.angle_deg not in (180.0, 270.0):
            continue
        # The way the letters run, on the page: to the right for texts laid out upright.
        angle = math.radians(text.angle_deg)
        run = (
            a * math.cos(angle) + c * math.sin(angle),
            b * math.cos(angle) + d * math.sin(angle),
        )
        sideways = (text.angle_deg == 270.0) != turned
        assert run[1 if sideways else 0] > 0.0 and abs(run[0 if sideways else 1]) < 1e-9


def test_the_reading_to_the_centre_stands_above_the_one_to_the_edge():
    routine = random_balls(3, least=5, most=8)
    for turned in (False, True):
        drawing = build_drawing(
            routine, answer(routine), PLACEMENT_LAYERS, look=Look(turned=turned, far=True)
        )
        matrix = drawing.page_matrix(1000.0, y_down=True)
        readings = [item for item in drawing.with_roles("measure") if isinstance(item, Text)]
        upright = 270.0 if turned else 180.0
        pairs = [
            (one, two)
            for one, two in itertools.pairwise(readings)
            if one.bold and two.text.startswith("edge") and one.angle_deg == upright
        ]
        assert pairs
        for one, two in pairs:
            heights = [matrix[1] * x + matrix[3] * y + matrix[5] for x, y in (one.at, two.at)]
            assert heights[0] < heights[1], (one.text, two.text)


def test_twice_is_as_it_was():
    drawing = build_drawing(random_balls(5, least=4, most=6), None)
    back = from_far_end(from_far_end(drawing))
    for one, other in zip(drawing.items, back.items, strict=True):
        if isinstance(one, Text):
            assert other.at == pytest.approx(one.at) and other.angle_deg == one.angle_deg
        else:
            assert one == other
