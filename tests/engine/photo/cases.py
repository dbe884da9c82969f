"""Invented photographs as marks: where a coach would have clicked, with the hand's error."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from engine.photo import BallMark, Mark, PhotoMarks, mark_places
from engine.tables import load_table
from tests.engine.photo.darkroom import RADIUS_MM, Lens, Pose

TABLE = load_table("snooker-12ft")
PLACES = mark_places(TABLE)

#: A phone's own correction leaves little; a wide lens bends a lot. Two laws of distortion.
LENSES = (
    Lens("brown", (-0.06, 0.01)),
    Lens("division", (-0.16,)),
)


@dataclass(frozen=True)
class Case:
    """A pose, the marks, one ball where it truly stands."""

    pose: Pose
    photo: PhotoMarks
    ball_mm: tuple[float, float]


def poses(rng: np.random.Generator) -> Pose:
    """A phone held by someone at the table: behind baulk, at a side, at a corner, on a chair."""
    place = {
        0: (rng.uniform(200, 1500), rng.uniform(-1700, -900), rng.uniform(1250, 1750)),
        1: (rng.uniform(-1700, -1000), rng.uniform(800, 2800), rng.uniform(1250, 1900)),
        2: (rng.uniform(2500, 3200), rng.uniform(-1200, -500), rng.uniform(1300, 1800)),
        3: (rng.uniform(300, 1500), rng.uniform(-1500, -900), rng.uniform(2000, 2600)),
        4: (rng.uniform(200, 1500), rng.uniform(4500, 5100), rng.uniform(1250, 1750)),
    }[int(rng.integers(5))]
    target = (889 + rng.normal(0, 90), 1700 + rng.normal(0, 150), 0.0)
    lens = LENSES[int(rng.integers(len(LENSES)))]
    return Pose(place, target, (4000, 3000), rng.uniform(23, 29), rng.normal(0, 0.03), lens)


def marks_in(
    pose: Pose, rng: np.random.Generator, error_px: float, count: int = 12
) -> tuple[Mark, ...]:
    """Up to `count` of the places that are in the picture, at random, each off by the error."""
    seen = [(place, pose.sees(np.array(place.at_mm))) for place in PLACES]
    there = [(place, at) for place, at in seen if pose.holds(at)]
    order = rng.permutation(len(there))[:count]
    return tuple(Mark(there[i][0].id, *(there[i][1] + rng.normal(0, error_px, 2))) for i in order)


def case(seed: int, least: int = 6) -> Case:
    """One case: 6 to 12 marks with an error of 1 to 2 px, half of them with the lens stated."""
    rng = np.random.default_rng(seed)
    while True:
        pose = poses(rng)
        error = rng.uniform(1.0, 2.0)
        marks = marks_in(pose, rng, error, int(rng.integers(least, 13)))
        ball = (float(rng.uniform(60, 1718)), float(rng.uniform(60, 3509)))
        at = pose.ball_middle(np.array([*ball, RADIUS_MM]))
        if len(marks) >= least and pose.holds(at, 20.0):
            break
    seen = at + rng.normal(0, error, 2)
    stated = float(round(pose.film_mm)) if seed % 2 else 0.0
    photo = PhotoMarks(
        "invented.jpg", pose.size, "snooker-12ft", stated,
        marks=marks, balls=(BallMark("red", "red", *seen),),
    )  # fmt: skip
    return Case(pose, photo, ball)


def plain_case(pose: Pose, error_px: float = 0.0, seed: int = 1) -> PhotoMarks:
    """Every place in the picture marked, without balls."""
    marks = marks_in(pose, np.random.default_rng(seed), error_px)
    return PhotoMarks("invented.jpg", pose.size, marks=marks)
