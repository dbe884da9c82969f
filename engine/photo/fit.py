"""The camera behind a picture, from marks on known places of the table.

Least squares over pose and lens, in which what is known beforehand of cameras stands as one weak
observation of each number: with many marks it hardly counts, with few it holds what they cannot
tell, and what stays unknown shows in the uncertainty. A mark that the others contradict is found
by leaving each out in turn, named, and set aside.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from engine.errors import OutOfRangeError
from engine.photo.camera import FILM_DIAGONAL_MM, Camera
from engine.photo.sense import check_marks
from engine.photo.values import Mark, MarkPlace, PhotoMarks
from engine.photo.vision import opencv
from engine.results import Note
from engine.tables import Table

#: Focal lengths tried to begin with, mm on 35 mm film: from wide phones to long lenses.
_STARTS_35MM = (16.0, 24.0, 32.0, 50.0, 90.0)
#: What is known of any camera beforehand (our own choice): focal length and its spread (of its
#: logarithm) when the picture does not say, and when it does; where the lens looks, over the
#: diagonal; the two numbers of its distortion.
_USUAL_35MM, _FOCAL_SPREAD, _STATED_SPREAD = 28.0, 0.35, 0.03
_MIDDLE_SPREAD, _K1_SPREAD, _K2_SPREAD = 0.005, 0.12, 0.05
#: The weight, in observations, of the stated marking error against what the marks show.
_TRUST = 8.0
#: A mark is bad when chance would set it so far off less often than this.
_CHANCE = 0.001
#: Parameters: turn (3), shift (3, metres), log focal, middle (2, diagonals), k1, k2.
_COUNT, _KNOWN = 11, 5


@dataclass(frozen=True, slots=True)
class MarkCheck:
    """One mark beside where the camera sees its place: how far off it lies, and whether it is bad.

    `off_px` is the way from the place to the mark; `off_mm` the same on the level of the place.
    """

    mark: Mark
    place: MarkPlace
    off_px: tuple[float, float]
    off_mm: float
    bad: bool = False

    @property
    def distance_px(self) -> float:
        """How far off in the picture."""
        return math.hypot(*self.off_px)


@dataclass(frozen=True, eq=False)
class CameraFit:
    """The camera, how sure it is, and every mark beside it.

    `spread` (11, 11) is the covariance of the fit's own parameters; `marking_px` how exactly the
    marks were set, as they themselves show; `freedom` how well that is known (degrees of freedom).
    `doubtful` says that the marks on the whole lie much farther off than expected.
    """

    camera: Camera
    spread: np.ndarray
    marking_px: float
    freedom: float
    checks: tuple[MarkCheck, ...]
    notes: tuple[Note, ...] = ()
    doubtful: bool = False

    @property
    def bad_marks(self) -> tuple[MarkCheck, ...]:
        """The marks set aside."""
        return tuple(one for one in self.checks if one.bad)


def fit_camera(table: Table, photo: PhotoMarks) -> CameraFit:
    """Find the camera from the marks; bad ones are named and set aside.

    Raises what `check_marks` does, and `OutOfRangeError` when no camera over the table could
    have taken such a picture.
    """
    pairs = check_marks(table, photo)
    task = _Task(photo, pairs)
    found = _first(task)
    bad: list[int] = []
    while len(pairs) - len(bad) > 4:
        worst = _worst(found)
        if worst is None:
            break
        bad.append(worst[0])
        found = worst[1]
    found = _scaled(found)
    camera = found.camera
    if camera.at_mm[2] <= 0.0:
        raise _no_camera("under the table")
    checks = tuple(_checked(camera, mark, place, i in bad) for i, (mark, place) in enumerate(pairs))
    return CameraFit(
        camera, found.spread, found.task.sigma, _TRUST + found.freedom, checks,
        _notes(checks, found), _is_doubtful(found),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Task:
    """What is to be fitted: marks (by index those in use), their error, and what is known."""

    photo: PhotoMarks
    pairs: Sequence[tuple[Mark, MarkPlace]]
    out: tuple[int, ...] = ()
    sigma: float = 0.0

    def __post_init__(self) -> None:
        if not self.sigma:
            object.__setattr__(self, "sigma", self.photo.marking_px)

    @property
    def used(self) -> list[int]:
        return [i for i in range(len(self.pairs)) if i not in self.out]

    @property
    def places(self) -> np.ndarray:
        return np.array([self.pairs[i][1].at_mm for i in self.used])

    @property
    def pixels(self) -> np.ndarray:
        return np.array([self.pairs[i][0].at_px for i in self.used])

    @property
    def diagonal(self) -> float:
        return math.hypot(*self.photo.size_px)

    @property
    def middle(self) -> np.ndarray:
        wide, high = self.photo.size_px
        return np.array([(wide - 1) / 2.0, (high - 1) / 2.0])

    @property
    def known(self) -> tuple[np.ndarray, np.ndarray]:
        """What is known of the last five parameters: their values and how surely."""
        stated = self.photo.focal_35mm > 0.0
        focal = (self.photo.focal_35mm if stated else _USUAL_35MM) / FILM_DIAGONAL_MM
        spread = _STATED_SPREAD if stated else _FOCAL_SPREAD
        return (
            np.array([math.log(focal), 0.0, 0.0, 0.0, 0.0]),
            np.array([spread, _MIDDLE_SPREAD, _MIDDLE_SPREAD, _K1_SPREAD, _K2_SPREAD]),
        )

    def camera(self, p: np.ndarray) -> Camera:
        """The camera of a vector of parameters."""
        middle = self.middle + p[7:9] * self.diagonal
        return Camera(
            self.photo.size_px, math.exp(p[6]) * self.diagonal, (middle[0], middle[1]),
            float(p[9]), float(p[10]), tuple(p[:3]), tuple(p[3:6] * 1000.0),
        )  # fmt: skip

    def seen(self, p: np.ndarray, places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """Pixels (n, 2) of places (n, 3), and their slopes (2n, 11) over the parameters."""
        camera = self.camera(p)
        return seen_with_slopes(camera, places)

    def misfit(self, p: np.ndarray) -> np.ndarray:
        """What is to be made small: marks over their error, then the known over theirs."""
        values, spreads = self.known
        off = (self.seen(p, self.places)[0] - self.pixels).ravel() / self.sigma
        return np.concatenate((off, (p[6:] - values) / spreads))

    def slopes(self, p: np.ndarray) -> np.ndarray:
        """Derivatives of `misfit`."""
        marks = self.seen(p, self.places)[1] / self.sigma
        known = np.zeros((_KNOWN, _COUNT))
        known[:, 6:] = np.diag(1.0 / self.known[1])
        return np.vstack((marks, known))


def seen_with_slopes(camera: Camera, places: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Pixels (n, 2) of places (n, 3), and their slopes (2n, 11) over the fit's parameters."""
    f, (mx, my) = camera.focal_px, camera.middle_px
    inner = np.array([[f, 0.0, mx], [0.0, f, my], [0.0, 0.0, 1.0]])
    lens = np.array([camera.k1, camera.k2, 0.0, 0.0])
    pixels, full = opencv().projectPoints(
        np.ascontiguousarray(places, dtype=float).reshape(-1, 1, 3),
        np.array(camera.turn), np.array(camera.shift_mm), inner, lens,
    )  # fmt: skip
    diagonal = math.hypot(*camera.size_px)
    slopes = np.column_stack(
        (
            full[:, :3],
            full[:, 3:6] * 1000.0,
            (full[:, 6] + full[:, 7]) * f,
            full[:, 8] * diagonal,
            full[:, 9] * diagonal,
            full[:, 10:12],
        )
    )
    return pixels.reshape(-1, 2), slopes


