"""The camera against a pinhole worked out by hand: straight down, up, and what it holds."""

from dataclasses import replace

import numpy as np
import pytest

from engine.photo import Camera, ball_place, outline
from engine.photo.lens import widest

#: No turn at all: x to the right, y down, looking along the table's z, that is up at the ceiling.
UPWARDS = Camera((800, 600), 500.0, (399.5, 299.5), 0.0, 0.0, (0.0, 0.0, 0.0), (0.0, 0.0, 2000.0))
#: Turned by half a circle about x it looks down from 2000 mm, x to the right and y up.
DOWN = replace(UPWARDS, turn=(np.pi, 0.0, 0.0))


def test_a_camera_without_turn_keeps_the_tables_axes():
    assert np.array_equal(UPWARDS.rotation, np.eye(3))
    assert UPWARDS.at_mm == pytest.approx([0.0, 0.0, -2000.0])
    # 100 mm aside at 2000 mm: 500 · 100 / 2000 = 25 px
    assert UPWARDS.pixels(np.array([100.0, 0.0, 0.0])) == pytest.approx([424.5, 299.5])
    assert UPWARDS.pixels(np.array([0.0, 100.0, 0.0])) == pytest.approx([399.5, 324.5])


def test_a_camera_straight_above_sees_y_upwards():
    assert DOWN.at_mm == pytest.approx([0.0, 0.0, 2000.0], abs=1e-9)
    assert DOWN.pixels(np.array([100.0, 80.0, 0.0])) == pytest.approx([424.5, 279.5])
    assert DOWN.on_level(np.array([424.5, 279.5])) == pytest.approx([100.0, 80.0])
    assert np.isnan(DOWN.pixels(np.array([0.0, 0.0, 2100.0]))).all(), "behind the camera"


def test_what_an_ideal_picture_would_have_to_hold():
    """The picture's rims over the focal length, a tenth to spare: 399.5 / 500 · 1.1."""
    assert DOWN.reach == pytest.approx((-0.8789, -0.6589, 0.8789, 0.6589))
    aside = replace(DOWN, middle_px=(299.5, 299.5))
    assert aside.reach == pytest.approx((-0.6589, -0.6589, 1.0989, 0.6589))


@pytest.mark.slow
def test_a_barrel_lens_holds_more_but_never_more_than_it_is_known_for():
    """The corner, seen at (0.799, 0.599), came from r with r·(1 + k1·r²) = hypot of these."""
    bent = replace(DOWN, k1=-0.1)
    seen = np.hypot(0.799, 0.599)
    true = next(r for r in np.linspace(0.0, 1.5, 1_500_001) if r * (1 - 0.1 * r * r) >= seen)
    corner = 1.1 * true / seen * np.array([0.799, 0.599])
    assert bent.reach[2:] == pytest.approx(corner, rel=1e-5)
    strong = replace(DOWN, k1=-0.5)
    limit = widest(-0.5, 0.0)
    # 1 − 1.5·r² = 0: the lens folds back at sqrt(2/3); told a little before, on steps of 0.005
    assert limit == pytest.approx(np.sqrt(2.0 / 3.0), abs=0.012) and limit < np.sqrt(2.0 / 3.0)
    assert max(map(abs, strong.reach)) <= limit


def test_a_ball_the_camera_touches_has_no_outline():
    radius = 26.25
    for near in (1990.0, 2000.0 - radius, 2100.0):
        assert np.isnan(outline(DOWN, np.array([0.0, 0.0, near]), radius)).all()
    rim = outline(DOWN, np.array([0.0, 0.0, 1000.0]), radius)
    # straight below: a circle of tan(asin(R / 1000)) · 500 px
    assert np.hypot(*(rim - 399.5 + [0.0, 100.0]).T) == pytest.approx(
        500.0 * np.tan(np.arcsin(radius / 1000.0)), rel=1e-9
    )


def test_a_ball_over_the_horizon_stands_nowhere():
    """Looking along the table: what is above the middle looks over it."""
    level = Camera(
        (800, 600), 500.0, (399.5, 299.5), 0.0, 0.0, (np.pi / 2, 0.0, 0.0), (0.0, 900.0, 0.0)
    )
    assert level.at_mm == pytest.approx([0.0, 0.0, 900.0], abs=1e-9)
    below = level.pixels(np.array([0.0, 2000.0, 26.25]))
    assert below[1] > 299.5
    assert np.isfinite(ball_place(level, (399.5, 400.0), 26.25)).all()
    assert np.isnan(ball_place(level, (399.5, 200.0), 26.25)).all()
