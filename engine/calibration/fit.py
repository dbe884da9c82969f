"""Least squares on the observations, with what disagrees set aside and told.

First a fit that outliers cannot pull far (soft L1), then plain least squares on what agrees with
it. An observation whose residual, set against its own error and the fit's, is beyond `FAR` is set
aside, the worst first, and taken back if the final fit agrees with it after all. Where strikes at
one pace scatter more than tape and watch explain, a spread of the speed is estimated and counted
in; where all scatter more, the intervals are widened.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.calibration.kinds import KINDS, Observation
from engine.calibration.model import Bench, Rows, measured_value
from engine.calibration.parameters import Parameters, slopes_of
from engine.calibration.ridge import ALONG_RIDGE, Ridge, walked
from engine.calibration.standard_errors import all_errors

#: Standard errors beyond which an observation disagrees with the model.
FAR = 4.0
#: Scatter of struck shots over what tape and watch explain, above which their speed spreads.
WIDE = 1.8
#: How much a strike at one pace usually differs from the next (common practice, no source).
USUAL_SPREAD = 0.05
LEAST_TO_SPREAD = 6
#: Residual of a row the model gives no result for, in standard errors.
LOST = 30.0


@dataclass(frozen=True, slots=True, eq=False)
class Fit:
    """A fit: best `values` of the parameters, their `ridge`, and how every row stands to it.

    `predicted`, `measured`, `errors`, `off` (residuals in standard errors) are (n,), `slopes`
    (n, p) the predictions' derivatives, `used` (n,) says which rows were fitted. `spread` is
    the share by which the strike's speed varies, 0 when tape and watch explain all; `widened`
    how many times the intervals were widened.
    """

    values: np.ndarray
    ridge: Ridge
    predicted: np.ndarray
    measured: np.ndarray
    errors: np.ndarray
    off: np.ndarray
    slopes: np.ndarray
    used: np.ndarray
    spread: float
    widened: float


class Fitter:
    """The residuals and slopes of one set of rows, for scipy."""

    def __init__(self, bench: Bench, rows: Sequence[Observation], looked: Parameters) -> None:
        self.bench, self.rows, self.looked = bench, rows, looked
        radius = looked.base.cue_radius_mm
        self.measured = np.array([measured_value(one, bench.table, radius) for one in rows])
        self.laid = Rows(bench, rows, looked.base)
        self.start = self._started()
        self.errors = self._errors(self.start)
        self.kept = np.ones(len(rows), dtype=bool)

    def predict(self, values: np.ndarray) -> np.ndarray:
        """Predictions of all rows, (n,)."""
        return self.laid.predict(self.looked.conditions(values), self._speeds(values))

    def _speeds(self, values: np.ndarray) -> np.ndarray:
        return self.looked.speeds_mm_s(values, self.laid)

    def _errors(self, values: np.ndarray) -> np.ndarray:
        conditions, speeds = self.looked.conditions(values), self._speeds(values)
        return all_errors(self.bench, conditions, self.rows, speeds)

    def _started(self) -> np.ndarray:
        """The preset's values, with each pace's speed brought near what its rows say."""
        values = self.looked.start.copy()
        factors = np.geomspace(0.4, 2.5, 25)
        misses = []
        for factor in factors:
            tried = values.copy()
            tried[len(self.looked.fitted) :] *= factor
            off = np.abs(self.predict(tried) / self.measured - 1.0)
            misses.append(np.minimum(np.nan_to_num(off, nan=1.0), 1.0))
        table = np.array(misses)
        for k, pace in enumerate(self.looked.paces):
            mine = [
                KINDS[one.kind].struck
                and one.number("pace") == pace
                and one.kind not in ("lane", "bank")
                for one in self.rows
            ]
            if any(mine):
                best = int(np.argmin(np.median(table[:, mine], axis=1)))
                values[len(self.looked.fitted) + k] *= factors[best]
        return values

    def residuals(self, values: np.ndarray) -> np.ndarray:
        """Weighted residuals of the kept rows, then those of the preset's ranges."""
        off = (self.predict(values) - self.measured) / self.errors
        off = np.where(np.isnan(off), LOST, off)
        hints = (values - self.looked.start) / self.looked.doubt
        return np.concatenate([off[self.kept], hints])

    def slopes(self, values: np.ndarray) -> np.ndarray:
        """Derivatives of all predictions, (n, p), by central differences within bounds."""
        return slopes_of(self.predict, values, self.looked)

    def jacobian(self, values: np.ndarray) -> np.ndarray:
        """Derivatives of `residuals`."""
        rows = self.slopes(values) / self.errors[:, None]
        return np.vstack([rows[self.kept], np.diag(1.0 / self.looked.doubt)])

    def solve(self, start: np.ndarray, loss: str) -> np.ndarray:
        """The least-squares answer from a start."""
        # Imported late: scipy takes long to load and only calibration needs it.
        from scipy.optimize import least_squares

        low, high = self.looked.low, self.looked.high
        inside = np.clip(start, low + 1e-9, high - 1e-9)
        found = least_squares(
            self.residuals, inside, self.jacobian, (low, high), x_scale=self.looked.doubt,
            loss=loss, f_scale=1.5, xtol=1e-7, ftol=1e-7, gtol=1e-7, max_nfev=40,
        )  # fmt: skip
        return np.asarray(found.x)

    def beside(self, k: int, value: float, start: np.ndarray) -> np.ndarray:
        """The least-squares answer with parameter k held at a value."""
        from scipy.optimize import least_squares

        free = np.arange(len(start)) != k
        low, high = self.looked.low[free], self.looked.high[free]
        found = least_squares(
            lambda x: self.residuals(np.insert(x, k, value)),
            np.clip(start[free], low + 1e-9, high - 1e-9),
            lambda x: self.jacobian(np.insert(x, k, value))[:, free],
            (low, high), x_scale=self.looked.doubt[free], xtol=1e-5, ftol=1e-4, max_nfev=8,
        )  # fmt: skip
        return np.asarray(np.insert(found.x, k, value))


