"""The part of the table on show: fitting, zooming about a point, panning, turning."""

import pytest
from PySide6.QtCore import QPointF

from designer.table_view.frame import MOST_ZOOM, Frame

BOUNDS = (-130.0, -130.0, 1908.0, 3699.0)


def frame_of(turned, size=(1000, 700)):
    frame = Frame()
    frame.resize(*size)
    frame.show(BOUNDS, turned)
    return frame


@pytest.mark.parametrize("turned", [False, True])
def test_all_of_the_table_fits_and_is_to_scale(turned):
    frame = frame_of(turned)
    corners = [frame.transform().map(QPointF(x, y)) for x in BOUNDS[::2] for y in BOUNDS[1::2]]
    assert all(0 <= p.x() <= 1000 and 0 <= p.y() <= 700 for p in corners)
    a, b, c = (frame.transform().map(QPointF(*p)) for p in ((0, 0), (1000, 0), (0, 1000)))
    across, along = b - a, c - a
    assert across.manhattanLength() == pytest.approx(1000 * frame.px_per_mm)
    assert along.manhattanLength() == pytest.approx(1000 * frame.px_per_mm)


def test_baulk_is_at_the_bottom_or_on_the_left():
    upright, lying = frame_of(False), frame_of(True)
    baulk, top = QPointF(889, 0), QPointF(889, 3569)
    assert upright.transform().map(baulk).y() > upright.transform().map(top).y()
    assert lying.transform().map(baulk).x() < lying.transform().map(top).x()
    # Seen from baulk the left cushion is on the left: lying, that is the upper side.
    left, right = QPointF(0, 1000), QPointF(1778, 1000)
    assert upright.transform().map(left).x() < upright.transform().map(right).x()
    assert lying.transform().map(left).y() < lying.transform().map(right).y()


@pytest.mark.parametrize("turned", [False, True])
def test_from_the_far_end_everything_lies_the_other_way(turned):
    near, far = frame_of(turned), Frame()
    far.resize(1000, 700)
    far.show(BOUNDS, turned, True)
    for place in ((0.0, 0.0), (889.0, 3569.0), (1300.0, 800.0)):
        here, there = near.transform().map(QPointF(*place)), far.transform().map(QPointF(*place))
        assert (there.x(), there.y()) == pytest.approx((1000 - here.x(), 700 - here.y()))
        assert far.to_table(there) == pytest.approx(place)
    assert far.step_mm(1.0, 0.0) == tuple(-v for v in near.step_mm(1.0, 0.0))


@pytest.mark.parametrize("turned", [False, True])
def test_zooming_keeps_the_point_under_the_pointer(turned):
    frame = frame_of(turned)
    at = QPointF(431, 256)
    before = frame.to_table(at)
    frame.zoom_at(at, 2.5)
    assert frame.zoom == pytest.approx(2.5)
    assert frame.to_table(at) == pytest.approx(before)


def test_zoom_has_its_limits_and_comes_back_to_all():
    frame = frame_of(True)
    whole = frame.transform()
    for _ in range(40):
        frame.zoom_at(QPointF(100, 100), 1.25)
    assert frame.zoom == MOST_ZOOM
    for _ in range(60):
        frame.zoom_at(QPointF(700, 500), 0.8)
    assert frame.zoom == 1.0
    assert frame.transform() == whole


@pytest.mark.parametrize("turned", [False, True])
def test_panning_moves_with_the_pointer_and_not_while_all_is_shown(turned):
    frame = frame_of(turned)
    whole = frame.transform()
    frame.pan(QPointF(30, 20))
    assert frame.transform() == whole
    frame.zoom_at(QPointF(500, 350), 3.0)
    held = frame.to_table(QPointF(500, 350))
    frame.pan(QPointF(30, -20))
    assert frame.to_table(QPointF(530, 330)) == pytest.approx(held)


def test_panning_never_loses_the_table():
    frame = frame_of(True)
    frame.zoom_at(QPointF(500, 350), 4.0)
    for _ in range(50):
        frame.pan(QPointF(900, 900))
    x, y = frame.to_table(QPointF(500, 350))
    assert BOUNDS[0] - 1e-6 <= x <= BOUNDS[2] + 1e-6
    assert BOUNDS[1] - 1e-6 <= y <= BOUNDS[3] + 1e-6


def test_a_step_to_the_right_is_up_the_table_when_it_lies():
    assert frame_of(True).step_mm(1.0, 0.0) == (0.0, 1.0)
    assert frame_of(True).step_mm(0.0, 1.0) == (-1.0, 0.0)
    assert frame_of(False).step_mm(0.0, 1.0) == (0.0, 1.0)
