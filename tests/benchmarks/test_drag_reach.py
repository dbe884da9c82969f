"""What the quick look at reach costs a drag: frames with it and without, and how late it comes.

Run with `python -m pytest tests/benchmarks/test_drag_reach.py -s`. Frames come every 16 ms as on
a screen; the reach map is on show, two gaps are watched, and the engine works on its threads.
Both runs are made in one go, on the same machine and under the same load.
"""

from __future__ import annotations

import os
import time

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
from PySide6.QtCore import QEventLoop, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication

from designer.answers.reach import ReachPanel
from designer.open_routine import OpenRoutine, Predictions
from designer.table_view import TableCanvas
from engine.balls import Ball
from engine.routine.document import Document
from engine.routine.values import STUN, Gap, LaneAsk, Routine, Shot

FRAMES, FRAME_S = 240, 0.016
SIZE = (1500, 820)


def six_balls() -> Routine:
    """Six balls, three lanes, two gaps, one of which opens and closes during the drag."""
    balls = (
        Ball("cue", "cue", 640.0, 1420.0),
        Ball("blue", "blue", 889.0, 1784.5),
        Ball("red-1", "red", 1180.0, 1250.0),
        Ball("red-2", "red", 1540.0, 900.0),
        Ball("pink", "pink", 889.0, 2676.75),
        Ball("black", "black", 889.0, 3245.0),
    )
    lanes = (LaneAsk("A", 0.5, 5.0), LaneAsk("B", STUN, 5.0), LaneAsk("C", -0.5, 5.0))
    gaps = (
        Gap("between", "ball-ball", ("red-1", "red-2")),
        Gap("beside", "ball-cushion", ("red-2",), cushion="right"),
    )
    shot = Shot("shot-1", "blue", "top-right", lanes=lanes)
    return Routine("Six balls", balls=balls, shots=(shot,), gaps=gaps)


def drag(
    session: OpenRoutine, canvas: TableCanvas, followed: bool
) -> tuple[np.ndarray, np.ndarray]:
    """Frames' costs (processor, clock) in ms, (n, 2), and the looks' lateness in ms."""
    late, asked = [], [0.0]
    session.reach.mapped.connect(lambda: late.append(1000.0 * (time.perf_counter() - asked[0])))
    image = QImage(*SIZE, QImage.Format.Format_RGB32)
    turns = np.linspace(0.0, 2 * np.pi, FRAMES, endpoint=False)
    costs = []
    follow = session.reach.follow
    if not followed:
        session.reach.follow = lambda: None
    for turn in turns:
        due = time.perf_counter() + FRAME_S
        began, clock = time.thread_time(), time.perf_counter()
        asked[0] = clock
        session.balls.drag("red-1", (1180 + 300 * np.cos(turn), 1300 + 300 * np.sin(turn)))
        painter = QPainter(image)
        canvas.paint_on(painter)
        painter.end()
        costs.append([1000 * (time.thread_time() - began), 1000 * (time.perf_counter() - clock)])
        left = 0.001
        # a late frame, too, lets the others have their turn once
        while left > 0:
            QApplication.processEvents(
                QEventLoop.ProcessEventsFlag.AllEvents, max(1, int(1000 * left))
            )
            time.sleep(0.0005)
            left = due - time.perf_counter()
    session.reach.follow = follow
    return np.array(costs), np.array(late)


def test_drag_with_the_reach_map_on_show(qapp):
    session = OpenRoutine(Document(six_balls()), Predictions(aside=True))
    session.predictions.prepare()
    canvas, panel = TableCanvas(session), ReachPanel(session)
    canvas.resize(*SIZE)
    panel.resize(380, 700)
    panel.setAttribute(Qt.WidgetAttribute.WA_DontShowOnScreen)
    panel.show()
    session.point_at_ball("red-1")
    canvas.hands.dragged = "red-1"
    while not session.predictions.is_ready or session.reach.shown_map("between") is None:
        QApplication.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 20)
    drag(session, canvas, True)
    found = {}
    for name, followed in (("without", False), ("with", True)):
        costs, late = drag(session, canvas, followed)
        found[name] = costs
        for what, column in zip(("processor", "clock"), costs.T, strict=True):
            middle, most = np.percentile(column, [50, 95])
            print(
                f"{name:8} quick look, frame by {what:9}: median {middle:5.2f} p95 {most:5.2f} ms"
            )
    middle, most = np.percentile(late, [50, 95])
    print(f"quick look comes {middle:.1f} ms (median), {most:.1f} ms (p95) after the ball moved")
    print(f"{len(late)} looks in {FRAMES} frames")
    session.close()
    extra = np.median(found["with"][:, 0]) - np.median(found["without"][:, 0])
    print(f"extra of a frame's processor time: {extra:.2f} ms")
    # a coach must see the gap turn while dragging: at least every third frame has a fresh look
    assert len(late) > FRAMES / 3
    assert extra < 4.0
