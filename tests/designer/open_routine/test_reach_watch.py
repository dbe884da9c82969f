"""Quick looks keep up with a drag without crowding it, and end with the routine as it stands."""

import pytest

from designer.open_routine import OpenRoutine, Predictions, reach_watch
from engine.routine.document import Document


@pytest.fixture
def watched(qtbot, routine_with_gaps):
    """A session that works on threads, ready, with two gaps."""
    made = OpenRoutine(Document(routine_with_gaps), Predictions())
    with qtbot.waitSignal(made.predictions.ready):
        made.predictions.prepare()
    yield made
    made.close()


def test_a_drag_is_looked_at_now_and_then_and_its_end_surely(qtbot, watched, monkeypatch):
    looked = []
    real = reach_watch._quick

    def quick(routine, shot):
        looked.append(routine)
        return real(routine, shot)

    monkeypatch.setattr(reach_watch, "_quick", quick)
    for step in range(60):
        watched.balls.drag("red-1", (1180.0 - 4.0 * step, 1250.0))
    last = watched.routine
    qtbot.waitUntil(lambda: bool(looked) and looked[-1] is last)
    assert len(looked) < 30, "looked at nearly every step"
    qtbot.waitUntil(lambda: watched.reach.verdict_of("between") is not None)


def test_closed_in_the_middle_of_a_pause_it_looks_no_more(qtbot, watched, monkeypatch):
    looked = []
    monkeypatch.setattr(watched.reach._worker, "start", lambda work, kind: looked.append(kind))
    watched.balls.drag("red-1", (1100.0, 1250.0))
    watched.balls.drag("red-1", (1090.0, 1250.0))
    before = len(looked)
    watched.reach.close()
    qtbot.wait(3 * reach_watch.BETWEEN_LOOKS_MS)
    assert len(looked) == before
