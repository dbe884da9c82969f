"""Balls to and from the clipboard: as a routine of ours, and as words for other programs."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QMimeData
from PySide6.QtGui import QGuiApplication

from designer.open_routine import OpenRoutine
from designer.texts import mark, tr
from engine.balls import Ball
from engine.errors import BaizewrightError
from engine.routine.values import Routine

#: Our own kind of data: a routine file with nothing but balls.
KIND = "application/x-baizewright-routine+json"

PASTE = mark("Paste")


def copy_balls(session: OpenRoutine) -> bool:
    """Put the chosen balls on the clipboard; told when none is chosen."""
    from engine.storage import dump_routine

    balls = session.group.balls
    if not balls:
        session.messages.warn(
            tr("No ball is chosen."), tr("Click a ball, or draw a band round several.")
        )
        return False
    alone = Routine(table=session.routine.table, balls=balls)
    data = QMimeData()
    data.setData(KIND, dump_routine(alone).encode("utf-8"))
    data.setText(session.group.text())
    QGuiApplication.clipboard().setMimeData(data)
    return True


def paste_balls(session: OpenRoutine) -> tuple[str, ...]:
    """Put the clipboard's balls on the table, as near as can be to where they were; their ids.

    A routine's whole text is taken as well. Told when there are no balls on the clipboard.
    """
    balls = _balls_on_clipboard()
    if not balls:
        session.messages.warn(
            tr("There are no balls on the clipboard."),
            tr("Copy some first, here or in another window."),
        )
        return ()
    if session.routine.cue_ball is not None:
        balls = [ball for ball in balls if not ball.is_cue]
    return session.group.add([replace(ball) for ball in balls], PASTE)


def _balls_on_clipboard() -> list[Ball]:
    from engine.storage import parse_routine
    from engine.storage.reading import decode

    data = QGuiApplication.clipboard().mimeData()
    if data is None:
        return []
    name = "clipboard"
    try:
        own = data.hasFormat(KIND)
        text = decode(bytes(data.data(KIND).data()), name) if own else data.text()
        return list(parse_routine(text, name).balls) if text.lstrip().startswith("{") else []
    except BaizewrightError:
        return []
