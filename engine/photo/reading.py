"""A set-up read off a photograph: where every ball stands, and how sure that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.balls import KINDS, Ball
from engine.errors import OutOfRangeError, UnknownNameError
from engine.photo.balls import ball_place
from engine.photo.doubt import within_mm
from engine.photo.fit import CameraFit, fit_camera
from engine.photo.values import BallMark, PhotoMarks
from engine.results import Note
from engine.routine.context import conditions_of, table_of
from engine.routine.settle import settle
from engine.routine.values import Routine
from engine.tables import Table

#: The key under which a routine's ball keeps its uncertainty.
WITHIN_KEY = "photo_within_mm"
#: Places are told to a tenth of a millimetre: finer is not known.
_DIGITS = 1


@dataclass(frozen=True, slots=True)
class BallReading:
    """One ball: where it was read, and where it was put so that it overlaps nothing.

    `within_mm` is the distance within which 95 of 100 balls so read stand; `settled_mm` how far
    it was moved off a cushion or another ball.
    """

    mark: BallMark
    read_mm: tuple[float, float]
    placed_mm: tuple[float, float]
    within_mm: float

    @property
    def settled_mm(self) -> float:
        """How far it was moved to lie free."""
        return float(np.hypot(*np.subtract(self.placed_mm, self.read_mm)))


@dataclass(frozen=True, eq=False)
class PhotoReading:
    """The camera, the balls, and the routine with the balls where they were read."""

    fit: CameraFit
    balls: tuple[BallReading, ...]
    routine: Routine
    notes: tuple[Note, ...] = ()


def read_photo(photo: PhotoMarks, base: Routine | None = None) -> PhotoReading:
    """Read a photograph; the table, the conditions and all else come from `base`.

    Without a base it is an empty routine, without a title, on the table the marks name. Raises
    what `fit_camera` does; `OutOfRangeError` for another table than the marks', for a ball that is
    not on the table, twice, or off the picture, and
    `UnknownNameError` for a kind of ball that does not exist.
    """
    if base is None:
        base = Routine(table=photo.table)
    check_table(photo, base)
    table = table_of(base)
    fit = fit_camera(table, photo)
    _check_balls(photo)
    radii = [_radius(base, ball) for ball in photo.balls]
    places = [ball_place(fit.camera, b.at_px, r) for b, r in zip(photo.balls, radii, strict=True)]
    for ball, place in zip(photo.balls, places, strict=True):
        _check_on_table(table, ball, place)
    sure = _sure(fit, photo.balls, places, radii)
    routine, settled = _settled(base, table, photo.balls, places, radii, sure)
    found = tuple(
        BallReading(ball, (float(place[0]), float(place[1])), settled[ball.id], float(within))
        for ball, place, within in zip(photo.balls, places, sure, strict=True)
    )
    unseen = tuple(ball.id for ball in base.balls if ball.id not in settled)
    locked = tuple(ball.id for ball in base.balls if ball.locked and ball.id in settled)
    notes = [*fit.notes, *_ball_notes([one for one in found if one.mark.id not in locked])]
    if locked:
        notes.append(Note("locked-left", {"balls": locked}))
    if unseen:
        notes.append(Note("unmarked-left", {"balls": unseen}))
    return PhotoReading(fit, found, routine, tuple(notes))


def check_table(photo: PhotoMarks, routine: Routine) -> None:
    """`OutOfRangeError` unless the routine lies on the table that was photographed."""
    if photo.table != routine.table:
        raise OutOfRangeError(
            "the table of the marks", photo.table, f"{routine.table}, the routine’s",
            "Move the routine to the table photographed, or name that table in the marks.",
        )  # fmt: skip


def _sure(
    fit: CameraFit, balls: Sequence[BallMark], places: Sequence[np.ndarray], radii: Sequence[float]
) -> np.ndarray:
    if not balls:
        return np.empty(0)
    pointing = [fit.marking_px if one.spread_px is None else one.spread_px for one in balls]
    centres = np.array([(*place, radius) for place, radius in zip(places, radii, strict=True)])
    return within_mm(fit, centres, np.array(pointing))


def _settled(
    base: Routine, table: Table, balls: Sequence[BallMark], places: Sequence[np.ndarray],
    radii: Sequence[float], sure: np.ndarray,
) -> tuple[Routine, dict[str, tuple[float, float]]]:  # fmt: skip
    """The routine with the balls set one by one, the surest first, each beside those before."""
    known = {ball.id: ball for ball in base.balls}
    routine = replace(base, balls=())
    settled: dict[str, tuple[float, float]] = {}
    for i in np.argsort(sure, kind="stable"):
        mark = balls[i]
        wanted = (round(float(places[i][0]), _DIGITS), round(float(places[i][1]), _DIGITS))
        before = known.get(mark.id) or Ball(mark.id, mark.kind, *wanted)
        at = before.centre_mm
        if not before.locked:
            at = settle(routine, table, radii[i], mark.id, wanted)
        settled[mark.id] = at
        extra = {**before.extra, WITHIN_KEY: round(float(sure[i]), 1)}
        ball = replace(before, kind=mark.kind, x_mm=at[0], y_mm=at[1], extra=extra)
        routine = replace(routine, balls=(*routine.balls, ball))
    # balls that were not marked stay, but give way to those that were
    for ball in base.balls:
        if ball.id not in settled:
            radius = conditions_of(base).radius_of(ball)
            x, y = settle(routine, table, radius, ball.id, ball.centre_mm)
            kept = ball.at((x, y))
            routine = replace(routine, balls=(*routine.balls, kept))
    names = [*known, *(ball.id for ball in balls if ball.id not in known)]
    in_order = tuple(sorted(routine.balls, key=lambda ball: names.index(ball.id)))
    return replace(routine, balls=in_order), settled


def _radius(base: Routine, ball: BallMark) -> float:
    return conditions_of(base).radius_of(Ball(ball.id, ball.kind, 0.0, 0.0))


def _check_balls(photo: PhotoMarks) -> None:
    seen: set[str] = set()
    for ball in photo.balls:
        if ball.kind not in KINDS:
            raise UnknownNameError("kind of ball", ball.kind, KINDS)
        if ball.id in seen:
            raise OutOfRangeError(
                f"the ball {ball.id}", "marked twice", "one mark for each ball",
                "Give each ball a name of its own.",
            )  # fmt: skip
        seen.add(ball.id)
        wide, high = photo.size_px
        if not (-0.5 <= ball.x_px <= wide - 0.5 and -0.5 <= ball.y_px <= high - 0.5):
            raise OutOfRangeError(
                f"the ball {ball.id}", f"at {ball.x_px:.0f}, {ball.y_px:.0f} px",
                f"a place in the picture of {wide} by {high} px",
            )  # fmt: skip


def _check_on_table(table: Table, ball: BallMark, place: np.ndarray) -> None:
    off = 150.0
    inside = np.isfinite(place).all() and bool(
        -off <= place[0] <= table.width_mm + off and -off <= place[1] <= table.length_mm + off
    )
    if not inside:
        where = "off the table" if np.isfinite(place).all() else "over the horizon"
        raise OutOfRangeError(
            f"the ball {ball.id}", f"seen {where}, by these marks", "a ball on the table",
            "Look at its mark again, and at those of the table.",
        )  # fmt: skip


def _ball_notes(found: Sequence[BallReading]) -> list[Note]:
    return [
        Note(
            "ball-settled-far",
            {"ball": one.mark.id, "moved_mm": one.settled_mm, "within_mm": one.within_mm},
        )
        for one in found
        if one.settled_mm > max(one.within_mm, 1.0)
    ]
