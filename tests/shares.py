"""A share of many cases in the usual run, all of them with BAIZEWRIGHT_FULL=1."""

import itertools
import os
from collections.abc import Iterable, Sequence
from math import gcd

FULL = os.environ.get("BAIZEWRIGHT_FULL") == "1"


def share(cases: Iterable, usual: int) -> list:
    """So many of the cases, spread over all of them."""
    every = list(cases)
    if FULL or len(every) <= usual:
        return every
    # a step that shares no factor with their number meets every value of a product in turn
    step = round(0.618 * len(every))
    while gcd(step, len(every)) > 1:
        step += 1
    return [every[at] for at in sorted(k * step % len(every) for k in range(usual))]


def mixed(*choices: Sequence, usual: int) -> list[tuple]:
    """So many of all combinations, which take turns in every choice."""
    return share(itertools.product(*choices), usual)
