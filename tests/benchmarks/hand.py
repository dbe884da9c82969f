"""A drag by hand on the running window: `python -m tests.benchmarks.hand BALL WIDE HIGH SECONDS`.

Opens the window with five lanes, two gaps and every ball measured, its table of the given size,
and drags a ball round a loop by events of the mouse, sixty places a second. Prints as JSON, in
milliseconds: `frames` [processor, clock], what the window's thread spent on each place (all its
work until the next one) and from the event to the painted table by the clock; `behind`, how many
places the answer on show was behind the ball; `bare`, the repaint of a widget of that size with
nothing but a kept picture and the balls.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
import time
from dataclasses import replace
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import QApplication, QWidget

from designer.drawing import roles
from designer.open_routine import Settings
from designer.painters.qt import paint_item
from designer.window.application import Application
from designer.window.start import application
from tests.benchmarks.test_drag_frame import LOOPS, five_lanes

FRAME_S = 1.0 / 60.0
ROUND_S = 4.0


class Bare(QWidget):
    """Nothing but a kept picture of the table and the balls as the drawing has them."""

    def __init__(self, canvas: QWidget) -> None:
        super().__init__()
        self.resize(canvas.size())
        picture = canvas._scenery._picture
        self.ground = QPixmap(picture)
        drawing, self.matrix = canvas._scenery._drawing, canvas.frame.transform()
        wanted = (roles.BALL, roles.BALL_LETTER)
        self.balls = [item for item in drawing.items if item.role in wanted]
        self.spent: list[float] = []

    def paintEvent(self, event: QPaintEvent) -> None:
        began = time.thread_time()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.drawPixmap(0, 0, self.ground)
        painter.setTransform(self.matrix, True)
        for item in self.balls:
            paint_item(item, painter)
        painter.end()
        self.spent.append(1000.0 * (time.thread_time() - began))


def mouse(canvas: QWidget, kind: QEvent.Type, at: QPointF) -> None:
    """Send an event of the left button."""
    left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
    moving = kind == QEvent.Type.MouseMove
    down = none if kind == QEvent.Type.MouseButtonRelease else left
    event = QMouseEvent(
        kind, at, canvas.mapToGlobal(at), none if moving else left, down,
        Qt.KeyboardModifier.NoModifier,
    )  # fmt: skip
    QApplication.sendEvent(canvas, event)


def until(app: QApplication, state, seconds: float = 60.0) -> None:
    """Let the window work until a state is reached."""
    ends = time.monotonic() + seconds
    while not state():
        app.processEvents()
        time.sleep(0.002)
        assert time.monotonic() < ends, "the state was not reached"


def opened(wide: int, high: int):
    """The running window with its table of that size, and its application."""
    app = application()
    with tempfile.TemporaryDirectory() as folder:
        desk = Application(Settings(Path(folder) / "settings.ini"))
        window = desk.open_window()
    session, canvas = window.session, window.canvas
    until(app, lambda: session.predictions.is_ready)
    session.document.replace(five_lanes(True))
    layers = replace(session.view.layers, measurements=True)
    session.set_view(replace(session.view, layers=layers))
    for _ in range(4):
        off = window.width() - canvas.width(), window.height() - canvas.height()
        window.resize(wide + off[0], high + off[1])
        app.processEvents()
    until(app, lambda: session.answer_is_full)
    return app, desk, window


def main(ball: str, wide: int, high: int, seconds: float) -> dict:
    """Drag, and tell what it took."""
    app, _desk, window = opened(wide, high)
    session, canvas = window.session, window.canvas
    middle, half = LOOPS[ball]
    painted: list[float] = []
    paint = canvas.paintEvent

    def noted(event: QPaintEvent) -> None:
        paint(event)
        painted.append(time.perf_counter())

    canvas.paintEvent = noted

    def at(turn: float) -> QPointF:
        place = np.array(middle) + np.array([np.cos(turn), np.sin(turn)]) * half
        return canvas.frame.transform().map(QPointF(*place))

    start = canvas.frame.transform().map(QPointF(*session.routine.ball(ball).centre_mm))
    mouse(canvas, QEvent.Type.MouseButtonPress, start)
    frames, behind, places = [], [], {session.routine.ball(ball).centre_mm: -1}
    count = int(seconds / FRAME_S)
    due = time.perf_counter()
    for frame in range(count):
        due = max(due + FRAME_S, time.perf_counter())
        painted.clear()
        spent, clock = time.thread_time(), time.perf_counter()
        mouse(canvas, QEvent.Type.MouseMove, at(2 * np.pi * frame * FRAME_S / ROUND_S))
        while not painted and time.perf_counter() < clock + 0.5:
            app.processEvents()
        shown = 1000.0 * ((painted[0] if painted else time.perf_counter()) - clock)
        places[session.routine.ball(ball).centre_mm] = frame
        while time.perf_counter() < due:
            app.processEvents()
            time.sleep(0.0005)
        told = session.played.ball(ball).centre_mm
        behind.append(frame - places.get(told, -10_000))
        frames.append([1000.0 * (time.thread_time() - spent), shown])
    mouse(canvas, QEvent.Type.MouseButtonRelease, at(0.0))
    until(app, lambda: session.answer_is_full)
    bare = Bare(canvas)
    bare.show()
    until(app, lambda: bare.spent)
    for _ in range(80):
        bare.repaint()
    window.files.asker.about_changes = lambda *_: "drop"
    window.close()
    return {"size": [canvas.width(), canvas.height()], "frames": frames, "behind": behind,
            "bare": bare.spent[20:]}  # fmt: skip


if __name__ == "__main__":
    ball, wide, high, seconds = sys.argv[1:]
    print(json.dumps(main(ball, int(wide), int(high), float(seconds))))
    os._exit(0)
