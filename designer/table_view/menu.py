"""The menu of the place pointed at: what can be done with a ball, a pocket or a free place."""

from __future__ import annotations

from PySide6.QtWidgets import QMenu, QWidget

from designer.open_routine import OpenRoutine
from designer.texts import tr
from designer.words.figures import first_up
from designer.words.names import (
    KIND_NAMES,
    MARK_NAMES,
    ball_name,
    kind_name,
    mark_name,
    pocket_name,
)

Point = tuple[float, float]


def menu_for(
    parent: QWidget,
    session: OpenRoutine,
    ball_id: str,
    pocket_id: str,
    place_mm: Point,
    mark_id: str = "",
) -> QMenu:
    """The menu for a ball, else a mark, else a pocket, else a place on the cloth."""
    menu = QMenu(parent)
    if ball_id:
        _ball_entries(menu, session, ball_id)
    elif mark_id:
        _mark_entries(menu, session, mark_id)
    elif pocket_id:
        _pocket_entries(menu, session, pocket_id)
    else:
        _place_entries(menu, session, place_mm)
    return menu


def _ball_entries(menu: QMenu, session: OpenRoutine, ball_id: str) -> None:
    ball = session.routine.ball(ball_id)
    menu.addSection(first_up(ball_name(session.routine, ball_id)))
    if not ball.is_cue:
        pick = menu.addAction(tr("Make it the object ball"))
        pick.triggered.connect(lambda: session.shots.set_object_ball(ball_id))
    spots = menu.addMenu(tr("Put it on"))
    for spot in session.table.spots:
        to_spot = spots.addAction(tr("the {spot}", spot=tr(spot.title)))
        to_spot.triggered.connect(lambda _=False, s=spot.id: session.balls.to_spot(ball_id, s))
    spots.setEnabled(bool(session.table.spots) and not ball.locked)
    lock = menu.addAction(tr("Unlock it") if ball.locked else tr("Lock it where it is"))
    lock.triggered.connect(lambda: session.balls.lock(ball_id, not ball.locked))
    menu.addSeparator()
    remove = menu.addAction(tr("Remove"))
    remove.triggered.connect(lambda: session.balls.remove(ball_id))


def _pocket_entries(menu: QMenu, session: OpenRoutine, pocket_id: str) -> None:
    name = pocket_name(session.table, pocket_id)
    menu.addSection(first_up(name))
    pick = menu.addAction(tr("Pot into this pocket"))
    pick.triggered.connect(lambda: session.shots.set_pocket(pocket_id))


def _place_entries(menu: QMenu, session: OpenRoutine, place_mm: Point) -> None:
    menu.addSection(tr("Put here"))
    for kind in KIND_NAMES:
        entry = menu.addAction(first_up(kind_name(kind)))
        entry.setEnabled(kind != "cue" or session.routine.cue_ball is None)
        entry.triggered.connect(lambda _=False, k=kind: session.balls.add(k, place_mm))
    menu.addSection(tr("Mark the cloth here"))
    for kind, words in MARK_NAMES.items():
        entry = menu.addAction(first_up(tr(words)))
        entry.triggered.connect(lambda _=False, k=kind: session.marks.add(k, place_mm))


def _mark_entries(menu: QMenu, session: OpenRoutine, mark_id: str) -> None:
    mark = session.routine.cloth_mark(mark_id)
    menu.addSection(first_up(mark_name(session.routine, mark_id)))
    words = menu.addAction(tr("Say what it is for…"))
    words.triggered.connect(lambda: session.attend.emit("Balls"))
    forms = menu.addMenu(tr("Form"))
    for kind, name in MARK_NAMES.items():
        form = forms.addAction(first_up(tr(name)))
        form.setCheckable(True)
        form.setChecked(kind == mark.kind)
        form.triggered.connect(lambda _=False, k=kind: session.marks.set_kind(mark_id, k))
    menu.addSeparator()
    away = menu.addAction(tr("Take it away"))
    away.triggered.connect(lambda: session.marks.remove(mark_id))
