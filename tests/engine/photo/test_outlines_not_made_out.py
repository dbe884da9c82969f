"""Where a click shows no ball, or none of the size the camera asks for, nothing is suggested."""

from dataclasses import replace

import numpy as np
import pytest

from engine.photo import Camera, suggest_middle

CLOTH, RED = (60, 130, 80), (170, 30, 35)
#: Looks straight down from 1 m: a ball of 26.25 mm shows with a radius of 19.2 px.
ABOVE = Camera(
    (400, 300), 713.0, (199.5, 149.5), 0.0, 0.0, (np.pi, 0.0, 0.0), (0.0, 0.0, 1000.0)
)  # fmt: skip


def paper(size=(400, 300)):
    return np.full((size[1], size[0], 3), CLOTH, np.uint8)


def disc(pixels, middle, radius, colour=RED):
    yy, xx = np.mgrid[0 : pixels.shape[0], 0 : pixels.shape[1]]
    share = np.clip(radius - np.hypot(xx - middle[0], yy - middle[1]) + 0.5, 0.0, 1.0)[..., None]
    return np.round(pixels * (1.0 - share) + np.array(colour) * share).astype(np.uint8)


@pytest.mark.parametrize("middle", [(199.5, 149.5), (180.3, 140.8)])
@pytest.mark.parametrize("known", [True, False])
def test_a_drawn_disc_is_found_where_it_was_drawn(middle, known):
    found = suggest_middle(
        disc(paper(), middle, 19.2), (middle[0] + 3, middle[1] - 2), camera=ABOVE if known else None
    )
    assert found is not None and found.kind == "red"
    assert np.hypot(*np.subtract(found.middle_px, middle)) < 0.3
    assert found.radius_px == pytest.approx(19.2, abs=0.5) and found.share > 0.9


def test_without_a_camera_a_click_off_the_picture_shows_nothing():
    assert suggest_middle(disc(paper(), (200, 150), 19.2), (-400.0, 150.0)) is None
    assert suggest_middle(disc(paper(), (200, 150), 19.2), (200.0, 900.0)) is None


@pytest.mark.parametrize("radius", [9.0, 28.0])
def test_a_disc_of_another_size_than_the_balls_is_none(radius):
    picture = disc(paper(), (200, 150), radius)
    assert suggest_middle(picture, (200.0, 150.0), camera=ABOVE) is None
    assert suggest_middle(picture, (200.0, 150.0)) is not None, "without a camera it may be one"


@pytest.mark.parametrize("radius", [0.5, 0.9, 1.4, 1.8])
def test_a_speck_is_no_ball(radius):
    assert suggest_middle(disc(paper(), (200, 150), radius), (200.0, 150.0)) is None


def test_a_thin_line_of_colour_is_no_ball():
    line = paper()
    line[149:152, 150:250] = RED
    assert suggest_middle(line, (200.0, 150.0)) is None
    assert suggest_middle(line, (200.0, 150.0), camera=ABOVE) is None


def test_a_square_of_colour_is_no_outline_to_be_sure_of():
    """Only where it touches the circle do its edges lie on it: fewer looks agree than on a disc."""
    square = paper()
    square[110:190, 160:240] = RED
    found = suggest_middle(square, (200.0, 150.0))
    assert found is None or found.share < 0.9


def test_a_half_disc_is_hardly_a_ball():
    half = disc(paper(), (200, 150), 19.2)
    half[:, 200:] = CLOTH
    found = suggest_middle(half, (192.0, 150.0), camera=ABOVE)
    assert found is None or found.share < 0.8


def test_pure_noise_shows_no_ball():
    noise = np.random.default_rng(4).integers(0, 255, (300, 400, 3)).astype(np.uint8)
    for x in range(40, 400, 40):
        found = suggest_middle(noise, (float(x), 150.0), camera=ABOVE)
        assert found is None or found.share < 0.9


def test_a_click_over_the_horizon_is_taken_without_the_cameras_help():
    """No ball can be seen there, so none has a size: a disc is laid by its colour alone."""
    picture = disc(paper((1200, 900)), (600, 20), 15.0)
    level = replace(
        ABOVE,
        size_px=(1200, 900),
        middle_px=(599.5, 449.5),
        turn=(np.pi / 2, 0.0, 0.0),
        shift_mm=(0.0, 900.0, 0.0),
    )
    found = suggest_middle(picture, (601.0, 21.0), camera=level)
    assert found is not None
    assert np.hypot(*np.subtract(found.middle_px, (600, 20))) < 0.5


def test_a_ball_under_the_cameras_own_nose_has_no_outline_to_look_for():
    close = replace(ABOVE, shift_mm=(0.0, 0.0, 40.0))
    assert suggest_middle(disc(paper(), (200, 150), 60.0), (200.0, 150.0), camera=close) is None


def test_a_click_into_the_very_corner_sees_too_little_of_a_ball():
    assert suggest_middle(disc(paper(), (0, 0), 3.0), (0.0, 0.0)) is None


def test_a_ball_on_a_stalk_is_not_what_was_clicked_at_the_stalks_end():
    """The largest circle of that colour lies more than its radius and a third from the click."""
    picture = disc(paper(), (225, 150), 10.0)
    picture[147:154, 196:225] = RED
    assert suggest_middle(picture, (200.0, 150.0)) is None
    assert suggest_middle(picture, (222.0, 150.0)) is not None


@pytest.mark.parametrize("seed", [*range(24), 1862])
def test_whatever_is_suggested_in_a_heap_of_shapes_is_where_and_as_large_as_it_may_be(seed):
    rng, picture = np.random.default_rng(seed), paper()
    for _ in range(rng.integers(1, 5)):
        x, y = rng.uniform(170, 230), rng.uniform(120, 180)
        if rng.random() < 0.5:
            picture = disc(picture, (x, y), rng.uniform(5, 25), tuple(rng.integers(0, 255, 3)))
        else:
            w, h = rng.uniform(3, 50, 2)
            rows = slice(int(y - h / 2), int(y + h / 2) + 1)
            columns = slice(int(x - w / 2), int(x + w / 2) + 1)
            picture[rows, columns] = rng.integers(0, 255, 3)
    for camera in (ABOVE, None):
        found = suggest_middle(picture, (200.0, 150.0), camera=camera)
        if found is None:
            continue
        assert found.share >= 0.45 and found.spread_px >= 0.5
        assert np.hypot(*np.subtract(found.middle_px, (200, 150))) <= 1.3 * found.radius_px
        if camera is not None:
            assert 0.75 * 19.2 - 0.1 <= found.radius_px <= 1.33 * 19.2 + 0.1
