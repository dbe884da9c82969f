"""Confidence intervals of a success share: Wilson's score interval, and the exact one.

Wilson, J. Am. Stat. Assoc. 22 (1927) 209; Clopper & Pearson, Biometrika 26 (1934) 404 (both from
memory; the tests hold them against scipy's binomial intervals).
"""

from __future__ import annotations

import math
from statistics import NormalDist

from engine.errors import OutOfRangeError

CONFIDENCE = 0.95


def wilson(made: int, attempts: int, confidence: float = CONFIDENCE) -> tuple[float, float]:
    """The score interval of a share.

    >>> [round(end, 3) for end in wilson(7, 10)]
    [0.397, 0.892]
    """
    _check(made, attempts, confidence)
    z = NormalDist().inv_cdf(0.5 + confidence / 2.0)
    share, weight = made / attempts, z * z / attempts
    middle = (share + weight / 2.0) / (1.0 + weight)
    half = z / (1.0 + weight) * math.sqrt(share * (1.0 - share) / attempts + weight / attempts / 4)
    low = 0.0 if made == 0 else max(0.0, middle - half)
    high = 1.0 if made == attempts else min(1.0, middle + half)
    return low, high


def exact(made: int, attempts: int, confidence: float = CONFIDENCE) -> tuple[float, float]:
    """The exact (Clopper–Pearson) interval: never less sure than it says, so wider.

    >>> [round(end, 3) for end in exact(7, 10)]
    [0.348, 0.933]
    """
    _check(made, attempts, confidence)
    from scipy.special import betaincinv

    tail = (1.0 - confidence) / 2.0
    missed = attempts - made
    low = 0.0 if made == 0 else float(betaincinv(made, missed + 1, tail))
    high = 1.0 if missed == 0 else float(betaincinv(made + 1, missed, 1.0 - tail))
    return low, high


def _check(made: int, attempts: int, confidence: float) -> None:
    if attempts < 1 or not 0 <= made <= attempts:
        raise OutOfRangeError("made of attempts", f"{made} of {attempts}", "0 to all of 1 or more")
    if not 0.0 < confidence < 1.0:
        raise OutOfRangeError("confidence", confidence, "more than 0, less than 1")
