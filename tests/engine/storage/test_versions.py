"""Older versions are brought up step by step; newer ones and gaps in the steps are refused."""

import pytest

from engine.errors import RoutineFileError
from engine.storage.versions import FORMAT, MIGRATIONS, VERSION, brought_up_to_date


def rename(old, new):
    return lambda data: {(new if key == old else key): value for key, value in data.items()}


STEPS = {1: rename("name", "title"), 2: rename("trainer", "coach")}


def test_steps_follow_one_another():
    data = {"format": FORMAT, "version": 1, "name": "n", "trainer": "t"}
    made = brought_up_to_date(data, "f", latest=3, migrations=STEPS)
    assert made == {"format": FORMAT, "version": 3, "title": "n", "coach": "t"}


def test_a_missing_step_is_told():
    with pytest.raises(RoutineFileError, match="version: is 1, which can no longer be read"):
        brought_up_to_date({"format": FORMAT, "version": 1}, "f", latest=3, migrations={2: dict})


def test_a_newer_version_is_refused_by_any_program():
    with pytest.raises(RoutineFileError, match="newer Baizewright"):
        brought_up_to_date({"format": FORMAT, "version": VERSION + 1}, "f")


def test_every_version_before_this_one_has_its_step():
    assert set(MIGRATIONS) == set(range(1, VERSION))
