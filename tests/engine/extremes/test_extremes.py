"""Every extreme has a defined answer or a clear message; no NaN or infinity ever comes out."""

import json
import math
import re
from dataclasses import fields, is_dataclass

import numpy as np
import pytest

from engine.answers import answer, to_json
from engine.errors import BaizewrightError
from engine.problems import problems_of
from tests.engine.extremes.cases import cases

CASES = cases()
STRAY = re.compile(r"\b(?:(?i:nan|inf|infinity)|None)\b")


def texts_in(value):
    """Every text within a value."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from texts_in(key)
            yield from texts_in(item)
    elif isinstance(value, list | tuple | frozenset | set):
        for item in value:
            yield from texts_in(item)
    elif is_dataclass(value) and not isinstance(value, type):
        for field in fields(value):
            yield from texts_in(getattr(value, field.name))


@pytest.mark.parametrize("name", CASES)
@pytest.mark.slow
def test_a_defined_answer_or_a_clear_message(name):
    routine = CASES[name]
    problems = problems_of(routine)
    try:
        found = answer(routine)
        text = json.dumps(to_json(found, routine, words=str), allow_nan=False)
    except BaizewrightError as error:
        assert len(str(error)) > 15 and not STRAY.search(str(error)), error
        return
    assert "Traceback" not in text
    assert not [one for one in texts_in(found) if STRAY.search(one)]
    assert not [one for one in texts_in(problems) if STRAY.search(one)]
    for shot in found.shots:
        for lane in shot.lanes:
            path = np.asarray(lane.path_mm, dtype=float)
            assert np.isfinite(path).all()
            assert all(math.isfinite(one.clearance_mm) for one in lane.clearances)


def test_what_cannot_lie_so_is_a_problem_that_is_told():
    for name in ("overlapping by 52.5 mm", "object ball off the table", "cue ball over the pocket"):
        assert problems_of(CASES[name]), name


@pytest.mark.parametrize(
    "name", ["touching, 45° from the cue ball", "a cluster of twenty-two", "a gap of no width"]
)
def test_reach_and_tolerance_at_extremes(name):
    from engine.answers import set_up_tolerance
    from engine.reach import verdicts

    routine = CASES[name]
    for work in (lambda: verdicts(routine, "s"), lambda: set_up_tolerance(routine)):
        try:
            found = work()
        except BaizewrightError as error:
            assert not STRAY.search(str(error))
        else:
            assert not [one for one in texts_in(found) if STRAY.search(one)]
