"""The close-ups: true offsets of the contact, true heights of the tip, labels that keep apart."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from lxml import etree

from designer.drawing import Look, contact_drawing, roles, tip_drawing
from designer.drawing.model import Disc, Drawing, Stroke, Text
from designer.drawing.placing import boxes_meet, text_box
from designer.painters.svg import svg_bytes
from designer.words.figures import angle
from engine.results import GapVerdict, ReachWindow
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


def test_tips_stand_at_their_heights_and_sides():
    routine, answer = blue_and_back()
    lanes = [replace(lane, side=0.1 * index) for index, lane in enumerate(answer.shots[0].lanes)]
    drawing = tip_drawing(routine, lanes, (), LOOK)
    dots = discs(drawing, roles.TIP)
    assert [dot.centre for dot in dots] == [
        pytest.approx((lane.side * R, lane.tip_height * R)) for lane in lanes
    ]
    told = [item.text for item in drawing.items if isinstance(item, Text)]
    assert told == ["A +13", "B +7", "C −3", "D −7", "E −13"]


def test_labels_of_equal_heights_keep_apart():
    routine, answer = blue_and_back()
    lanes = [replace(lane, tip_height=-0.2) for lane in answer.shots[0].lanes]
    drawing = tip_drawing(routine, lanes, (), LOOK)
    texts = [item for item in drawing.items if isinstance(item, Text)]
    assert len(texts) == 5
    for one, other in itertools.combinations(texts, 2):
        assert not boxes_meet(text_box(one), text_box(other))
    x0, y0, x1, y1 = drawing.bounds
    for text in texts:
        a, b, c, d = text_box(text)
        assert a >= x0 and b >= y0 and c <= x1 and d <= y1


def test_bars_show_the_windows_of_reachable_gaps():
    routine, answer = blue_and_back()
    window = ReachWindow(-0.3, 0.1, 2.0, 6.0, -0.1, 4.0, 20.0)
    verdicts = [
        GapVerdict("g", "shot-1", False, 90.0, (), 12.0),
        GapVerdict("h", "shot-1", True, 90.0, (window,), None),
    ]
    drawing = tip_drawing(routine, answer.shots[0].lanes, verdicts, LOOK)
    bars = [
        item.lines[0] for item in drawing.with_roles(roles.TIP)
        if isinstance(item, Stroke) and len(item.lines) == 1 and item.lines[0][0][0] < -R
    ]  # fmt: skip
    assert [(bar[0][1], bar[1][1]) for bar in bars] == [pytest.approx((-0.3 * R, 0.1 * R))]
    assert [t.text for t in drawing.items if isinstance(t, Text) and t.at[0] < -R] == ["2"]


def test_close_ups_are_drawings_like_any_other():
    routine, answer = blue_and_back()
    for drawing in (
        contact_drawing(routine, answer.shots[0].pot),
        tip_drawing(routine, answer.shots[0].lanes),
    ):
        root = etree.fromstring(svg_bytes(drawing))
        assert root.find("{http://www.w3.org/2000/svg}desc").text == drawing.description
