"""A pocket too thin is told with by how much; the way to an edge is never less than nothing."""

import math

import pytest

from engine.balls import Ball
from engine.conditions import usual_conditions
from engine.potting import pocket_window, pot
from engine.potting.vectors import to_edge_mm
from engine.routine.values import Shot
from engine.tables import load_table

TABLE = load_table("snooker-12ft")
CONDITIONS = usual_conditions(TABLE)


def test_what_is_lacking_is_told_above_nothing():
    # along the side cushion the middle pocket shows no opening
    target = Ball("a", "red", 60.0, 3000.0)
    balls = (Ball("cue", "cue", 75.0, 3300.0), target)
    found = pot(TABLE, CONDITIONS, balls, Shot("s", "a", "middle-left"))
    window = pocket_window(TABLE.pocket("middle-left"), target.centre_mm, 26.25)
    assert not found.on and window.half_width_rad < 0.0
    (told,) = (one for one in found.reasons if one.kind == "pocket-thin")
    assert told.deg == pytest.approx(math.degrees(-window.half_width_rad)) and told.deg > 0


@pytest.mark.parametrize(
    ("start", "far"), [((5.0, 5.0), 5.0), ((10.0, 5.0), 0.0), ((12.0, 5.0), 0.0)]
)
def test_the_way_to_an_edge(start, far):
    assert to_edge_mm(start, 0.0, (0.0, 0.0), (10.0, 10.0)) == pytest.approx(far)
