"""Drawings and sheets of every table the engine knows, with balls of unequal size."""

from __future__ import annotations

import math

import pytest

from designer.drawing import PLACEMENT_LAYERS, build_drawing, roles
from designer.drawing.model import Disc, Text
from designer.drawing.radii import radius_of, touch_mm
from designer.handouts import handout_pdf
from engine.balls import Ball
from engine.placement import checking_distances, placements
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from engine.tables import load_table, table_ids
from tests.designer.pdf_pages import page_texts


def on_table(table_id: str) -> tuple[Routine, RoutineAnswer]:
    table = load_table(table_id)
    width, length = table.width_mm, table.length_mm
    balls = (
        Ball("cue", "cue", 0.3 * width, 0.25 * length),
        Ball("one", "red", 0.6 * width, 0.7 * length),
        Ball("two", "plain", 0.62 * width, 0.6 * length, label="7"),
    )
    routine = Routine(title="Any table", table=table_id, balls=balls)
    return routine, RoutineAnswer("0", (), (), (), (), placements(routine))


@pytest.mark.parametrize("table_id", table_ids())
@pytest.mark.slow
def test_every_table_is_drawn_and_printed(table_id):
    routine, answer = on_table(table_id)
    table = load_table(table_id)
    drawing = build_drawing(routine, answer, PLACEMENT_LAYERS)
    assert len(drawing.with_roles(roles.BALL)) == 3
    x0, y0, x1, y1 = drawing.bounds
    assert x0 < 0 < table.width_mm < x1 and y0 < 0 < table.length_mm < y1
    data = handout_pdf([(routine, answer)], audience="player")
    text = " ".join(page_texts(data))
    for place in answer.placements:
        assert f"{place.across.centre_mm:.0f}" in text


def test_unequal_balls_are_drawn_at_their_own_size():
    """A cue ball larger than the others, as on some tables: read from the conditions."""
    balls = (Ball("cue", "cue", 500.0, 500.0), Ball("red", "red", 700.0, 500.0))
    routine = Routine(balls=balls, conditions={"ball_radius_mm": 25.4, "cue_ball_radius_mm": 28.0})
    drawing = build_drawing(routine, None)
    sizes = [d.radius_mm + d.edge_mm / 2 for d in drawing.with_roles(roles.BALL)
             if isinstance(d, Disc)]  # fmt: skip
    assert sizes == pytest.approx([28.0, 25.4])
    assert (radius_of(routine, "cue"), radius_of(routine, "red")) == (28.0, 25.4)
    assert touch_mm(routine, "cue", "red") == pytest.approx(2 * math.sqrt(28.0 * 25.4))
    check = next(c for c in checking_distances(routine) if c.kind == "ball")
    assert check.edge_mm == pytest.approx(200.0 - 28.0 - 25.4)
    readings = placements(routine)[0]
    assert readings.across.edge_mm == pytest.approx(500.0 - 28.0)
    assert any(isinstance(item, Text) for item in drawing.items)
