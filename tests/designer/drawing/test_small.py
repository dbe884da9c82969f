"""Small pictures: every ball in its place, larger than life, and not one letter."""

import pytest

from designer.drawing import roles
from designer.drawing.model import Disc, Fill, Text
from designer.drawing.small import LARGER, set_up_drawing
from tests.engine.library.generated_routines import generated


@pytest.mark.parametrize("number", range(12))
def test_balls_and_gaps_without_letters(number):
    routine = generated(number)
    items = set_up_drawing(routine).items
    assert not [item for item in items if isinstance(item, Text)]
    balls = [item for item in items if isinstance(item, Disc) and item.role == roles.BALL]
    there = {item.centre for item in balls}
    assert there == {ball.centre_mm for ball in routine.balls}
    assert max(item.radius_mm for item in balls) == pytest.approx(LARGER * 26.25, rel=0.1)
    assert [item for item in items if item.role == roles.GAP]
    labels = [i for i in items if isinstance(i, Fill) and i.role == roles.GAP and i.opacity > 0.5]
    assert labels == []
