"""What one frame of a drag costs: move the ball, answer five lanes, draw, paint the canvas.

As in the window, the quick look at the gaps is worked out on a thread of its own and drawn when it
is there. An obstacle is dragged past lanes, gaps, a cushion and other balls; where everything is
shown the cue ball and the object ball are dragged too, which changes the pot and every lane.

Run with `python -m pytest tests/benchmarks/test_drag_frame.py -s`; it prints the median and the
95th percentile of each part and of the whole frame, for canvases of several sizes. The times are
those of the processor, so that other programs on a busy machine do not count; the frame is given
by the clock as well. The loop is gone round three times, a few millimetres apart so that nothing
is kept from the time before; besides the frames as they were, the least of each three is told: a
machine that is shared can be slow for a while, but what is dear in the program is dear each time.
"""

from __future__ import annotations

import os
import time
from dataclasses import replace

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

import numpy as np
import pytest
from PySide6.QtGui import QImage, QPainter

from designer.open_routine import OpenRoutine, Predictions
from designer.table_view import TableCanvas
from engine.balls import Ball
from engine.routine.document import Document
from engine.routine.values import STUN, Gap, LaneAsk, Routine, Shot

FRAMES, ROUNDS = 240, 3
SIZES = {
    "1000x560": (1000, 560, 1.0),
    "1500x820": (1500, 820, 1.0),
    "1000x560 x2": (1000, 560, 2.0),
}
#: Whether there are two gaps, and whether every ball is measured from its cushions.
SHOWN = {"lanes": (False, False), "gaps": (True, False), "gaps, measured": (True, True)}
#: The ball dragged: the middle and the half widths of the loop its pointer goes round, mm.
LOOPS = {
    "red-1": ((1180.0, 1500.0), (520.0, 640.0)),
    "cue": ((640.0, 1420.0), (150.0, 150.0)),
    "blue": ((889.0, 1784.5), (150.0, 150.0)),
}
CASES = [("red-1", shown) for shown in SHOWN] + [
    ("cue", "gaps, measured"),
    ("blue", "gaps, measured"),
]


def five_lanes(gaps: bool) -> Routine:
    """Eight balls, one shot with five lanes, two gaps if wanted."""
    reds = ((1180, 1250), (1420, 1180), (520, 2300), (1250, 2500))
    balls = (
        Ball("cue", "cue", 640.0, 1420.0),
        Ball("blue", "blue", 889.0, 1784.5),
        *(Ball(f"red-{i}", "red", float(x), float(y)) for i, (x, y) in enumerate(reds, 1)),
        Ball("brown", "brown", 889.0, 737.0),
        Ball("black", "black", 889.0, 3245.0),
    )
    tips = (0.5, 0.25, STUN, -0.25, -0.5)
    lanes = tuple(LaneAsk(label, tip, 5.0) for label, tip in zip("ABCDE", tips, strict=True))
    shown = (
        Gap("between", "ball-ball", ("red-1", "red-2"), title="Between the reds"),
        Gap("beside", "ball-cushion", ("red-2",), cushion="right"),
    )
    shot = Shot("shot-1", "blue", "top-right", lanes=lanes)
    return Routine("Five lanes", balls=balls, shots=(shot,), gaps=shown if gaps else ())


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("ball", "shown"), CASES)
def test_drag_frame(qapp, qtbot, size, ball, shown):
    gaps, measurements = SHOWN[shown]
    wide, high, ratio = SIZES[size]
    session = OpenRoutine(Document(five_lanes(gaps)), Predictions())
    with qtbot.waitSignal(session.predictions.ready, timeout=120_000):
        session.predictions.prepare()
    layers = replace(session.view.layers, measurements=measurements)
    session.set_view(replace(session.view, layers=layers))
    canvas = TableCanvas(session)
    canvas.resize(wide, high)
    session.point_at_ball(ball)
    canvas.hands.dragged = ball
    image = QImage(int(wide * ratio), int(high * ratio), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    turns = np.linspace(0.0, 2 * np.pi, FRAMES, endpoint=False)
    middle, half = LOOPS[ball]
    loop = np.array(middle) + np.column_stack((np.cos(turns), np.sin(turns))) * half
    places = np.concatenate([loop + 2.7 * turn for turn in range(ROUNDS)])
    times = []
    for place in [*places[:20], *places]:
        began, clock = time.thread_time(), time.perf_counter()
        session.balls.drag(ball, (float(place[0]), float(place[1])))
        answered = time.thread_time()
        painter = QPainter(image)
        canvas.paint_on(painter)
        painter.end()
        qapp.processEvents()
        done = time.thread_time()
        seconds = (answered - began, done - answered, done - began, time.perf_counter() - clock)
        times.append([1000.0 * second for second in seconds])
    session.close()
    rounds = np.array(times[20:]).reshape(ROUNDS, FRAMES, 4)
    names = ("edit and answer", "draw and paint", "whole frame", "frame by the clock")
    for index, name in enumerate(names):
        each = rounds[:, :, index]
        told = [
            "median {:6.2f} ms   p95 {:6.2f} ms".format(*np.percentile(some, [50, 95]))
            for some in (each, each.min(axis=0))
        ]
        print(f"{ball:6}{shown:15}{size:12}{name:19}{told[0]}   least of three: {told[1]}")
    assert len(session.shot_answer.lanes) == 5
