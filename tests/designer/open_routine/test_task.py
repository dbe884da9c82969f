"""Work aside: heard of later, however quickly it ends."""

import pytest

from designer.open_routine.task import Task
from engine.errors import OutOfRangeError


@pytest.fixture
def task(qtbot):
    made = Task()
    yield made
    made.close()


def test_work_that_has_ended_at_once_is_heard_of_later_all_the_same(qtbot, task, monkeypatch):
    """The pool runs it on the spot: it is over before anyone could ask to hear of it."""
    from concurrent.futures import Future

    class OnTheSpot:
        def submit(self, work, *given):
            done = Future()
            done.set_result(work(*given))
            return done

        def shutdown(self, **_):
            pass

    task._worker._pool = OnTheSpot()
    found = []
    task.finished.connect(found.append)
    assert task.start(lambda _tell: 7)
    assert task.running and not found
    qtbot.waitUntil(lambda: found == [7])
    assert not task.running


def test_why_work_failed_is_told(qtbot, task):
    def fail(_tell):
        raise OutOfRangeError("the way", "blocked", "free")

    with qtbot.waitSignal(task.failed) as told:
        assert task.start(fail)
        assert not task.start(fail), "one piece of work at a time"
    assert "blocked" in told.args[0]
