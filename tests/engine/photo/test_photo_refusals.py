"""Marks and pictures that cannot be used: each is told in words that say what to do."""

from dataclasses import replace

import numpy as np
import pytest

from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError
from engine.photo import BallMark, Mark, PhotoMarks, fit_camera, jpeg_of, picture_of, read_photo
from tests.engine.photo.cases import LENSES, TABLE, plain_case
from tests.engine.photo.darkroom import Pose

POSE = Pose((700, -1200, 1550), (900, 1600, 0), (4000, 3000), 26.0, 0.01, LENSES[0])
EVERY = plain_case(POSE, 1.0)


def only(*places: str) -> PhotoMarks:
    return replace(EVERY, marks=tuple(one for one in EVERY.marks if one.place in places))


def refused(photo: PhotoMarks) -> str:
    with pytest.raises(BaizewrightError) as told:
        fit_camera(TABLE, photo)
    return str(told.value)


@pytest.mark.parametrize("count", [0, 1, 2, 3])
def test_fewer_than_four_marks(count):
    words = refused(replace(EVERY, marks=EVERY.marks[:count]))
    assert words.startswith(f"the number of marks is {count}; wanted at least 4.")
    assert "Mark more places" in words


@pytest.mark.parametrize(
    "places",
    [
        ("spot-brown", "spot-blue", "spot-pink", "spot-black"),
        ("spot-brown", "spot-blue", "spot-pink", "spot-black", "corner-top-left"),
        ("corner-bottom-left", "middle-left", "corner-top-left", "spot-blue"),
        ("spot-green", "spot-brown", "spot-yellow", "spot-black"),
    ],
)
def test_marks_on_one_line(places):
    words = refused(only(*places))
    assert "one line" in words and "no three lie on a line" in words
    assert "Mark a corner or a middle pocket on each side" in words


def test_four_corners_are_enough():
    corners = only(
        "corner-bottom-left", "corner-bottom-right", "corner-top-left", "corner-top-right"
    )
    fit = fit_camera(TABLE, corners)
    assert "four-marks" in [note.kind for note in fit.notes]


def test_a_mirrored_order():
    turned = {"left": "right", "right": "left", "yellow": "green", "green": "yellow"}
    marks = tuple(
        replace(one, place=one.place.replace(end, turned[end]))
        if (end := one.place.split("-")[-1]) in turned
        else one
        for one in EVERY.marks
    )
    words = refused(replace(EVERY, marks=marks))
    assert "mirrored" in words and "as seen from baulk" in words
    flipped = tuple(replace(one, x_px=3999.0 - one.x_px) for one in EVERY.marks)
    assert "mirrored" in refused(replace(EVERY, marks=flipped))


@pytest.mark.parametrize(
    ("one", "other", "names"),
    [
        ("corner-bottom-left", "corner-bottom-right", ("bottom left corner", "bottom right")),
        ("middle-left", "middle-right", ("left middle pocket", "right middle pocket")),
        ("spot-pink", "corner-top-left", ("pink spot", "top left corner")),
    ],
)
def test_two_exchanged_marks_are_named(one, other, names):
    first, second = EVERY.mark(one), EVERY.mark(other)
    swapped = EVERY.with_mark(replace(first, x_px=second.x_px, y_px=second.y_px))
    swapped = swapped.with_mark(replace(second, x_px=first.x_px, y_px=first.y_px))
    words = refused(swapped)
    assert "crossed" in words and all(name in words for name in names)
    assert "These two seem to be exchanged" in words


def test_a_mark_on_quite_another_place_is_named():
    stray = EVERY.with_mark(replace(EVERY.mark("spot-blue"), x_px=3900.0, y_px=2900.0))
    words = refused(stray)
    assert "crossed at blue spot" in words and "Look at this mark again" in words


def test_other_marks_that_cannot_be():
    twice = replace(EVERY, marks=(*EVERY.marks, EVERY.marks[0]))
    assert "made twice" in refused(twice)
    with pytest.raises(UnknownNameError, match="corner-bottom-left"):
        fit_camera(TABLE, replace(EVERY, marks=(*EVERY.marks, Mark("corner-x", 5.0, 5.0))))
    far = EVERY.with_mark(replace(EVERY.marks[0], x_px=9000.0))
    assert "upper left" in refused(far)
    assert "width and height" in refused(replace(EVERY, size_px=(0, 0)))


def test_places_of_the_coachs_own_count_like_the_tables():
    own = {"chalk cross": (300.0, 2000.0, 0.0), "cube of chalk": (1500.0, 900.0, 20.0)}
    corners = only("corner-bottom-left", "corner-top-right")
    marks = [Mark(name, *POSE.sees(np.array(at)), at_mm=at) for name, at in own.items()]
    photo = replace(corners, marks=(*corners.marks, *marks))
    fit = fit_camera(TABLE, photo)
    assert [check.place.title for check in fit.checks][-2:] == list(own)
    assert np.hypot(*(fit.camera.pixels(np.array([900.0, 1700.0, 0.0]))
                      - POSE.sees(np.array([900.0, 1700.0, 0.0])))) < 60.0  # fmt: skip
    far = replace(photo, marks=(*corners.marks, marks[0], replace(marks[1], at_mm=(9e3, 0, 0))))
    assert "cube of chalk" in refused(far) and "within 1000 mm" in refused(far)


@pytest.mark.parametrize(
    ("ball", "words"),
    [
        (BallMark("red-1", "red", 2000.0, 20.0), "seen"),
        (BallMark("red-1", "purple", 2000.0, 1500.0), "kind of ball"),
        (BallMark("red-1", "red", -40.0, 1500.0), "a place in the picture"),
    ],
)
def test_balls_that_cannot_be(ball, words):
    with pytest.raises(BaizewrightError, match=words):
        read_photo(EVERY.with_ball(ball))
    twice = replace(EVERY, balls=(BallMark("a", "red", 1800, 1500), BallMark("a", "red", 9, 9)))
    with pytest.raises(OutOfRangeError, match="marked twice"):
        read_photo(twice)


GREY = np.full((150, 200, 3), 90, np.uint8)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty; wanted a JPEG or PNG picture"),
        (b"Dear coach, the picture follows.", "is no picture"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + b"\0" * 40, "is a HEIC picture"),
        (b"GIF89a" + b"\0" * 40, "is a GIF picture"),
        (b"%PDF-1.7 and so on, and so on, and on", "is a PDF"),
        (jpeg_of(GREY)[:700], "broken picture"),
        (jpeg_of(GREY[:50, :50]), "the size of table.jpg is 50 by 50 px"),
    ],
)
def test_a_picture_that_is_none(data, words):
    with pytest.raises(OutOfRangeError) as told:
        picture_of(data, "table.jpg")
    assert words in str(told.value)


def test_a_gif_that_is_whole_is_refused_all_the_same():
    import io

    from PIL import Image

    store = io.BytesIO()
    Image.fromarray(GREY).save(store, "GIF")
    with pytest.raises(OutOfRangeError, match="is a GIF picture; wanted a JPEG or PNG"):
        picture_of(store.getvalue(), "table.gif")
