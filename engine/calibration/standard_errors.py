"""How far off each observation may be: its own reading and the readings that went into it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from engine.calibration.kinds import ERROR_LENGTHS, ERROR_MM, ERROR_S, KINDS, Observation
from engine.calibration.model import Bench, Rows
from engine.conditions import Conditions

#: Inputs are moved by this much to see what their errors do, mm.
STEP_MM = 1.0


def result_error(one: Observation, bench: Bench) -> float:
    """The error of the measured result alone, in its own unit (mm or s)."""
    if KINDS[one.kind].result == "time_s":
        return one.number("error_s", ERROR_S)
    if one.kind == "up-and-down" and "lengths" in one.cells and "rest_mm" not in one.cells:
        return one.number("error_mm", ERROR_LENGTHS * bench.table.length_mm)
    return one.number("error_mm", ERROR_MM)


def all_errors(
    bench: Bench, conditions: Conditions, rows: Sequence[Observation], speeds_mm_s: np.ndarray
) -> np.ndarray:
    """The standard error of every result, (n,), with what its measured inputs add."""
    moved: list[Observation] = []
    owners: list[int] = []
    for index, one in enumerate(rows):
        for column in KINDS[one.kind].measured:
            # a ball that stops at the second mark is seen to: nothing was measured beyond it
            if column in one.cells and (column != "then_mm" or one.number(column) > 0.0):
                cells = {**one.cells, column: one.number(column) + STEP_MM}
                moved.append(replace(one, cells=cells))
                owners.append(index)
    squares = np.array([result_error(one, bench) ** 2 for one in rows])
    if moved:
        owner = np.array(owners)
        before, after = (Rows(bench, some, conditions) for some in (rows, moved))
        read = np.nan_to_num(before.predict(conditions, speeds_mm_s))[owner]
        error = np.array([one.number("error_mm", ERROR_MM) for one in moved])
        share = np.nan_to_num(
            (after.predict(conditions, speeds_mm_s[owner]) - read) / STEP_MM * error
        )
        # a start that is off moves a measured travel the same way
        for k, one in enumerate(moved):
            if one.kind == "up-and-down":
                share[k] = error[k]
        np.add.at(squares, owner, share**2)
    return np.sqrt(squares)
