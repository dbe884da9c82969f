"""A lesson of a routine, of any size, without its main window."""

import contextlib

import pytest


@pytest.fixture
def make_lesson(qtbot, make_session, settings):
    """Makes lessons, painted at a size; each is kept until the test is over."""
    from designer.lesson.lesson import Lesson

    made = []

    def make(routine, size=(1366, 768)):
        lesson = Lesson(make_session(routine), settings)
        made.append(lesson)
        lesson.resize(*size)
        lesson.show()
        qtbot.waitExposed(lesson)
        return lesson

    yield make
    for lesson in made:
        # The test may have left it.
        with contextlib.suppress(RuntimeError):
            lesson.close()
