"""The cushion's scalar impact compiled by itself, for many impacts in one call."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
from numba import njit
from numba.extending import register_jitable

import engine.motion.cushion  # marks its functions
from engine.compiled.functions import INLINED


@cache
def many_impacts() -> Callable[[np.ndarray, np.ndarray], None]:
    """A function that fills `after` (n, 5) from `before` (n, 12), the arguments of each impact."""
    for part in INLINED:
        if part.__module__.startswith("engine.motion."):
            register_jitable(error_model="numpy")(part)
    impact = engine.motion.cushion.cushion_impact

    @njit(error_model="numpy", nogil=True)
    def run(before: np.ndarray, after: np.ndarray) -> None:
        for k in range(len(before)):
            v = before[k]
            after[k, 0], after[k, 1], after[k, 2], after[k, 3], after[k, 4] = impact(
                v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], v[11]
            )

    return run  # type: ignore[no-any-return]
