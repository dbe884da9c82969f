"""The drawing model's page matrix and text sizes; polylines simplified, met and hatched."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from designer.drawing.hatching import corridor_hatch, polygon_hatch
from designer.drawing.model import Disc, Drawing, Text
from designer.drawing.paths import end_heading_deg, first_meeting, sampled, simplified, split_at
from designer.drawing.spreading import spread


def mapped(drawing: Drawing, width: float, point, *, y_down: bool):
    a, b, c, d, e, f = drawing.page_matrix(width, y_down=y_down)
    return (a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f)


def test_upright_page_matrix_puts_the_bounds_on_the_page():
    drawing = Drawing((), (-100.0, -50.0, 300.0, 750.0))
    assert mapped(drawing, 200.0, (-100, -50), y_down=False) == pytest.approx((0, 0))
    assert mapped(drawing, 200.0, (300, 750), y_down=False) == pytest.approx((200, 400))
    assert mapped(drawing, 200.0, (-100, 750), y_down=True) == pytest.approx((0, 0))
    assert mapped(drawing, 200.0, (300, -50), y_down=True) == pytest.approx((200, 400))


def test_turned_page_has_baulk_on_the_left_and_keeps_right_and_left_hands():
    drawing = Drawing((), (0.0, 0.0, 400.0, 800.0), turned=True)
    assert (drawing.width_mm, drawing.height_mm) == (800.0, 400.0)
    assert mapped(drawing, 800.0, (0, 0), y_down=False) == pytest.approx((0, 400))
    assert mapped(drawing, 800.0, (400, 0), y_down=False) == pytest.approx((0, 0))
    assert mapped(drawing, 800.0, (0, 800), y_down=True) == pytest.approx((800, 0))
    a, b, c, d, *_ = drawing.page_matrix(800.0, y_down=False)
    assert a * d - b * c == pytest.approx(1.0), "a mirror image would have determinant -1"


def test_text_anchor_and_width():
    text = Text("x", (0, 0), "888", 100.0, "#000000")
    assert text.width_mm == pytest.approx(3 * 63.6, abs=0.2)  # DejaVu Sans digit: 0.636 em
    assert text.start_shift_mm == pytest.approx(-text.width_mm / 2)
    assert Text("x", (0, 0), "888", 100.0, "#000000", stretch=0.5).width_mm == pytest.approx(
        text.width_mm / 2
    )


def test_items_by_role():
    ball, mark = Disc("ball", (0, 0), 1, "#000000"), Disc("marks", (0, 0), 1, "#000000")
    assert Drawing((ball, mark), (0, 0, 1, 1)).with_roles("ball") == (ball,)


def test_simplified_parabola_strays_little_and_sheds_most_points():
    t = np.linspace(0.0, 1.0, 400)
    path = np.column_stack((900.0 * t, 400.0 * t**2))
    short = simplified(path)
    assert 5 < len(short) < 60
    onto = np.interp(path[:, 0], short[:, 0], short[:, 1])
    assert np.abs(onto - path[:, 1]).max() < 1.0
    assert (short[0] == path[0]).all() and (short[-1] == path[-1]).all()


def test_simplified_keeps_corners_and_drops_standing_points():
    path = np.array([[0, 0], [50, 0], [100, 0], [100, 0], [100, 80], [100, 160.0]])
    assert simplified(path).tolist() == [[0, 0], [100, 0], [100, 160]]
    assert len(simplified(np.zeros((5, 2)))) <= 2


def test_first_meeting_is_where_the_circle_is_entered():
    path = np.array([[0.0, 0.0], [300.0, 0.0], [300.0, 300.0]])
    index, place = first_meeting(path, (200.0, 0.0), 52.5)
    assert index == 0 and place == pytest.approx((147.5, 0.0))
    index, place = first_meeting(path, (330.0, 200.0), 50.0)
    assert index == 1 and place == pytest.approx((300.0, 160.0))
    assert first_meeting(path, (100.0, 60.0), 52.5) is None
    free, rest = split_at(path, index, place)
    assert free[-1].tolist() == rest[0].tolist() == pytest.approx([300.0, 160.0])


def test_heading_and_sampling():
    path = np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 50.0], [100.0, 50.0]])
    assert end_heading_deg(path) == pytest.approx(90.0)
    points = sampled(path, 10.0)
    assert len(points) == 15 and points[-1].tolist() == [100.0, 50.0]


@pytest.mark.parametrize("pattern", ["forward", "backward", "across", "cross", "chevron", "dots"])
def test_corridor_hatch_stays_within_the_corridor(pattern):
    path = np.array([[0.0, 0.0], [500.0, 0.0]])
    lines = corridor_hatch(path, 26.0, pattern, 40.0)
    assert len(lines) >= 12
    assert all(abs(y) <= 26.0 + 1e-9 for line in lines for _, y in line)


def test_hatches_differ_from_each_other():
    path = np.array([[0.0, 0.0], [400.0, 0.0]])
    names = ("forward", "backward", "across", "cross", "chevron", "dots")
    assert len({corridor_hatch(path, 26.0, name, 40.0) for name in names}) == len(names)


def test_polygon_hatch_covers_a_square_and_leaves_its_outside():
    square = ((0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0))
    lines = polygon_hatch(square, 10.0, 45.0)
    total = sum(math.dist(*line) for line in lines)
    assert total * 10.0 == pytest.approx(100.0 * 100.0, rel=0.05)
    assert all(-1e-6 <= v <= 100 + 1e-6 for line in lines for point in line for v in point)


def test_spread_keeps_order_room_and_place():
    wanted, sizes = [10.0, 12.0, 11.0, 500.0], [20.0, 30.0, 40.0, 10.0]
    places = spread(wanted, sizes)
    order = [0, 2, 1, 3]
    assert sorted(range(4), key=lambda i: places[i]) == order
    for one, other in pairwise(order):
        assert places[other] - places[one] >= (sizes[one] + sizes[other]) / 2 - 1e-9
    assert places[3] == 500.0
    assert spread([], []) == []
