"""Random edits and undos: the document always comes back, the canvas always shows the model.

`BAIZEWRIGHT_FULL=1` makes more than 2,000 edits; the usual run makes fewer.
"""

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule
from PySide6.QtGui import QImage, QPainter

from designer.drawing import roles
from designer.drawing.model import Disc, Stroke
from designer.open_routine import OpenRoutine, Predictions
from designer.table_view import TableCanvas
from engine.balls import KINDS, Ball
from engine.routine.document import Document
from engine.routine.values import MARK_KINDS, STUN, LaneAsk, Routine, Shot
from tests.shares import FULL

RUNS, STEPS = (100, 60) if FULL else (8, 30)
PLACES = st.tuples(st.floats(-100, 1900), st.floats(-100, 3700))
INDEX = st.integers(0, 99)


class Edits(RuleBasedStateMachine):
    """Does what a coach can do and keeps a list of every routine that was ever on show."""

    made = 0

    @initialize()
    def open(self):
        self.session = OpenRoutine(Document(), Predictions(aside=False))
        self.session.predictions.prepare()
        self.canvas = TableCanvas(self.session)
        self.canvas.resize(700, 400)
        self.image = QImage(700, 400, QImage.Format.Format_RGB32)
        lanes = (LaneAsk("A", 0.3), LaneAsk("B", STUN))
        balls = (Ball("cue", "cue", 600.0, 900.0), Ball("red-1", "red", 900.0, 2000.0))
        shot = Shot("shot-1", "red-1", "top-right", lanes=lanes)
        self.session.document.replace(Routine(balls=balls, shots=(shot,)))
        self.past = [self.session.routine]
        self.future = []

    def teardown(self):
        if not hasattr(self, "session"):
            return
        # Everything can be taken back to the very beginning, and done again to the very end.
        last = self.session.routine
        while self.session.document.undo_name:
            self.session.undo()
        assert self.session.routine == self.past[0]
        while self.session.document.redo_name:
            self.session.redo()
        if not self.future:
            assert self.session.routine == last
        self.session.close()

    def _done(self, before):
        """Note a step: an edit that changed something forgets what could be redone."""
        self.session.balls.drop()
        if self.session.routine != before:
            self.past.append(self.session.routine)
            self.future.clear()

    def _ball(self, index):
        balls = self.session.routine.balls
        return balls[index % len(balls)].id if balls else ""

    def _painted(self, edit):
        """Edit, paint, and note the step."""
        before = self.session.routine
        edit()
        painter = QPainter(self.image)
        self.canvas.paint_on(painter)
        painter.end()
        Edits.made += 1
        self._done(before)

    @precondition(lambda self: len(self.session.routine.balls) < 12)
    @rule(kind=st.sampled_from(KINDS), place=PLACES)
    def add(self, kind, place):
        self._painted(lambda: self.session.balls.add(kind, place))

    @precondition(lambda self: self.session.routine.balls)
    @rule(index=INDEX, places=st.lists(PLACES, min_size=1, max_size=4))
    def drag(self, index, places):
        ball = self._ball(index)

        def carry():
            for place in places:
                self.session.balls.drag(ball, place)

        self._painted(carry)

    @precondition(lambda self: self.session.routine.balls)
    @rule(index=INDEX, dx=st.sampled_from([-10.0, 1.0]), dy=st.sampled_from([0.0, 10.0]))
    def nudge(self, index, dx, dy):
        self._painted(lambda: self.session.balls.nudge(self._ball(index), dx, dy))

    @precondition(lambda self: len(self.session.routine.balls) > 1)
    @rule(first=INDEX, second=INDEX, by=PLACES)
    def move_together(self, first, second, by):
        chosen = list(dict.fromkeys([self._ball(first), self._ball(second)]))
        self.session.choose_balls(chosen)
        starts = self.session.group.places()
        if starts:
            self._painted(lambda: self.session.group.drag(starts, by, "random"))

    @precondition(lambda self: self.session.routine.balls)
    @rule(index=INDEX)
    def remove(self, index):
        self._painted(lambda: self.session.balls.remove(self._ball(index)))

    @precondition(lambda self: self.session.routine.balls)
    @rule(index=INDEX, locked=st.booleans())
    def lock(self, index, locked):
        self._painted(lambda: self.session.balls.lock(self._ball(index), locked))

    @rule(axis=st.sampled_from(["long", "cross"]))
    def mirror(self, axis):
        self.session.choose_balls([])
        self._painted(lambda: self.session.group.mirror(axis))

    @precondition(lambda self: 0 < len(self.session.routine.balls) < 10)
    @rule(index=INDEX)
    def duplicate(self, index):
        self.session.choose_balls([self._ball(index)])
        self._painted(self.session.group.duplicate)

    @precondition(lambda self: len(self.session.routine.shots) < 4)
    @rule()
    def add_shot(self):
        self._painted(self.session.shots.add)

    @rule(index=INDEX, pocket=st.sampled_from(["top-left", "middle-right", "bottom-left"]))
    def aim(self, index, pocket):
        ball = self._ball(index)
        if ball and ball != "cue":
            self._painted(lambda: self.session.shots.set_object_ball(ball))
        self._painted(lambda: self.session.shots.set_pocket(pocket))

    @rule(tip=st.floats(-0.5, 0.5), pace=st.floats(1, 10))
    def strike(self, tip, pace):
        self._painted(lambda: self.session.shots.set_tip(tip))
        self._painted(lambda: self.session.shots.set_pace(pace))

    @precondition(lambda self: len(self.session.routine.balls) > 2)
    @rule(first=INDEX, second=INDEX)
    def add_gap(self, first, second):
        one, other = self._ball(first), self._ball(second)
        if one != other and "cue" not in (one, other):
            self._painted(lambda: self.session.gaps.add_between_balls(one, other))

    @precondition(lambda self: len(self.session.routine.cloth_marks) < 5)
    @rule(kind=st.sampled_from(MARK_KINDS), place=PLACES)
    def mark(self, kind, place):
        self._painted(lambda: self.session.marks.add(kind, place))

    @precondition(lambda self: self.session.routine.cloth_marks)
    @rule(index=INDEX, place=PLACES, kind=st.sampled_from(MARK_KINDS), whole=st.booleans())
    def move_mark(self, index, place, kind, whole):
        marks, at = self.session.routine.cloth_marks, self.session.marks
        one = marks[index % len(marks)]
        end = len(one.places_mm) - 1

        def move():
            at.move(one.id, place, end, whole=whole)
            at.rest()

        self._painted(move)
        self._painted(lambda: at.set_kind(one.id, kind))

    @precondition(lambda self: self.session.routine.cloth_marks)
    @rule(index=INDEX)
    def remove_mark(self, index):
        marks = self.session.routine.cloth_marks
        self._painted(lambda: self.session.marks.remove(marks[index % len(marks)].id))

    @rule(text=st.text(max_size=12))
    def title(self, text):
        def type_it():
            self.session.sheet.set_text("title", text)
            self.session.sheet.rest()

        self._painted(type_it)

    @precondition(lambda self: self.session.document.undo_name)
    @rule()
    def undo(self):
        self.session.undo()
        self.future.append(self.past.pop())

    @precondition(lambda self: self.session.document.redo_name)
    @rule()
    def redo(self):
        self.session.redo()
        self.past.append(self.future.pop())

    @invariant()
    def the_document_is_the_one_expected(self):
        if hasattr(self, "session"):
            assert self.session.routine == self.past[-1]
            assert bool(self.session.document.redo_name) == bool(self.future)

    @invariant()
    def the_canvas_shows_the_model(self):
        if not hasattr(self, "session"):
            return
        drawing = self.canvas._scenery.drawing(self.canvas.frame.px_per_mm)
        discs = [
            item.centre
            for item in drawing.items
            if isinstance(item, Disc) and item.role == roles.BALL
        ]
        assert discs == [ball.centre_mm for ball in self.session.routine.balls]
        drawn = drawing.with_roles(roles.CLOTH_MARK)
        kinds = [one.kind for one in self.session.routine.cloth_marks]
        assert sum(isinstance(item, Disc) for item in drawn) == kinds.count("dot")
        # Each cross and each line is two strokes: light, and ink on it.
        strokes = sum(isinstance(item, Stroke) for item in drawn)
        assert strokes == 2 * (len(kinds) - kinds.count("dot"))
        assert not (self.session.mark and self.session.chosen)
        ids = {ball.id for ball in self.session.routine.balls}
        assert set(self.session.chosen) <= ids
        answer = self.session.answer
        assert answer is not None
        assert [one.ball for one in answer.placements] == [b.id for b in self.session.routine.balls]


@pytest.mark.slow
def test_random_edits_and_undos(qapp):
    Edits.made = 0
    case = Edits.TestCase
    case.settings = settings(
        max_examples=RUNS, stateful_step_count=STEPS, deadline=None, derandomize=not FULL,
        suppress_health_check=list(HealthCheck), print_blob=False,
    )  # fmt: skip
    case().runTest()
    assert Edits.made > (2000 if FULL else RUNS)


@pytest.mark.parametrize("steps", [60])
@pytest.mark.slow
def test_a_long_run_comes_back_step_by_step(session, steps):
    seen = [session.routine]
    for number in range(steps):
        session.balls.nudge("red-1", 1.0 if number % 3 else -1.0, 1.0)
        session.balls.drop()
        seen.append(session.routine)
    for expected in reversed(seen[:-1]):
        session.undo()
        assert session.routine == expected
