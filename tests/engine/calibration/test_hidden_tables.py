"""Hidden tables of an independent integrator found again: the intervals hold what they promise.

Over 200 tables drawn from the conditions' stated ranges, each measured as the form suggests with
5 mm and 0.1 s of error, 93 to 97 in 100 true values lie inside the 95 % intervals, and of each
number by itself at least 91 in 100. All 200 with BAIZEWRIGHT_FULL=1 (some minutes on all cores),
usually a few, with a margin for so few.
"""

from __future__ import annotations

import itertools
import os
from collections import defaultdict
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from functools import cache
from multiprocessing import get_context

import pytest

from engine.calibration import Calibration
from engine.calibration.calibrate import calibrate
from tests.engine.calibration.club import true_value
from tests.engine.calibration.hidden_tables import HiddenTable
from tests.shares import FULL, share

#: Fixed before the first run, and never changed.
SEED = 18_4_200
TABLES = share(range(200), 1)
#: With few tables the share scatters: the numbers of a table miss together.
LIMITS = (0.93, 0.97) if FULL else (0.75, 1.0)
EACH = 0.91 if FULL else 0.5

#: What the form's set decides by itself on nearly every table.
DECIDED = ("sliding_friction", "rolling_resistance", "speed_at_pace_3", "speed_at_pace_5")


@dataclass(frozen=True)
class Found:
    """One number of one table: `off` is how far off it is, in halves of its interval there."""

    name: str
    decided: bool
    inside: bool
    off: float


def found_again(number: int) -> tuple[list[Found], int, int]:
    """Every number found on a hidden table; rows set aside, and all rows."""
    table = HiddenTable(SEED, number)
    found = calibrate(table.observations(), table.table)
    aside = sum(one.verdict != "used" for one in found.judged)
    return _numbers(table, found), aside, len(found.judged)


def _numbers(table: HiddenTable, found: Calibration) -> list[Found]:
    numbers = []
    for one in found.findings:
        true = true_value(table.truth, one.name)
        half = one.high - one.value if true > one.value else one.value - one.low
        off = abs(true - one.value) / max(half, 1e-12)
        numbers.append(Found(one.name, one.decided, one.low <= true <= one.high, off))
    return numbers


@cache
def all_found() -> list[tuple[list[Found], int, int]]:
    if not FULL:
        return [found_again(number) for number in TABLES]
    with ProcessPoolExecutor(os.cpu_count(), mp_context=get_context("spawn")) as pool:
        return list(pool.map(found_again, TABLES))


@pytest.mark.slow
def test_true_values_lie_inside_the_intervals_as_often_as_they_should(record_property):
    found = [one for numbers, _, _ in all_found() for one in numbers]
    aside, rows = (sum(one[k] for one in all_found()) for k in (1, 2))
    inside, decided = defaultdict(list), defaultdict(list)
    for one in found:
        inside[one.name].append(one.inside)
        decided[one.name].append(one.decided)
    shares = {name: sum(held) / len(held) for name, held in inside.items()}
    held = sum(one.inside for one in found)
    record_property("shares", shares)
    print(f"{held} of {len(found)} inside ({held / len(found):.3f}), {aside} of {rows} rows set "
          f"aside; {shares}")  # fmt: skip
    assert LIMITS[0] <= held / len(found) <= LIMITS[1]
    assert min(shares.values()) >= EACH, shares
    assert all(sum(decided[name]) >= 0.95 * len(decided[name]) for name in DECIDED)
    assert aside <= 0.01 * rows + 1


def found_in_two_minutes(number: int) -> list[Found]:
    """Every number that the two-minute test finds on a hidden table."""
    table = HiddenTable(SEED, number)
    return _numbers(table, calibrate(table.table_test(), table.table))


@pytest.mark.slow
def test_intervals_of_the_two_minute_test_hold():
    if FULL:
        with ProcessPoolExecutor(os.cpu_count(), mp_context=get_context("spawn")) as pool:
            every = list(pool.map(found_in_two_minutes, TABLES))
    else:
        every = [found_in_two_minutes(number) for number in TABLES]
    inside, decided = defaultdict(list), defaultdict(list)
    for one in itertools.chain.from_iterable(every):
        inside[one.name].append(one.inside)
        decided[one.name].append(one.decided)
    shares = {name: sum(held) / len(held) for name, held in inside.items()}
    print(f"two minutes: {shares}; decided { ({n: sum(d) / len(d) for n, d in decided.items()}) }")
    assert min(shares.values()) >= EACH, shares
    assert sum(decided["rolling_resistance"]) >= 0.9 * len(TABLES)


@pytest.mark.skipif(not FULL, reason="a long fit: BAIZEWRIGHT_FULL=1")
@pytest.mark.slow
def test_two_restitutions_are_found_from_two_speeds():
    """A cushion that gives back 0.96 of a slow ball and 0.84 of a firm one, told apart."""
    table = HiddenTable(SEED, 1000)
    table.truth = replace(
        table.truth, cushion_restitution_slow=0.96, cushion_restitution=0.84,
        cushion_restitution_fast=0.84, cushion_friction=0.14, cushion_height_ratio=1.4,
    )  # fmt: skip
    found = calibrate(table.observations(), table.table, by_speed=True)
    by = {one.name: one for one in found.findings}
    for name in ("cushion_restitution_slow", "cushion_restitution"):
        assert by[name].low <= getattr(table.truth, name) <= by[name].high, by[name]
    assert by["cushion_restitution_slow"].value > by["cushion_restitution"].value + 0.05
    assert found.after.cushion_restitutions[0] == found.after.cushion_restitution_slow
    assert "cushion_restitution_slow" in found.stated


@pytest.mark.slow
def test_the_count_would_see_intervals_that_are_too_narrow():
    found = [one for numbers, _, _ in all_found() for one in numbers]
    assert sum(one.off <= 0.3 for one in found) / len(found) < 0.75
