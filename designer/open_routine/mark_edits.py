"""Edits of the marks on the cloth, each with its step name."""

from __future__ import annotations

import math
from dataclasses import replace

from designer.open_routine.editing import Editing
from designer.texts import mark as to_translate
from designer.texts import tr
from designer.words.names import mark_name
from engine.routine import edits
from engine.routine.values import ClothMark

Point = tuple[float, float]

#: A new line is so long, a new mark so far beside the selected ball, mm.
LINE_MM, BESIDE_MM = 200.0, 120.0
_ADD = {
    "cross": to_translate("Mark a cross"),
    "dot": to_translate("Mark a dot"),
    "line": to_translate("Mark a line"),
}


class MarkEdits:
    """Adding, moving, describing and removing marks; they stay on the bed."""

    def __init__(self, session: Editing) -> None:
        self._session = session
        self._drag = 0

    def add(self, kind: str, place_mm: Point | None = None) -> str:
        """Put a "cross", "dot" or "line" on the cloth and select it; its id, "" if refused."""
        session = self._session
        x, y = self._on_bed(place_mm or self._free_place())
        mark_id = edits.free_mark_id(session.routine)
        end: Point | tuple[None, None] = (None, None)
        if kind == "line":
            half = LINE_MM / 2
            (x, y), end = self._on_bed((x - half, y)), self._on_bed((x + half, y))
        made = ClothMark(mark_id, kind, x, y, *end)
        if not session.apply(tr(_ADD[kind]), lambda r: edits.add_mark(r, made)):
            return ""
        session.point_at_mark(mark_id)
        return mark_id

    def move(self, mark_id: str, to_mm: Point, end: int = 0, *, whole: bool = True) -> None:
        """Put one end of a mark (0 is its place, 1 a line's other end) there.

        With `whole` the rest of a line goes along. Moves until `rest` are one step.
        """
        session = self._session
        mark = session.routine.cloth_mark(mark_id)
        places = list(mark.places_mm)
        was = places[end]
        by = (to_mm[0] - was[0], to_mm[1] - was[1])
        if whole:
            by = self._held(places, by)
            places = [(x + by[0], y + by[1]) for x, y in places]
        else:
            places[end] = self._on_bed(to_mm)
        (x, y), *other = places
        to_x, to_y = other[0] if other else (None, None)
        moved = replace(mark, x_mm=x, y_mm=y, to_x_mm=to_x, to_y_mm=to_y)
        session.apply(
            tr("Move {mark}", mark=mark_name(session.routine, mark_id)),
            lambda r: edits.set_mark(r, mark_id, moved),
            merge=f"mark {mark_id} {self._drag}",
        )

    def nudge(self, mark_id: str, dx_mm: float, dy_mm: float) -> None:
        """Move a mark by a little; nudges in a row are one step."""
        x, y = self._session.routine.cloth_mark(mark_id).places_mm[0]
        self.move(mark_id, (x + dx_mm, y + dy_mm))

    def rest(self) -> None:
        """End a run of moves: the next one is a step of its own."""
        self._drag += 1
        self._session.document.end_merge()

    def set_note(self, mark_id: str, note: str) -> None:
        """Say what a mark is for."""
        mark = replace(self._session.routine.cloth_mark(mark_id), note=note.strip())
        name = mark_name(self._session.routine, mark_id)
        self._session.apply(
            tr("Note of {mark}", mark=name), lambda r: edits.set_mark(r, mark_id, mark)
        )

    def set_kind(self, mark_id: str, kind: str) -> None:
        """Make it a "cross", a "dot" or a "line"."""
        mark = self._session.routine.cloth_mark(mark_id)
        if mark.kind == kind:
            return
        end: Point | tuple[None, None] = (None, None)
        if kind == "line":
            away = LINE_MM if mark.x_mm + LINE_MM <= self._session.table.width_mm else -LINE_MM
            end = (mark.x_mm + away, mark.y_mm)
        made = replace(mark, kind=kind, to_x_mm=end[0], to_y_mm=end[1])
        name = mark_name(self._session.routine, mark_id)
        self._session.apply(
            tr("Form of {mark}", mark=name), lambda r: edits.set_mark(r, mark_id, made)
        )

    def remove(self, mark_id: str) -> bool:
        """Take a mark away, and tell."""
        session, name = self._session, mark_name(self._session.routine, mark_id)
        step = tr("Remove {mark}", mark=name)
        if not session.apply(step, lambda r: edits.remove_mark(r, mark_id)):
            return False
        session.messages.note(tr("Removed: {mark}.", mark=name), tr("Undo brings it back."))
        return True

    def _free_place(self) -> Point:
        """Beside the selected ball, else in the middle; off the balls and marks there are."""
        session = self._session
        table, ball = session.table, session.ball
        x, y = table.width_mm / 2, table.length_mm / 2
        if ball is not None:
            x, y = ball.x_mm + BESIDE_MM, ball.y_mm
        taken = [place for mark in session.routine.cloth_marks for place in mark.places_mm]
        taken += [ball.centre_mm for ball in session.routine.balls]
        while any(math.dist((x, y), place) < BESIDE_MM / 2 for place in taken):
            y += BESIDE_MM / 2
        return (x, y)

    def _on_bed(self, place: Point) -> Point:
        table = self._session.table
        return (
            min(max(place[0], 0.0), table.width_mm),
            min(max(place[1], 0.0), table.length_mm),
        )

    def _held(self, places: list[Point], by: Point) -> Point:
        """The move, cut so that every place stays on the bed."""
        table = self._session.table
        held = []
        for axis, size in enumerate((table.width_mm, table.length_mm)):
            low = min(place[axis] for place in places)
            high = max(place[axis] for place in places)
            held.append(min(max(by[axis], -low), size - high))
        return (held[0], held[1])
