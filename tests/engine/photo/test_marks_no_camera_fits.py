"""Marks no camera over the table could have given, and those that hardly one could."""

from dataclasses import replace

import numpy as np
import pytest

from engine.errors import BaizewrightError
from engine.photo import Mark, PhotoMarks, fit_camera, mark_places, nose_height_mm, within_mm
from engine.tables import load_table
from tests.engine.photo.cases import TABLE, plain_case
from tests.engine.photo.darkroom import NOSE_MM, Lens, Pose

SIZE = (4000, 3000)
POSE = Pose((700, -1200, 1550), (900, 1600, 0), SIZE, 26.0, 0.01, Lens())
EVERY = plain_case(POSE, 1.0)


def marks(focal: float, *places: tuple[str, float, float]) -> PhotoMarks:
    return PhotoMarks("scrawl.jpg", SIZE, focal_35mm=focal, marks=tuple(Mark(*p) for p in places))


def refused(photo: PhotoMarks) -> str:
    with pytest.raises(BaizewrightError) as told:
        fit_camera(TABLE, photo)
    return str(told.value)


NOWHERE = marks(
    8.0, ("spot-brown", 3654.0, 1078.0), ("spot-blue", 2516.0, 2750.0),
    ("spot-yellow", 1351.0, 199.0), ("middle-right", 1689.0, 1184.0),
)  # fmt: skip
UNDER = marks(
    8.0, ("corner-top-left", 3287.0, 1847.0), ("middle-right", 2339.0, 237.0),
    ("corner-top-right", 755.0, 2021.0), ("spot-green", 3806.0, 727.0),
)  # fmt: skip


@pytest.mark.parametrize(("photo", "where"), [(NOWHERE, "nowhere"), (UNDER, "under the table")])
def test_scattered_marks_with_a_lens_of_8_mm_fit_no_camera(photo, where):
    words = refused(photo)
    assert words.startswith(f"the camera’s place is {where}, by these marks")
    assert "wanted a place above the table" in words
    assert "whether every mark is on its own place" in words


@pytest.mark.slow
def test_four_scattered_marks_are_answered_with_a_warning_or_not_at_all():
    """Whatever is scattered over the picture: an answer above the table, or one of the refusals."""
    rng, answered = np.random.default_rng(11), 0
    names = [place.id for place in mark_places(TABLE)]
    for _ in range(60):
        chosen = rng.permutation(len(names))[: int(rng.integers(4, 7))]
        at = rng.uniform(0.0, 1.0, (len(chosen), 2)) * SIZE
        photo = marks(
            float(rng.choice([0.0, 26.0, 1000.0])),
            *((names[i], float(x), float(y)) for i, (x, y) in zip(chosen, at, strict=True)),
        )
        try:
            fit = fit_camera(TABLE, photo)
        except BaizewrightError as error:
            assert "wanted" in str(error)
            continue
        answered += 1
        assert fit.camera.at_mm[2] > 0.0 and np.isfinite(fit.spread).all()
        assert fit.notes, "scattered marks are never taken without a word"
    assert answered >= 1


def test_a_fit_that_cannot_be_refined_keeps_what_it_has():
    """Marks of which one contradicts the four others: it is named, with how far off it lies."""
    photo = marks(
        0.0, ("middle-right", 1802.0, 2478.0), ("spot-pink", 3034.0, 1572.0),
        ("spot-brown", 3579.0, 643.0), ("corner-top-left", 3944.0, 1443.0),
        ("corner-bottom-right", 1101.0, 1614.0),
    )  # fmt: skip
    fit = fit_camera(TABLE, photo)
    (bad,) = fit.bad_marks
    assert bad.place.id == "spot-pink" and bad.distance_px > 200.0
    assert fit.notes[0].kind == "mark-set-aside"
    assert fit.notes[0].values["off_px"] == bad.distance_px
    steep = marks(
        1000.0, ("corner-top-left", 1476.0, 1534.0), ("spot-pink", 2651.0, 826.0),
        ("spot-brown", 552.0, 2364.0), ("corner-bottom-right", 2681.0, 1537.0),
    )  # fmt: skip
    four = fit_camera(TABLE, steep)
    assert four.camera.at_mm[2] > 0.0 and np.isfinite(four.spread).all()
    assert "four-marks" in [note.kind for note in four.notes]


def test_marks_on_one_line_of_the_picture_were_taken_from_too_low():
    low = replace(EVERY, marks=tuple(replace(one, y_px=1500.0) for one in EVERY.marks))
    words = refused(low)
    assert words.startswith("the lie of the marks in the picture is along one line")
    assert "a view from above the table’s bed" in words and "from higher up" in words


def test_marks_exchanged_all_round_are_told_by_their_names():
    """Six marks passed on in a ring: no two alone, no single one, so each is to be looked at."""
    ring = [one.place for one in EVERY.marks][:6]
    moved = replace(
        EVERY,
        marks=tuple(
            Mark(name, *EVERY.mark(ring[(i + 2) % len(ring)]).at_px) for i, name in enumerate(ring)
        ),
    )
    words = refused(moved)
    titles = [next(p.title for p in mark_places(TABLE) if p.id == name) for name in ring]
    assert f"crossed ({', '.join(titles)})" in words
    assert "Look at each again: some are on each other’s places" in words


def test_a_table_without_pockets_or_a_stated_nose_is_marked_by_what_it_has():
    carom = load_table("carom")
    ids = [place.id for place in mark_places(carom)]
    assert not [name for name in ids if name.startswith("middle")]
    assert sorted(ids) == sorted(
        [f"corner-{end}-{side}" for end in ("bottom", "top") for side in ("left", "right")]
        + [f"spot-{spot.id}" for spot in carom.spots]
    )
    assert nose_height_mm(TABLE) == NOSE_MM
    unstated = {name: one for name, one in TABLE.values.items() if name != "cushion_nose_mm"}
    # physics.md: the nose at 1.4 radii of a ball of 52.5 mm
    assert nose_height_mm(replace(TABLE, values=unstated)) == pytest.approx(1.4 * 26.25)


def test_a_place_behind_the_camera_is_told_to_lie_anywhere():
    fit = fit_camera(TABLE, EVERY)
    behind = np.array([[700.0, -4000.0, 1550.0]])
    assert within_mm(fit, behind).tolist() == [np.inf]
    both = within_mm(fit, np.vstack((behind, [[889.0, 1000.0, 26.25]])), np.array([1.0, 1.0]))
    assert np.isinf(both[0]) and 0.0 < both[1] < 50.0