def fitted(bench: Bench, rows: Sequence[Observation], looked: Parameters) -> Fit:
    """The fit of these rows (none of them impossible)."""
    work = Fitter(bench, rows, looked)
    rough = work.solve(work.start, "soft_l1")
    work.errors = work._errors(rough)
    spread = _spread(work, rough)
    if spread:
        rough = work.solve(rough, "soft_l1")
    values = _without_outliers(work, rough)
    for _ in range(2):
        off, _, _ = _standing(work, values)
        back = ~work.kept & (np.abs(off) < FAR)
        if not back.any():
            break
        work.kept |= back
        values = work.solve(values, "linear")
        values = _without_outliers(work, values)
    off, slopes, covariance = _standing(work, values)
    widened = _widening(work, off)
    ridge = _ridge(work, values, covariance, widened)
    return Fit(
        values, ridge, work.predict(values), work.measured, work.errors, off, slopes,
        work.kept.copy(), spread, widened,
    )  # fmt: skip


def _ridge(work: Fitter, values: np.ndarray, covariance: np.ndarray, widened: float) -> Ridge:
    """What the rows leave open, walked along the ridge of the fit."""
    looked = work.looked
    k = looked.names.index(ALONG_RIDGE)
    others = np.arange(len(values)) != k

    def beside(value: float, start: np.ndarray) -> tuple[np.ndarray, float, np.ndarray]:
        found = work.beside(k, value, start)
        slopes = work.jacobian(found)[:, others]
        inner = np.zeros_like(covariance)
        inner[np.ix_(others, others)] = widened**2 * np.linalg.inv(slopes.T @ slopes)
        return found, float((work.residuals(found) ** 2).sum()) / widened**2, inner

    error = widened * float(np.sqrt(covariance[k, k]))
    return walked(k, values, error, float(looked.low[k]), float(looked.high[k]), beside)


def _standing(work: Fitter, values: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Residuals over their standard errors (n,), slopes (n, p) and covariance (p, p)."""
    slopes = work.slopes(values)
    weighted = slopes / work.errors[:, None]
    information = weighted[work.kept].T @ weighted[work.kept]
    covariance = np.linalg.inv(information + np.diag(1.0 / work.looked.doubt**2))
    own = np.einsum("np,pq,nq->n", weighted, covariance, weighted)
    raw = (work.predict(values) - work.measured) / work.errors
    raw = np.where(np.isnan(raw), LOST, raw)
    # a row that was fitted pulls the fit towards itself; one that was not adds the fit's error
    room = np.where(work.kept, np.maximum(1.0 - own, 0.05), 1.0 + own)
    return raw / np.sqrt(room), slopes, covariance


def _without_outliers(work: Fitter, values: np.ndarray) -> np.ndarray:
    most = max(1, len(work.rows) // 2)
    values = work.solve(values, "linear")
    for _ in range(most):
        off, _, _ = _standing(work, values)
        far = np.where(work.kept, np.abs(off), 0.0)
        worst = int(np.argmax(far))
        if far[worst] <= FAR or int(work.kept.sum()) <= 1:
            break
        work.kept[worst] = False
        values = work.solve(values, "linear")
    return values


def _spread(work: Fitter, values: np.ndarray) -> float:
    """The share by which struck speeds vary from one to another; counted into the errors.

    From the median of those rows' residuals, which outliers hardly move.
    """
    off, slopes, _ = _standing(work, values)
    speeds = work._speeds(values) / 1000.0
    by_speed = np.zeros(len(work.rows))
    for k, one in enumerate(work.rows):
        if work.laid.struck[k]:
            place = len(work.looked.fitted) + work.looked.paces.index(one.number("pace"))
            by_speed[k] = slopes[k, place] * speeds[k]
    # only rows that a usual spread would move tell of it
    telling = USUAL_SPREAD * np.abs(by_speed) > 2.0 * work.errors
    if int(telling.sum()) < LEAST_TO_SPREAD or _scatter(off[telling]) < WIDE:
        return 0.0
    low, high, plain = 0.0, 0.5, work.errors.copy()
    for _ in range(40):
        middle = 0.5 * (low + high)
        errors = np.hypot(plain, middle * by_speed)
        if _scatter((off * plain / errors)[telling]) > 1.0:
            low = middle
        else:
            high = middle
    work.errors = np.hypot(plain, high * by_speed)
    return high


def _scatter(off: np.ndarray) -> float:
    """Standard deviation by the median of the sizes, which outliers hardly move."""
    return 1.4826 * float(np.median(np.abs(off)))


def _widening(work: Fitter, off: np.ndarray) -> float:
    """How many times too small the stated errors are, 1 while chance explains the scatter."""
    from scipy.stats import chi2

    free = int(work.kept.sum()) - len(work.looked.start)
    if free < 3:
        return 1.0
    square = float((off[work.kept] ** 2).sum()) * free / int(work.kept.sum())
    return float(np.sqrt(square / free)) if square > chi2.ppf(0.99, free) else 1.0
