"""Edits of the balls as the coach makes them: each with its step name, each one undo step."""

from __future__ import annotations

from collections.abc import Mapping

from designer.open_routine.editing import Editing
from designer.texts import listed, tr, tr_count
from designer.words.names import ball_name, gone_with_balls, kind_name
from engine.balls import Ball
from engine.routine import edits
from engine.routine.settle import is_free, settle
from engine.routine.values import Routine

Point = tuple[float, float]

#: Spots of a table by the kind of ball that belongs on them carry that kind's name.
COLOURS = ("yellow", "green", "brown", "blue", "pink", "black")


class BallEdits:
    """Placing, dragging, nudging, locking and removing balls."""

    def __init__(self, session: Editing) -> None:
        self._session = session
        self._drag = 0

    def add(self, kind: str, place_mm: Point | None = None) -> str:
        """Put one more ball on the table, on its spot or where it fits; its id, "" if refused."""
        session = self._session
        if kind == "cue" and session.routine.cue_ball is not None:
            session.point_at_ball(session.routine.cue_ball.id)
            session.messages.warn(
                tr("There is a cue ball already."), tr("It is selected now: drag it.")
            )
            return ""
        ball_id = edits.free_ball_id(session.routine, kind)
        wanted = place_mm or self.home_mm(kind)
        x, y = settle(session.routine, session.table, session.radius_of(kind), ball_id, wanted)
        ball = Ball(ball_id, kind, x, y)
        if not session.apply(
            tr("Add {ball}", ball=kind_name(kind)), lambda r: edits.place_ball(r, ball)
        ):
            return ""
        session.point_at_ball(ball_id)
        return ball_id

    def home_mm(self, kind: str) -> Point:
        """Where a ball of that kind is put at first: its spot, the D, or above the pink spot."""
        table, radius = self._session.table, self._session.radius_mm
        for spot in table.spots:
            if spot.id == kind:
                return (spot.x_mm, spot.y_mm)
        middle = table.width_mm / 2
        if kind == "cue" and table.baulk_y_mm is not None:
            return (middle + (table.d_radius_mm or 0.0) / 2, table.baulk_y_mm)
        pink = next((spot for spot in table.spots if spot.id == "pink"), None)
        above = pink.y_mm if pink is not None else table.length_mm * 0.7
        # Reds start above the pink spot and fill up towards the sides.
        reds = sum(ball.kind == kind for ball in self._session.routine.balls)
        side = (reds + 1) // 2 * (1 if reds % 2 else -1)
        return (middle + side * 6 * radius, above + 5 * radius)

    def remove(self, *ball_ids: str) -> bool:
        """Remove balls, with what cannot be without them; what went is told."""
        session = self._session
        gone = gone_with_balls(session.routine, ball_ids)
        told = (
            ball_name(session.routine, ball_ids[0])
            if len(ball_ids) == 1
            else tr_count("{count} ball", "{count} balls", len(ball_ids))
        )
        name = tr("Remove {ball}", ball=told)

        def edit(routine: Routine) -> Routine:
            for one in ball_ids:
                routine = edits.remove_ball(routine, one)
            return routine

        if not session.apply(name, edit):
            return False
        what = tr("Removed: {ball}.", ball=told)
        if gone:
            what = tr("{step}: went or lost their ball: {gone}.", step=name, gone=listed(gone))
        session.messages.note(what, tr("Undo brings all back."))
        return True

    def drag(self, ball_id: str, wanted_mm: Point) -> Point:
        """Move a ball towards a place; it stops at what it meets. One step until `drop`."""
        session = self._session
        radius = session.radius_of(session.routine.ball(ball_id).kind)
        x, y = settle(session.routine, session.table, radius, ball_id, wanted_mm)
        name = tr("Move {ball}", ball=ball_name(session.routine, ball_id))
        session.apply(
            name, lambda r: edits.move_ball(r, ball_id, x, y), merge=f"{ball_id} {self._drag}"
        )
        return (x, y)

    def move_to(self, places_mm: Mapping[str, Point], name: str) -> bool:
        """Put several balls at other places in one step; told why not when they do not fit."""
        return self._session.apply(name, lambda r: edits.move_balls(r, places_mm))

    def drop(self) -> None:
        """End a drag: the next one is a step of its own."""
        self._drag += 1
        self._session.document.end_merge()

    def nudge(self, ball_id: str, dx_mm: float, dy_mm: float) -> None:
        """Move a ball by a little; nudges in a row are one step."""
        ball = self._session.routine.ball(ball_id)
        if ball.locked:
            self.say_locked(ball)
            return
        self.drag(ball_id, (ball.x_mm + dx_mm, ball.y_mm + dy_mm))

    def place(self, ball_id: str, wanted_mm: Point) -> bool:
        """Put a ball exactly there; told why not when it does not fit there."""
        session = self._session
        ball = session.routine.ball(ball_id)
        if ball.locked:
            self.say_locked(ball)
            return False
        name = ball_name(self._session.routine, ball.id)
        radius = session.radius_of(ball.kind)
        if not is_free(session.routine, session.table, radius, ball_id, wanted_mm):
            session.messages.warn(
                tr(
                    "The {ball} does not fit there: it would overlap a ball or leave the bed.",
                    ball=name,
                ),
                tr("It was put at the nearest free place."),
            )
        x, y = settle(session.routine, session.table, radius, ball_id, wanted_mm)
        return session.apply(
            tr("Place {ball}", ball=name), lambda r: edits.move_ball(r, ball_id, x, y)
        )

    def to_spot(self, ball_id: str, spot_id: str) -> None:
        """Put a ball on a spot of the table."""
        spot = self._session.table.spot(spot_id)
        self.place(ball_id, (spot.x_mm, spot.y_mm))

    def lock(self, ball_id: str, locked: bool) -> None:
        """Hold a ball where it is, or let it be moved again."""
        name = ball_name(self._session.routine, ball_id)
        step = tr("Lock {ball}", ball=name) if locked else tr("Unlock {ball}", ball=name)
        self._session.apply(step, lambda r: edits.lock_ball(r, ball_id, locked))

    def relabel(self, ball_id: str, label: str) -> None:
        """Print another text on a ball; "" for its usual letter."""
        name = ball_name(self._session.routine, ball_id)
        self._session.apply(
            tr("Letter of {ball}", ball=name),
            lambda r: edits.relabel_ball(r, ball_id, label.strip()),
        )

    def say_locked(self, ball: Ball) -> None:
        """Tell the coach why a locked ball does not move."""
        self._session.messages.warn(
            tr("The {ball} is locked where it is.", ball=ball_name(self._session.routine, ball.id)),
            tr("Unlock it to move it."),
        )
