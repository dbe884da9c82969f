"""The film of one lane of a routine, for the command line: no window, no screen."""

from __future__ import annotations

import os
from dataclasses import dataclass

from PySide6.QtWidgets import QApplication

from designer.drawing.layers import ALL_BUT_MEASUREMENTS, Layers
from designer.exporting.film import WIDTH_PX, film_bytes
from designer.open_routine import OpenRoutine, Predictions
from designer.open_routine.view import View
from engine.errors import OutOfRangeError, UnknownNameError
from engine.routine.document import Document
from engine.routine.values import Routine

_kept: list[QApplication] = []


@dataclass(frozen=True, slots=True)
class FilmOptions:
    """Which lane of which shot ("" for the first) at which share of true speed, and the look."""

    shot: str = ""
    lane: str = ""
    speed: float = 1.0
    width_px: int = WIDTH_PX
    layers: Layers = ALL_BUT_MEASUREMENTS
    turned: bool = False
    far: bool = False


def routine_film(routine: Routine, options: FilmOptions, ending: str = ".gif") -> bytes:
    """The film as a file's bytes.

    `UnknownNameError` for a shot or lane there is none of, `OutOfRangeError` for a shot that
    cannot be played.
    """
    _ensure_application()
    session = OpenRoutine(Document(routine), Predictions(aside=False))
    try:
        session.predictions.prepare()
        session.set_view(View(options.layers, turned=options.turned, far=options.far))
        _point(session, options)
        session.player.set_speed(options.speed)
        if not session.player.open():
            raise OutOfRangeError("the shot of a film", options.shot or "the first", "playable")
        made = film_bytes(session, ending, options.width_px)
        assert made is not None, "nobody cancels it"
        return made
    finally:
        session.close()


def _point(session: OpenRoutine, options: FilmOptions) -> None:
    """Show the shot and select the lane asked for."""
    shots = session.routine.shots
    if options.shot or shots:
        shot = session.routine.shot(options.shot or shots[0].id)
        session.show_shot(shot.id)
        labels = [lane.label for lane in shot.lanes]
        if options.lane and options.lane not in labels:
            raise UnknownNameError("lane", options.lane, tuple(labels))
        if labels:
            session.point_at_lane(options.lane or labels[0])


def _ensure_application() -> None:
    if QApplication.instance() is None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        _kept.append(QApplication(["baizewright"]))
