"""How many more observations a wanted precision takes, and which kind brings it soonest.

Repeating a row m times adds m times its information: with covariance C and weighted slopes a, the
variance of a parameter falls from c to c − m (C a)² / (1 + m aᵀ C a), which is solved for m.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np

from engine.calibration.fit import Fit
from engine.calibration.kinds import Observation
from engine.calibration.model import Bench, Rows
from engine.calibration.parameters import ALONG, PACE_PREFIX, Parameters, slopes_of
from engine.calibration.standard_errors import all_errors
from engine.calibration.values import More

#: The precision wanted unless another is stated: this share of the doubt before, or of a speed.
WANTED_SHARE = 0.5
WANTED_PACE_SHARE = 0.03
#: How many more observations of a kind, or suggested sets, are thought of.
MOST, MOST_SETS = 60, 5


def wanted_errors(looked: Parameters, stated: Mapping[str, float]) -> dict[str, float]:
    """The standard error wanted of every parameter: the one stated, else the usual share."""
    found = {}
    for k, name in enumerate(looked.names):
        usual = WANTED_SHARE * float(looked.doubt[k])
        if name.startswith(PACE_PREFIX):
            usual = WANTED_PACE_SHARE * float(looked.start[k])
        found[name] = stated.get(name, usual)
    return found


def more_needed(
    bench: Bench,
    looked: Parameters,
    fit: Fit,
    candidates: Sequence[Observation],
    wanted: Mapping[str, float],
) -> tuple[More, ...]:
    """For every parameter but those found along, what its wanted precision still takes.

    That is repeating one of the `candidates` or, where none does it alone, all those among them
    that were only suggested (without a line of their own).
    """
    rows = [one for one in candidates if _known_pace(one, looked)]
    slopes = _weighted_slopes(bench, looked, fit.values, rows)
    found, covariance = [], fit.ridge.covariance
    for k, name in enumerate(looked.names):
        if name in ALONG:
            continue
        error, goal = math.sqrt(float(covariance[k, k])), wanted[name]
        if error <= goal:
            found.append(More(name, error, goal, 0, None))
            continue
        best: tuple[int, Observation] | None = None
        for one, row in zip(rows, slopes, strict=True):
            count = _repeats(covariance, row, k, goal)
            if count is not None and (best is None or count < best[0]):
                best = (count, one)
        if best is None:
            sets = _sets(covariance, slopes[[not one.line for one in rows]], k, goal)
            found.append(More(name, error, goal, sets, None))
            continue
        found.append(More(name, error, goal, *best))
    return tuple(found)


def _known_pace(one: Observation, looked: Parameters) -> bool:
    return "pace" not in one.cells or one.number("pace") in looked.paces


def _weighted_slopes(
    bench: Bench, looked: Parameters, values: np.ndarray, rows: Sequence[Observation]
) -> np.ndarray:
    """Slopes of the rows' predictions over their errors, (n, p); 0 where there is no result."""

    def predict(at: np.ndarray) -> np.ndarray:
        return laid.predict(looked.conditions(at), looked.speeds_mm_s(at, laid))

    laid = Rows(bench, rows, looked.base)
    speeds = looked.speeds_mm_s(values, laid)
    errors = all_errors(bench, looked.conditions(values), rows, speeds)
    return np.asarray(slopes_of(predict, values, looked) / errors[:, None])


def _repeats(covariance: np.ndarray, row: np.ndarray, k: int, goal: float) -> int | None:
    gain = covariance @ row
    lack = float(covariance[k, k]) - goal * goal
    rate = float(gain[k]) ** 2 - lack * float(row @ gain)
    if rate <= 0.0:
        return None
    count = math.ceil(lack / rate)
    return count if count <= MOST else None


def _sets(covariance: np.ndarray, rows: np.ndarray, k: int, goal: float) -> int | None:
    """How many times all the rows together bring parameter k to the goal."""
    information = np.linalg.inv(covariance)
    for count in range(1, MOST_SETS + 1):
        information = information + rows.T @ rows
        if float(np.linalg.inv(information)[k, k]) <= goal * goal:
            return count
    return None
