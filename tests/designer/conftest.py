"""Tests of the designer run without a screen unless one is asked for."""

import contextlib
import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from engine.balls import Ball
from engine.routine.document import Document
from engine.routine.values import STUN, LaneAsk, Routine, Shot


@pytest.fixture(scope="session", autouse=True)
def one_application(qapp):
    """A whole application from the start: a lesser one made by a painter could not grow."""
    from designer.window.garbage import GarbageSearch
    from designer.window.look import dress

    dress(qapp)
    GarbageSearch(qapp)
    return qapp


@pytest.fixture(autouse=True)
def no_complaints(request):
    """A warning by Qt fails the test that causes it."""
    log = request.getfixturevalue("qtlog") if "qtbot" in request.fixturenames else None
    yield
    if log is None:
        return
    # The platform without a screen cannot tell a window manager about sizes; nobody misses it.
    harmless = ("This plugin does not support", "propagateSizeHints")
    said = [r.message for r in log.records if not any(h in r.message for h in harmless)]
    assert not said, said


class PatientBot(QtBot):
    """Waits for a state as long as a busy machine may need: only what never comes fails."""

    PATIENCE_MS = 300_000

    def waitUntil(self, callback, *, timeout=PATIENCE_MS):
        """Wait until the callback gives true or stops asserting."""
        super().waitUntil(callback, timeout=timeout)

    def waitSignal(self, signal, *, timeout=PATIENCE_MS, **more):
        """Wait for the signal within a `with`."""
        return super().waitSignal(signal, timeout=timeout, **more)

    def waitExposed(self, widget, *, timeout=PATIENCE_MS):
        """Wait until the window is on the screen."""
        return super().waitExposed(widget, timeout=timeout)


@pytest.fixture
def qtbot(qapp, request):
    """The driver of windows, which waits for states and not for times."""
    return PatientBot(request)


@pytest.fixture(scope="session", autouse=True)
def each_verdict_once():
    """Most windows show one of a few routines: their verdicts are worked out once a process.

    A verdict with its chances takes a second or two, follows from the routine alone, and is tried
    in tests/engine. Tests that look at its making ask `engine.reach` itself.
    """
    from engine.answers import answering

    known = {}
    work_out = answering.verdicts

    def verdicts(routine, shot_id, **asked):
        key = repr((routine, shot_id, sorted(asked.items())))
        if key not in known:
            known[key] = work_out(routine, shot_id, **asked)
        return known[key]

    answering.verdicts = verdicts
    yield
    answering.verdicts = work_out


@pytest.fixture
def routine():
    """Cue ball, blue, two reds and the black; the blue to a top pocket, three lanes."""
    balls = (
        Ball("cue", "cue", 640.0, 1420.0),
        Ball("blue", "blue", 889.0, 1784.5),
        Ball("red-1", "red", 1180.0, 1250.0),
        Ball("red-2", "red", 1420.0, 1180.0),
        Ball("black", "black", 889.0, 3245.0),
    )
    lanes = (LaneAsk("A", 0.5, 4.0), LaneAsk("B", STUN, 4.0), LaneAsk("C", -0.5, 4.0))
    shot = Shot("shot-1", "blue", "top-right", lanes=lanes)
    return Routine(
        id="2f6d7c58-90b4-4f0e-8f5a-6a1f3f0c9b21",
        title="Blue to the top",
        balls=balls,
        shots=(shot,),
        coach="Wren Ashgrove",
    )


@pytest.fixture
def routine_with_gaps(routine):
    """The same with a gap between the reds and one beside a cushion."""
    from engine.routine.values import Claim, Gap

    gaps = (
        Gap("between", "ball-ball", ("red-1", "red-2"), title="Between the reds"),
        Gap("beside", "ball-cushion", ("red-2",), cushion="right"),
    )
    claims = (Claim("pot-on", "shot-1"), Claim("lane-threads", "shot-1", lane="A", gap="between"))
    return replace(routine, gaps=gaps, claims=claims)


@pytest.fixture
def settings(tmp_path):
    """Settings of this test alone."""
    from designer.open_routine import Settings

    return Settings(tmp_path / "settings.ini")


@pytest.fixture
def make_session():
    """Makes sessions with the engine loaded, all work done in the test's own thread."""
    from designer.open_routine import OpenRoutine, Predictions

    made = []

    def make(routine=None, *, ready=True):
        session = OpenRoutine(Document(routine), Predictions(aside=False))
        made.append(session)
        if ready:
            session.predictions.prepare()
        return session

    yield make
    for session in made:
        # Its window may be gone and have taken it along.
        with contextlib.suppress(RuntimeError):
            session.close()


@pytest.fixture
def session(make_session, routine):
    """A session with the five balls."""
    return make_session(routine)


@pytest.fixture
def told(session):
    """The messages told, in order."""
    messages = []
    session.messages.told.connect(messages.append)
    return messages


class Answers:
    """Stands in for the person asked: gives what the test put down, notes what was asked."""

    def __init__(self):
        self.change_answer = "stay"
        self.open_path = self.save_path = self.diagram_path = self.handout_path = None
        self.write_over = False
        self.asked = []
        self.offered = None

    def about_changes(self, name, question):
        self.asked.append((name, question))
        return self.change_answer

    def about_changed_file(self, name):
        self.asked.append((name, "changed elsewhere"))
        return self.write_over

    def file_to_open(self, folder):
        return self.open_path

    def file_to_save(self, start):
        self.offered = start
        return self.save_path

    def diagram_to_write(self, start):
        return self.diagram_path

    def handout_to_write(self, start):
        return self.handout_path


@pytest.fixture
def window(qtbot, session, settings):
    """The window with the five balls, shown; files are chosen by `window.files.asker`."""
    from designer.window.main_window import DesignerWindow

    made = DesignerWindow(session, settings)
    made.files.asker = Answers()
    made.resize(1400, 900)
    made.show()
    qtbot.waitExposed(made)
    made.canvas.setFocus()
    yield made
    made.files.asker.change_answer = "drop"
    # The test may have closed it.
    with contextlib.suppress(RuntimeError):
        made.close()


@pytest.fixture
def canvas(window):
    """The window's table."""
    return window.canvas


@pytest.fixture
def on_table(canvas):
    """Where a table point (mm) lies on the canvas (px)."""
    from PySide6.QtCore import QPointF

    return lambda x, y: canvas.frame.transform().map(QPointF(x, y)).toPoint()
