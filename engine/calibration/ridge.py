"""What rows leave open of the parameters, where no straight line describes it.

At the nose of a cushion a ball slips or grips, and how far it comes back says much the same of more
restitution and of more friction: the fit lies on a ridge that bends and has kinks, so the slopes at
its best point tell far too little doubt. The ridge is therefore walked along the cushion's
restitution: at each step all others are fitted anew, with their doubt at that step, and the steps
count by how well they fit. (A Laplace approximation nested in a sum over one number.)
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

ALONG_RIDGE = "cushion_restitution"
#: A first step, in standard errors by the slopes; how much it grows where the fit hardly worsens.
FIRST_STEP, GROWTH = 0.8, 1.5
HARDLY, FAR_WORSE = 0.7, 12.0
MOST_STEPS = 12

#: All parameters (p,) fitted anew with the one along the ridge held, from a start (p,): the values,
#: the sum of squares, and the covariance of the others (p, p), nothing for the one held.
FitBeside = Callable[[float, np.ndarray], tuple[np.ndarray, float, np.ndarray]]


@dataclass(frozen=True, slots=True, eq=False)
class Ridge:
    """Steps along the ridge: `weights` (s,) that sum to 1, `values` (s, p), `inner` (s, p, p).

    `inner` is the covariance at each step.
    """

    weights: np.ndarray
    values: np.ndarray
    inner: np.ndarray

    @property
    def covariance(self) -> np.ndarray:
        """Covariance of all parameters, (p, p)."""
        off = self.values - self.weights @ self.values
        between = np.einsum("s,sp,sq->pq", self.weights, off, off)
        return np.asarray(between + np.einsum("s,spq->pq", self.weights, self.inner))

    def quantile(self, k: int, share: float) -> float:
        """The value that parameter k stays below with that chance."""
        from scipy.optimize import brentq
        from scipy.special import ndtr

        middle, wide = self.values[:, k], np.sqrt(self.inner[:, k, k])

        def excess(at: float) -> float:
            return float(self.weights @ ndtr((at - middle) / wide)) - share

        return float(
            brentq(excess, float((middle - 9 * wide).min()), float((middle + 9 * wide).max()))
        )


def walked(
    k: int, best: np.ndarray, error: float, low: float, high: float, fit: FitBeside
) -> Ridge:
    """The ridge along parameter k from the best values (p,), between bounds.

    `error` is its standard error by the slopes.
    """
    middle = fit(float(best[k]), best)
    steps = [middle]
    for way in (-1.0, 1.0):
        (values, square, _), step = middle, FIRST_STEP * error
        for _ in range(MOST_STEPS):
            at = float(np.clip(values[k] + way * step, low, high))
            if at == values[k]:
                break
            before = square
            found = fit(at, values)
            values, square, _ = found
            steps.append(found)
            if square > min(one[1] for one in steps) + FAR_WORSE:
                break
            if abs(square - before) < HARDLY:
                step *= GROWTH
    return _weighed(k, sorted(steps, key=lambda one: float(one[0][k])))


def _weighed(k: int, steps: list[tuple[np.ndarray, float, np.ndarray]]) -> Ridge:
    values = np.array([one[0] for one in steps])
    squares = np.array([one[1] for one in steps])
    inner = np.array([one[2] for one in steps])
    others = np.arange(values.shape[1]) != k
    rooms = np.linalg.slogdet(inner[:, others][:, :, others])[1]
    ends = np.concatenate([values[:1, k], 0.5 * (values[1:, k] + values[:-1, k]), values[-1:, k]])
    sizes = np.log(np.maximum(np.diff(ends), 1e-12)) + 0.5 * rooms - 0.5 * squares
    weights = np.exp(sizes - sizes.max())
    # what lies between two steps is spread evenly over the cell of each
    inner = inner.copy()
    inner[:, k, k] += np.maximum(np.diff(ends), 1e-12) ** 2 / 12.0
    return Ridge(weights / weights.sum(), values, inner)
