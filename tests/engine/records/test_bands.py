"""Confidence intervals agree with scipy's binomial intervals, and cover as often as they say."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import binom, binomtest

from engine.errors import OutOfRangeError
from engine.records import exact, share_of, wilson

COUNTS = [(made, n) for n in (1, 2, 3, 7, 10, 25) for made in range(n + 1)] + [
    (0, 1000), (1, 1000), (500, 1000), (999, 1000), (1000, 1000), (37, 400),
]  # fmt: skip


@pytest.mark.parametrize("confidence", [0.8, 0.95, 0.99])
@pytest.mark.parametrize(("way", "method"), [(wilson, "wilson"), (exact, "exact")])
@pytest.mark.slow
def test_they_agree_with_scipy(way, method, confidence):
    for made, attempts in COUNTS:
        wanted = binomtest(made, attempts).proportion_ci(confidence, method)
        assert way(made, attempts, confidence) == pytest.approx(
            (wanted.low, wanted.high), abs=1e-9
        ), (made, attempts)


@given(st.integers(1, 1000).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n))))
@settings(max_examples=80, deadline=None)
@pytest.mark.slow
def test_they_agree_with_scipy_anywhere(counts):
    made, attempts = counts
    for way, method in ((wilson, "wilson"), (exact, "exact")):
        wanted = binomtest(made, attempts).proportion_ci(0.95, method)
        assert way(made, attempts) == pytest.approx((wanted.low, wanted.high), abs=1e-9)


@pytest.mark.parametrize("chance", [0.05, 0.3, 0.5, 0.85])
def test_the_exact_one_covers_at_least_as_often_as_it_says(chance):
    for attempts in (5, 20, 60):
        covered = sum(
            binom.pmf(made, attempts, chance)
            for made in range(attempts + 1)
            if exact(made, attempts)[0] <= chance <= exact(made, attempts)[1]
        )
        assert covered >= 0.95 - 1e-12


def test_a_share_carries_its_interval():
    found = share_of(7, 10)
    assert found.share == 0.7
    assert (found.low, found.high) == wilson(7, 10)


@pytest.mark.parametrize(("made", "attempts"), [(1, 0), (-1, 5), (6, 5)])
def test_counts_that_cannot_be_are_refused(made, attempts):
    for way in (wilson, exact):
        with pytest.raises(OutOfRangeError):
            way(made, attempts)


def test_a_confidence_that_cannot_be_is_refused():
    for confidence in (0.0, 1.0, math.nan):
        with pytest.raises(OutOfRangeError):
            wilson(1, 2, confidence)
