"""New routines, counted in what the hand does.

One action is a key or a chord of keys, a click, a double click, a drag, or a text typed into a
field. The same runs on a real screen: QT_QPA_PLATFORM=xcb under Xvfb, as `.ci/run` has it.
"""

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QApplication

from designer.exporting.handout_dialog import HandoutDialog
from designer.widgets.badges import BALL_MIME
from engine.storage import load_routine

LEFT = Qt.MouseButton.LeftButton
MOST_ACTIONS, MOST_AT_FIRST = 40, 18
CTRL = Qt.KeyboardModifier.ControlModifier


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

    def put(self, kind, place_mm):
        """Drag a ball from the tray: what arrives over the table is a drop with its kind."""
        self.actions += 1
        data = QMimeData()
        data.setData(BALL_MIME, kind.encode())
        at, none = self.on_table(*place_mm), Qt.KeyboardModifier.NoModifier
        entering = QDragEnterEvent(at, Qt.DropAction.CopyAction, data, LEFT, none)
        QApplication.sendEvent(self.canvas, entering)
        drop = QDropEvent(QPointF(at), Qt.DropAction.CopyAction, data, LEFT, none)
        QApplication.sendEvent(self.canvas, drop)

    def type_into(self, field, text):
        self.actions += 1
        field.setFocus()
        self.qtbot.keyClicks(field, text)

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


def test_a_first_routine_from_the_empty_table_to_its_handout(
    qtbot, coach, session, window, tmp_path
):
    """Five balls, a shot, a gap, its words, saved, and the handout made."""
    place = lambda ball: session.routine.ball(ball).centre_mm  # noqa: E731
    asker = window.files.asker
    asker.save_path, asker.handout_path = tmp_path / "first.json", tmp_path / "first.pdf"
    assert len(window.welcome.steps_left()) == 3 and window.welcome.isVisible()

    coach.put("cue", (640.0, 1420.0))
    assert len(window.welcome.steps_left()) == 2
    coach.click(window.menus.bar.tray.buttons["blue"])
    coach.put("red", (1180.0, 1250.0))
    coach.put("red", (1420.0, 1180.0))
    coach.click(window.menus.bar.tray.buttons["black"])
    coach.double_click(place("blue"))
    coach.double_click(session.table.pocket("top-right").fall_mm)
    assert len(window.welcome.steps_left()) == 1
    coach.key(Qt.Key.Key_G)
    coach.drag(place("red-1"), place("red-2"))
    assert not window.welcome.isVisible()
    coach.key(Qt.Key.Key_F8)
    coach.type_into(window.sheet.lines["title"], "Between two reds")
    coach.type_into(window.sheet.words["question"], "Which stroke goes between the reds?")
    coach.key(Qt.Key.Key_S, CTRL)
    coach.key(Qt.Key.Key_P, CTRL)
    (dialog,) = window.findChildren(HandoutDialog)
    coach.click(dialog.work.begin)
    qtbot.waitUntil(asker.handout_path.exists, timeout=60_000)

    saved = load_routine(tmp_path / "first.json")
    assert len(saved.balls) == 5 and len(saved.gaps) == 1 and saved.title == "Between two reds"
    assert saved.shots[0].question.startswith("Which stroke") and len(saved.shots[0].lanes) == 3
    print(f"{coach.actions} actions")
    assert coach.actions <= MOST_AT_FIRST
