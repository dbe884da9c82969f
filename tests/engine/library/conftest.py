"""A library of the folder that each file of tests makes for itself."""

import pytest

from engine.library import Library


@pytest.fixture
def library(folder, tmp_path):
    """The index of `folder`, up to date."""
    made = Library([folder], tmp_path / "index.sqlite")
    made.refresh()
    yield made
    made.close()
