"""A new routine of five balls, two gaps and three steps, counted in what the hand does.

One action is a key or a chord of keys, a click, a double click, or a drag. Typing a title would
be one more for each word.
"""

import pytest
from PySide6.QtCore import QPoint, Qt

LEFT = Qt.MouseButton.LeftButton
MOST_ACTIONS = 40


class Coach:
    """Works with mouse and keys on the window and counts what that takes."""

    def __init__(self, qtbot, window, on_table):
        self.qtbot, self.window, self.on_table = qtbot, window, on_table
        self.canvas, self.actions = window.canvas, 0

    def click(self, widget):
        self.actions += 1
        self.qtbot.mouseClick(widget, LEFT)

    def key(self, key, keys=Qt.KeyboardModifier.NoModifier):
        self.actions += 1
        self.qtbot.keyClick(self.canvas, key, keys)

    def double_click(self, place_mm):
        self.actions += 1
        self.qtbot.mouseDClick(self.canvas, LEFT, pos=self.on_table(*place_mm))

    def drag(self, start_mm, end_mm):
        self.actions += 1
        start, end = self.on_table(*start_mm), self.on_table(*end_mm)
        self.qtbot.mousePress(self.canvas, LEFT, pos=start)
        for step in range(1, 6):
            self.qtbot.mouseMove(self.canvas, start + (end - start) * step / 5 + QPoint(0, 0))
            self.qtbot.wait(1)
        self.qtbot.mouseRelease(self.canvas, LEFT, pos=end)


@pytest.fixture
def coach(qtbot, window, session, on_table):
    from engine.routine.values import Routine

    session.document.replace(Routine())
    window.show_panel("Balls")
    with qtbot.waitActive(window):
        window.activateWindow()
    window.canvas.grab()
    return Coach(qtbot, window, on_table)


def test_a_whole_routine_in_at_most_forty_actions(coach, session, window):
    place = lambda ball: session.routine.ball(ball).centre_mm  # noqa: E731

    for kind in ("cue", "blue", "red", "red", "black"):
        coach.click(window.menus.bar.tray.buttons[kind])
    coach.drag(place("cue"), (640.0, 1420.0))
    coach.drag(place("red-1"), (1180.0, 1250.0))
    coach.drag(place("red-2"), (1420.0, 1180.0))
    # The blue and the black lie on their spots as they come.
    for step, (ball, pocket) in enumerate(
        (("blue", "top-right"), ("black", "top-left"), ("red-1", "bottom-right"))
    ):
        if step:
            coach.key(
                Qt.Key.Key_T,
                Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier,
            )
        coach.double_click(place(ball))
        coach.double_click(session.table.pocket(pocket).fall_mm)
    coach.key(Qt.Key.Key_G)
    coach.drag(place("red-1"), place("red-2"))
    coach.key(Qt.Key.Key_G)
    coach.drag(place("red-2"), (1772.0, 1180.0))

    routine = session.routine
    assert len(routine.balls) == 5 and len(routine.gaps) == 2
    assert [shot.object_ball for shot in routine.shots] == ["blue", "black", "red-1"]
    assert [shot.pocket for shot in routine.shots] == ["top-right", "top-left", "bottom-right"]
    assert all(len(shot.lanes) == 3 for shot in routine.shots)
    assert session.answer.problems == ()
    print(f"{coach.actions} actions")
    assert coach.actions <= MOST_ACTIONS
