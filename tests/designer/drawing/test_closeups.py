"""The close-ups: true offsets of the contact, true heights of the tip, labels that keep apart."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from lxml import etree

from designer.drawing import Look, contact_drawing, roles, tip_drawing
from designer.drawing.model import Disc, Drawing, Stroke, Text
from designer.drawing.tip_height import TIP_MM
from designer.painters.svg import svg_bytes
from designer.words.figures import angle
from engine.routine.context import conditions_of
from tests.designer.samples.invented_answers import R, blue_and_back

LOOK = Look().at_scale(2.0)


def discs(drawing: Drawing, role: str) -> list[Disc]:
    return [item for item in drawing.with_roles(role) if isinstance(item, Disc)]


@pytest.mark.parametrize("cut", [0.0, 8.8, 30.0, 61.0, 85.0])
@pytest.mark.parametrize("side", ["left", "right"])
def test_the_view_from_behind_is_offset_by_the_cut(cut, side):
    """Fullness 1 − sin(cut): the centres lie 2R·sin(cut) apart as the player sees them."""
    routine, answer = blue_and_back()
    full = 1.0 - math.sin(math.radians(cut))
    pot = replace(answer.shots[0].pot, cut_deg=cut, cut_side=side if cut else "", fullness=full)
    drawing = contact_drawing(routine, pot, LOOK)
    ball, cue = discs(drawing, roles.BALL)[0], discs(drawing, roles.CONTACT)[0]
    apart = ball.centre[0] - cue.centre[0]
    assert abs(apart) == pytest.approx(2 * R * math.sin(math.radians(cut)))
    if cut:
        # cut to the left: the cue ball is on the right of the object ball
        assert (apart < 0) == (side == "left")
    bar = next(i for i in drawing.with_roles(roles.CONTACT) if isinstance(i, Stroke))
    (left, _), (right, _) = bar.lines[0]
    assert right - left == pytest.approx(2 * R * full, abs=1e-6)
    told = [item.text for item in drawing.items if isinstance(item, Text)]
    assert f"{full:.2f} of the ball" in told and f"cut {angle(cut)}" in told


def test_from_above_the_balls_touch_and_the_lines_are_square():
    routine, answer = blue_and_back()
    drawing = contact_drawing(routine, answer.shots[0].pot, LOOK)
    potting = next(i for i in drawing.with_roles(roles.POTTING_LINE))
    ninety = next(i for i in drawing.with_roles(roles.NINETY_LINE) if i.dash)
    (ax, ay), (bx, by) = potting.lines[0]
    (cx, cy), (dx, dy) = ninety.lines[0]
    assert (ax, ay) == (cx, cy)
    assert (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) == pytest.approx(0.0, abs=1e-6)
    ball = discs(drawing, roles.BALL)[1]
    assert math.dist(ball.centre, (ax, ay)) == pytest.approx(2 * R)
    cut = math.degrees(math.atan2(abs(bx - ax), by - ay))
    assert cut == pytest.approx(answer.shots[0].pot.cut_deg, abs=1e-6)


def test_the_tip_stands_at_its_height_and_side():
    conditions = conditions_of(blue_and_back()[0])
    drawing = tip_drawing(conditions, (-0.25, 0.1), LOOK)
    (dot,) = discs(drawing, roles.TIP)
    assert dot.centre == pytest.approx((0.1 * R, -0.25 * R)) and 2 * dot.radius_mm == TIP_MM
    assert "7 mm below centre, 3 mm right side" in drawing.description
    blank = tip_drawing(conditions, None, LOOK)
    assert not discs(blank, roles.TIP) and "drawn in" in blank.description


def test_close_ups_are_drawings_like_any_other():
    routine, answer = blue_and_back()
    for drawing in (
        contact_drawing(routine, answer.shots[0].pot),
        tip_drawing(conditions_of(routine), (0.2, 0.0)),
    ):
        root = etree.fromstring(svg_bytes(drawing))
        assert root.find("{http://www.w3.org/2000/svg}desc").text == drawing.description
