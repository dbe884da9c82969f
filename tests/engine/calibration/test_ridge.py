"""The walk along what a fit leaves open, on fits whose answer is known by other ways.

Its steps are wide, as each is a fit of its own: an interval is right to a tenth.
"""

import numpy as np
import pytest

from engine.calibration.ridge import walked

FAR = (-50.0, 50.0)


def test_a_straight_ridge_is_the_covariance_of_the_slopes():
    information = np.array([[9.0, -5.0, 1.0], [-5.0, 6.0, 0.5], [1.0, 0.5, 2.0]])
    covariance = np.linalg.inv(information)
    best = np.array([0.3, -1.0, 2.0])
    others = [0, 2]

    def beside(value, _start):
        off = np.zeros(3)
        off[1] = value - best[1]
        inner = np.zeros((3, 3))
        kept = information[np.ix_(others, others)]
        inner[np.ix_(others, others)] = np.linalg.inv(kept)
        off[others] = -np.linalg.solve(kept, information[others, 1] * off[1])
        return best + off, off @ information @ off, inner

    ridge = walked(1, best, np.sqrt(covariance[1, 1]), *FAR, beside)
    assert ridge.covariance == pytest.approx(covariance, rel=0.1)
    for k in range(3):
        half = 1.959964 * np.sqrt(covariance[k, k])
        assert ridge.quantile(k, 0.975) == pytest.approx(best[k] + half, abs=0.1 * half)
        assert ridge.quantile(k, 0.025) == pytest.approx(best[k] - half, abs=0.1 * half)


def square_of(value):
    """Steep below a kink and nearly flat above it, until it rises for good."""
    return np.where(
        value < 0.0, (value / 0.005) ** 2,
        3.0 * np.minimum(value / 0.01, 1.0) + np.maximum(value - 0.08, 0.0) ** 2 / 0.01**2,
    )  # fmt: skip


def test_a_ridge_with_a_kink_is_not_taken_for_its_steep_side():
    def beside(value, _start):
        inner = np.diag([0.0, 1e-6])
        return np.array([value, 2.0 * value]), float(square_of(value)), inner

    ridge = walked(0, np.zeros(2), 0.005, *FAR, beside)
    fine = np.linspace(-0.05, 0.15, 200_001)
    chances = np.cumsum(np.exp(-0.5 * square_of(fine)))
    chances /= chances[-1]
    for share in (0.025, 0.5, 0.975):
        wanted = float(np.interp(share, chances, fine))
        assert ridge.quantile(0, share) == pytest.approx(wanted, abs=0.01), share
        assert ridge.quantile(1, share) == pytest.approx(2.0 * wanted, abs=0.02), share
    assert ridge.quantile(0, 0.975) > 0.07, "the slopes alone would say 0.01"


def test_a_ridge_ends_at_what_can_be():
    def beside(value, _start):
        return np.array([value, 0.0]), value**2, np.diag([0.0, 1.0])

    ridge = walked(0, np.zeros(2), 1.0, -10.0, 0.5, beside)
    assert ridge.values[:, 0].max() == 0.5
    assert ridge.quantile(0, 0.975) < 0.8