@dataclass(frozen=True, slots=True)
class _Found:
    """A fit of some of the marks."""

    task: _Task
    p: np.ndarray
    cost: float

    @property
    def camera(self) -> Camera:
        return self.task.camera(self.p)

    @property
    def spread(self) -> np.ndarray:
        """Covariance of the parameters."""
        slopes = self.task.slopes(self.p)
        return np.linalg.pinv(slopes.T @ slopes, hermitian=True)

    @property
    def squares(self) -> float:
        """Sum of the squared misfits of the marks, over their error."""
        return float((self.task.misfit(self.p)[:-_KNOWN] ** 2).sum())

    @property
    def freedom(self) -> float:
        """How many numbers the marks have to spare over what they had to settle."""
        marks = self.task.slopes(self.p)[:-_KNOWN]
        return max(len(marks) - float(np.trace(marks @ self.spread @ marks.T)), 0.0)


def _first(task: _Task) -> _Found:
    """The best fit from every start there is."""
    found = [_refined(task, start, quick=True) for start in _starts(task, _STARTS_35MM)]
    known = [one for one in found if one is not None]
    if not known:
        raise _no_camera("nowhere")
    best = min(known, key=lambda one: one.cost)
    return _refined(task, best.p) or best


def _starts(task: _Task, focals: Sequence[float]) -> list[np.ndarray]:
    """Poses to begin with, two for each focal length tried (a flat table leaves two)."""
    cv = opencv()
    flat = task.places.copy()
    flat[:, 2] = 0.0
    tried = (task.photo.focal_35mm,) if task.photo.focal_35mm > 0.0 else focals
    found = []
    for focal in tried:
        f = focal / FILM_DIAGONAL_MM
        ideal = ((task.pixels - task.middle) / (f * task.diagonal)).reshape(-1, 1, 2)
        try:
            _, turns, shifts, _ = cv.solvePnPGeneric(
                flat.reshape(-1, 1, 3), ideal, np.eye(3), None, flags=cv.SOLVEPNP_IPPE
            )
        except cv.error:
            continue
        for turn, shift in zip(turns, shifts, strict=True):
            p = np.zeros(_COUNT)
            p[:3], p[3:6], p[6] = turn.ravel(), shift.ravel() / 1000.0, math.log(f)
            if np.isfinite(p).all() and task.camera(p).at_mm[2] > 0.0:
                found.append(p)
    return found


