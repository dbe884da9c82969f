"""The pictures of a replay, one after another, for an animated image."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from PySide6.QtCore import QRectF
from PySide6.QtGui import QColor, QFont, QImage, QPainter
from PySide6.QtWidgets import QApplication

from designer.drawing.look import PAPER
from designer.open_routine import OpenRoutine
from designer.open_routine.replay import Replay
from designer.painters.qt import paint
from designer.table_view.frame import Frame
from designer.table_view.replaying import LEFT_OUT, paint_replay
from designer.table_view.table_picture import TablePicture

#: The first and the last picture are held this long, and the contact, s.
HELD_S, CONTACT_HELD_S = 0.8, 1.0


def film_times(replay: Replay, per_second: float, speed: float) -> tuple[tuple[float, float], ...]:
    """The times of a replay to picture and how long each is shown, both s.

    The shot runs at `speed` times its true speed; start, contact and end are held.
    """
    step = speed / per_second
    count = math.ceil(replay.duration_s / step)
    times = {round(index * step, 9) for index in range(count)}
    contact = replay.contact_s
    if contact is not None:
        times.add(contact)
    times.add(replay.duration_s)
    ordered = sorted(times)
    shown = []
    for here, following in zip(ordered, [*ordered[1:], ordered[-1]], strict=True):
        length = (following - here) / speed
        if here in (0.0, ordered[-1]):
            length += HELD_S
        if here == contact:
            length += CONTACT_HELD_S
        shown.append((here, length))
    return tuple(shown)


def film_pictures(
    session: OpenRoutine, replay: Replay, times_s: Iterator[float], width_px: int
) -> Iterator[QImage]:
    """The table with the balls at each time; the drawing under them is painted once."""
    view = session.view
    # A film shows no measurements: nothing stands still to be measured.
    layers = replace(view.layers, measurements=False)
    scenery, frame = TablePicture(session, layers), Frame()
    frame.show(scenery.bounds(), view.turned, view.far)
    size = QRectF(0.0, 0.0, width_px, round(width_px / frame.shape))
    frame.resize(size.width(), size.height())
    matrix = frame.transform()
    under = QImage(size.size().toSize(), QImage.Format.Format_RGB32)
    under.fill(QColor(PAPER))
    painter = QPainter(under)
    drawing = scenery.drawing(frame.px_per_mm)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setTransform(matrix)
    paint(drawing, painter, LEFT_OUT)
    painter.end()
    font = QFont(QApplication.font())
    for t_s in times_s:
        picture = under.copy()
        painter = QPainter(picture)
        paint_replay(painter, replay, t_s, matrix, font)
        painter.end()
        yield picture
