"""Balls suggested from rendered photographs, held to the middles of their true outlines."""

import numpy as np
import pytest

from engine.photo import fit_camera, suggest_middle
from tests.engine.photo.cases import TABLE, plain_case
from tests.engine.photo.darkroom import BALLS, RADIUS_MM, Lens, Pose, render
from tests.shares import mixed

POSE = Pose(
    (700, 300, 900), (900, 1500, 0), (1200, 900), 26.0, 0.02, Lens("brown", (-0.1, 0.02))
)  # fmt: skip
PLACES = {
    "cue": (700, 1300), "red": (900, 1450), "yellow": (1100, 1350), "green": (800, 1650),
    "brown": (1000, 1700), "blue": (889, 1784), "pink": (700, 1900), "black": (1150, 1950),
}  # fmt: skip
PAIR = ((560.0, 1560.0), (609.0, 1579.0))


@pytest.fixture(scope="module")
def picture():
    balls = [(kind, *PLACES[kind]) for kind in BALLS]
    return render(POSE, [*balls, *(("red", *at) for at in PAIR)], finer=1)


@pytest.fixture(scope="module")
def camera():
    return fit_camera(TABLE, plain_case(POSE, 0.5)).camera


def true_middle(x, y):
    return POSE.ball_middle(np.array([x, y, RADIUS_MM]))


@pytest.mark.parametrize(("known", "kind"), mixed((True, False), sorted(BALLS), usual=6))
@pytest.mark.slow
def test_every_ball_is_found_from_a_rough_click(picture, camera, kind, known):
    true = true_middle(*PLACES[kind])
    for off in ((0, 0), (5, -4), (-6, 3)):
        found = suggest_middle(
            picture, (true[0] + off[0], true[1] + off[1]), camera=camera if known else None
        )
        assert found is not None
        assert np.hypot(*np.subtract(found.middle_px, true)) < 1.0
        assert found.kind == kind
        assert 0.1 <= found.spread_px <= 2.0


@pytest.mark.slow
def test_touching_balls_are_told_apart(picture, camera):
    for at in PAIR:
        true = true_middle(*at)
        found = suggest_middle(picture, (true[0] + 2, true[1] + 2), camera=camera)
        assert found is not None
        assert np.hypot(*np.subtract(found.middle_px, true)) < 1.5


def test_where_no_ball_is_none_is_suggested(picture, camera):
    for at in ((600, 1000), (1200, 1500), (880, 2300)):
        x, y = POSE.sees(np.array([*at, 0.0]))
        assert suggest_middle(picture, (x, y), camera=camera) is None
        assert suggest_middle(picture, (x, y)) is None
    assert suggest_middle(picture, (-500.0, -500.0), camera=camera) is None