def _refined(task: _Task, start: np.ndarray, quick: bool = False) -> _Found | None:
    """The nearest fit to a start, or `quick` roughly; None when it runs away."""
    from scipy.optimize import least_squares

    try:
        near, rounds = (1e-5, 40) if quick else (1e-9, 200)
        done = least_squares(
            task.misfit, start, jac=task.slopes, method="lm", ftol=near, xtol=near, max_nfev=rounds
        )
    except (ValueError, OverflowError, np.linalg.LinAlgError):
        return None
    camera_ahead = np.isfinite(done.x).all() and bool(
        (task.camera(done.x).seen_from(task.places)[:, 2] > 0.0).all()
    )
    return _Found(task, done.x, 2.0 * float(done.cost)) if camera_ahead else None


def _worst(found: _Found) -> tuple[int, _Found] | None:
    """The mark that all others together contradict, with the fit without it; None if there is none.

    A mark is only named when leaving out any other one would not do as well.
    """
    from scipy.stats import f as f_law

    task = found.task
    spare = 2 * (len(task.used) - 1) + _KNOWN - _COUNT
    if found.cost < 1.5 * (spare + 2):
        return None
    tried = []
    for i in task.used:
        without = replace(task, out=(*task.out, i))
        again = [_refined(without, found.p, quick=True)]
        if found.cost > 20.0 * (spare + 2):
            # the bad mark may have drawn the camera to quite another place
            starts = _starts(without, (_USUAL_35MM,))
            again += [_refined(without, start, quick=True) for start in starts]
        known = [one for one in again if one is not None]
        if known:
            best = min(known, key=lambda one: one.cost)
            tried.append((best.cost, i, best))
    if len(tried) < 2:
        return None
    tried.sort(key=lambda one: one[0])
    cost, i, best = tried[0]
    scale = (_TRUST + cost) / (_TRUST + spare)
    ratio = (found.cost - cost) / 2.0 / scale
    limit = f_law.isf(_CHANCE / len(tried), 2, _TRUST + spare)
    runner_up = (tried[1][0] - cost) / scale
    if ratio <= limit or runner_up <= 9.0:
        return None
    return i, _refined(best.task, best.p) or best


def _scaled(found: _Found) -> _Found:
    """The fit with the marking error that the marks show, tempered by the stated one."""
    for _ in range(2):
        task = found.task
        stated = task.photo.marking_px
        squares = found.squares * task.sigma**2
        shown = (_TRUST * stated**2 + squares) / (_TRUST + found.freedom)
        again = _refined(replace(task, sigma=math.sqrt(shown)), found.p)
        if again is None:
            return found
        found = again
    return found


def _checked(camera: Camera, mark: Mark, place: MarkPlace, bad: bool) -> MarkCheck:
    seen = camera.pixels(np.array(place.at_mm))
    there = camera.on_level(np.array(mark.at_px), place.z_mm)
    off_mm = float(np.hypot(there[0] - place.x_mm, there[1] - place.y_mm))
    off = (mark.x_px - float(seen[0]), mark.y_px - float(seen[1]))
    return MarkCheck(mark, place, off, off_mm, bad)


def _notes(checks: Sequence[MarkCheck], found: _Found) -> tuple[Note, ...]:
    notes = [
        Note("mark-set-aside", {"place": one.place.title, "off_px": one.distance_px})
        for one in checks
        if one.bad
    ]
    if _is_doubtful(found):
        expected = found.task.photo.marking_px
        notes.append(Note("marks-lie-off", {"off_px": found.task.sigma, "expected_px": expected}))
    if len(found.task.used) == 4:
        notes.append(Note("four-marks"))
    return tuple(notes)


def _is_doubtful(found: _Found) -> bool:
    return found.task.sigma > 3.0 * found.task.photo.marking_px


def _no_camera(where: str) -> OutOfRangeError:
    return OutOfRangeError(
        "the camera’s place", f"{where}, by these marks", "a place above the table",
        "Look whether every mark is on its own place, and whether the table is the right one.",
    )  # fmt: skip
