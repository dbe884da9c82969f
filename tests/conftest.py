"""What all tests share: the mark of tests with a window, and a light memory.

The marks: `slow` is set beside the tests that take more than a quarter of a second or so of
processor time, `window` here, on whatever works with a window. `--quick` leaves out both, but for a
few windows marked `quick`.
"""

import gc

import pytest
from _pytest.doctest import DoctestModule


def pytest_collection_modifyitems(items):
    """Mark the tests that work with a window: `-m window`, `-m "not window"`."""
    for item in items:
        if "qtbot" in getattr(item, "fixturenames", ()):
            item.add_marker(pytest.mark.window)


def pytest_collection_finish():
    """Leave what collecting made out of every later search for garbage: it stays to the end."""
    gc.collect()
    gc.freeze()


@pytest.hookimpl(wrapper=True)
def pytest_collect_file(file_path, parent):
    """Tests hold no examples; to look for some in every file takes as long as to read them."""
    return [found for found in (yield) if not isinstance(found, DoctestModule)]
