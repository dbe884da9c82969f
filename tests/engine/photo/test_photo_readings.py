"""Balls read off invented photographs, held to where they truly stand."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from engine.photo import (
    BallMark,
    Camera,
    ball_place,
    fit_camera,
    outline,
    outline_middle,
    read_photo,
    within_mm,
)
from engine.photo.lens import bent, straightened
from engine.storage import load_routine
from engine.storage.photo_files import checked_picture, load_photo_marks
from tests.engine.photo.cases import LENSES, PLACES, TABLE, case, plain_case
from tests.engine.photo.darkroom import RADIUS_MM, Lens, Pose
from tests.shares import FULL

COUNT = 200 if FULL else 40
PHONE = Pose((700, -1200, 1550), (900, 1600, 0), (4000, 3000), 26.0, 0.01, LENSES[0])


@pytest.fixture(scope="module")
def readings():
    """For every case: off by how much, the distance told, and whether a mark was set aside."""
    rows = []
    for seed in range(2000, 2000 + COUNT):
        one = case(seed)
        found = read_photo(one.photo)
        off = np.hypot(*np.subtract(found.balls[0].read_mm, one.ball_mm))
        rows.append((off, found.balls[0].within_mm, bool(found.fit.bad_marks)))
    return np.array(rows)


@pytest.mark.slow
def test_the_stated_distance_holds_as_often_as_it_says(readings):
    share = (readings[:, 0] <= readings[:, 1]).mean()
    print(f"{len(readings)} cases: {share:.1%} within what is told")
    # 95 of 100 are meant; in a quarter as many cases chance moves the share further
    assert (0.90 if FULL else 0.86) <= share <= (0.99 if FULL else 1.0)


def test_balls_are_read_to_a_centimetre_in_the_median(readings):
    print(f"median {np.median(readings[:, 0]):.1f} mm, told {np.median(readings[:, 1]):.1f} mm")
    assert np.median(readings[:, 0]) <= 10.0
    assert np.median(readings[:, 1]) <= 25.0


def test_more_marks_make_a_place_surer():
    pose = PHONE
    every = plain_case(pose, 1.5, seed=4)
    few = replace(every, marks=tuple(m for m in every.marks if m.place.startswith("corner")))
    place = np.array([[889.0, 2500.0, RADIUS_MM]])
    assert within_mm(fit_camera(TABLE, every), place) < within_mm(fit_camera(TABLE, few), place)


@pytest.mark.slow
def test_what_is_told_of_a_place_is_the_spread_of_its_readings():
    """The same picture marked by 60 hands: 95 of 100 readings of one place within what is told."""
    truth = np.array([600.0, 2900.0, RADIUS_MM])
    at = PHONE.ball_middle(truth)
    rng = np.random.default_rng(8)
    offs, told = [], []
    for hand in range(60 if FULL else 16):
        fit = fit_camera(TABLE, plain_case(PHONE, 1.5, seed=100 + hand))
        place = ball_place(fit.camera, at + rng.normal(0, 1.5, 2), RADIUS_MM)
        offs.append(np.hypot(*(place - truth[:2])))
        told.append(within_mm(fit, np.array([[*place, RADIUS_MM]]))[0])
    assert np.percentile(offs, 95) == pytest.approx(np.median(told), rel=0.35)


@pytest.mark.parametrize("lens", [*LENSES, Lens()])
def test_exact_marks_give_the_camera_back(lens):
    pose = replace(PHONE, lens=lens)
    fit = fit_camera(TABLE, plain_case(pose))
    assert np.hypot(*(fit.camera.at_mm[:2] - pose.at[:2])) < 15.0
    assert fit.camera.at_mm[2] == pytest.approx(pose.at[2], abs=15.0)
    assert fit.camera.focal_35mm == pytest.approx(pose.film_mm, rel=0.02)
    assert max(check.distance_px for check in fit.checks) < 0.6
    assert not fit.bad_marks and not fit.notes


@pytest.mark.slow
def test_a_bad_mark_is_named_set_aside_and_does_no_harm():
    for seed, place in enumerate(("middle-left", "spot-pink", "corner-top-right")):
        photo = plain_case(PHONE, 1.2, seed=seed)
        mark = photo.mark(place)
        spoiled = photo.with_mark(replace(mark, x_px=mark.x_px + 28.0, y_px=mark.y_px - 15.0))
        fit = fit_camera(TABLE, spoiled)
        assert [check.place.id for check in fit.bad_marks] == [place]
        assert any(place.split("-")[-1] in note and "set aside" in note for note in fit.notes)
        clean = fit_camera(TABLE, photo.without_mark(place))
        spot = np.array([900.0, 2000.0, 0.0])
        assert np.hypot(*(fit.camera.pixels(spot) - clean.camera.pixels(spot))) < 0.5


def test_sound_marks_are_hardly_ever_set_aside(readings):
    assert readings[:, 2].sum() <= (4 if FULL else 2)


def test_marks_that_lie_far_off_on_the_whole_are_told():
    fit = fit_camera(TABLE, plain_case(PHONE, 14.0, seed=3))
    assert fit.doubtful and fit.marking_px > 5.0
    assert any("look at them again" in note for note in fit.notes)


def test_the_middle_of_an_outline_is_not_where_the_balls_middle_is_seen():
    """Closed form against the outline of the cone round the ball, sampled independently."""
    pose = Pose((300, -350, 600), (1300, 900, 0), (4000, 3000), 18.0)
    fit = _as_camera(pose)
    centre = np.array([420.0, 150.0, RADIUS_MM])
    seen = outline_middle(fit, centre, RADIUS_MM)
    assert np.hypot(*(seen - pose.ball_middle(centre))) < 0.02
    assert np.hypot(*(seen - pose.sees(centre))) > 1.0
    assert np.allclose(ball_place(fit, tuple(seen), RADIUS_MM), centre[:2], atol=0.01)
    rim = outline(fit, centre, RADIUS_MM, 180)
    true = pose.outline(centre, 7200)
    nearest = np.hypot(*(rim[:, None] - true[None]).transpose(2, 0, 1)).min(axis=1)
    assert nearest.max() < 0.6


def test_pixels_and_places_lead_back_to_each_other():
    camera = _as_camera(replace(PHONE, lens=Lens("brown", (-0.2, 0.05))))
    rng = np.random.default_rng(2)
    places = np.column_stack((rng.uniform(0, 1778, 300), rng.uniform(0, 3569, 300), [40.0] * 300))
    back = camera.on_level(camera.pixels(places), 40.0)
    assert np.abs(back - places[:, :2]).max() < 1e-5
    points = rng.uniform(-0.8, 0.8, (200, 2))
    for k1, k2 in ((-0.2, 0.05), (0.1, 0.02), (0.0, 0.0)):
        assert np.abs(straightened(bent(points, k1, k2), k1, k2) - points).max() < 1e-9


def test_the_engines_projection_is_the_independent_one():
    for lens in (Lens(), Lens("brown", (-0.2, 0.05)), Lens("brown", (0.08, -0.01))):
        pose = replace(PHONE, lens=lens)
        places = np.array([place.at_mm for place in PLACES])
        assert np.abs(_as_camera(pose).pixels(places) - pose.sees(places)).max() < 1e-6


def test_balls_that_touch_in_the_photograph_are_set_side_by_side():
    centres = {"red-1": (900.0, 2000.0), "red-2": (952.5, 2000.0), "cue": (27.0, 500.0)}
    rng = np.random.default_rng(5)
    photo = plain_case(PHONE, 1.0, seed=5)
    for name, (x, y) in centres.items():
        at = PHONE.ball_middle(np.array([x, y, RADIUS_MM])) + rng.normal(0, 1.0, 2)
        photo = photo.with_ball(BallMark(name, name.split("-")[0], *at))
    found = read_photo(photo)
    balls = {ball.id: ball for ball in found.routine.balls}
    assert list(balls) == list(centres)
    apart = np.hypot(*np.subtract(balls["red-1"].centre_mm, balls["red-2"].centre_mm))
    assert apart >= 52.5 - 1e-6
    assert balls["cue"].x_mm >= RADIUS_MM
    for ball in found.balls:
        off = np.hypot(*np.subtract(ball.placed_mm, centres[ball.mark.id]))
        assert off <= ball.within_mm + ball.settled_mm
        assert balls[ball.mark.id].extra["photo_within_mm"] == round(ball.within_mm, 1)


def test_the_photograph_of_the_examples_is_read_as_it_was_made():
    """Rendered from a routine of the examples by `demo_photograph`; marked with 1 px of error."""
    folder = Path(__file__).resolve().parents[3] / "layouts_demo"
    marks = folder / "photograph" / "table.photo.json"
    routine = load_routine(next(folder.glob("04-*.json")))
    photo = load_photo_marks(marks)
    picture = checked_picture(marks, photo)
    assert picture.held == () and (marks.parent / photo.picture).stat().st_size < 200_000
    found = read_photo(photo, routine)
    assert not found.notes
    for ball in found.balls:
        off = np.hypot(*np.subtract(ball.read_mm, routine.ball(ball.mark.id).centre_mm))
        assert off <= ball.within_mm <= 12.0


def _as_camera(pose: Pose) -> Camera:
    from scipy.spatial.transform import Rotation

    turn = Rotation.from_matrix(pose.axes).as_rotvec()
    numbers = pose.lens.numbers if pose.lens.kind == "brown" else (0.0, 0.0)
    shift = -pose.axes @ np.array(pose.at)
    return Camera(pose.size, pose.focal, tuple(pose.middle), *numbers, tuple(turn), tuple(shift))
