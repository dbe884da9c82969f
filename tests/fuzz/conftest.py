"""Commands that paint make a lesser application, which tests of windows in the same process could
not use: a whole one is made first."""

import os

import pytest

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")


@pytest.fixture(scope="session", autouse=True)
def one_application(qapp):
    return qapp
