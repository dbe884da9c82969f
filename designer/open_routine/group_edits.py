"""Edits of several balls at once: moved, mirrored, copied, locked, taken off, racked."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from designer.open_routine.ball_edits import BallEdits
from designer.open_routine.editing import Editing
from designer.open_routine.mark_edits import MarkEdits
from designer.texts import mark, tr, tr_count
from designer.words.names import ball_name
from engine.balls import Ball
from engine.errors import BaizewrightError
from engine.routine import edits
from engine.routine.mirror import Axis, mirrored, mirrored_place
from engine.routine.settle import is_free, settle
from engine.routine.values import Routine

Point = tuple[float, float]

#: Room between pink spot's ball and the first red: "as near as possible without touching"
#: (Rules of Snooker, section 3, from memory).
RACK_ROOM_MM = 1.0
ROWS = 5
DUPLICATE = mark("Duplicate")
#: Halvings when looking for how far a group can go: 1/4096 of the way.
HALVINGS = 12


class GroupEdits:
    """What is done to all chosen balls together, each one undo step."""

    def __init__(self, session: Editing, single: BallEdits, marks: MarkEdits) -> None:
        self._session, self._single, self._marks = session, single, marks

    @property
    def balls(self) -> tuple[Ball, ...]:
        """The chosen balls, as they are now."""
        return tuple(self._session.routine.ball(one) for one in self._session.chosen)

    def places(self) -> dict[str, Point]:
        """Where the chosen balls that can be moved are, mm."""
        return {ball.id: ball.centre_mm for ball in self.balls if not ball.locked}

    def drag(self, starts_mm: Mapping[str, Point], by_mm: Point, key: str) -> None:
        """Move balls from where they started, as one; they stop together at what they meet."""
        share = self._share_free(starts_mm, by_mm)
        moved = {
            one: (x + by_mm[0] * share, y + by_mm[1] * share) for one, (x, y) in starts_mm.items()
        }
        name = tr_count("Move {count} ball", "Move {count} balls", len(moved))
        self._session.apply(name, lambda r: edits.move_balls(r, moved), merge=f"group {key}")

    def nudge(self, dx_mm: float, dy_mm: float) -> None:
        """Move the chosen balls by a little; nudges in a row are one step."""
        starts = self.places()
        if starts:
            self.drag(starts, (dx_mm, dy_mm), "nudge " + " ".join(sorted(starts)))
        else:
            self._single.say_locked(self.balls[0])

    def mirror(self, axis: Axis) -> None:
        """Mirror the chosen balls, or with fewer than two the whole routine, shots and all."""
        session = self._session
        name = (
            tr("Mirror across the long line")
            if axis == "long"
            else tr("Mirror across the cross line")
        )
        if len(session.chosen) < 2:
            session.apply(name, lambda r: mirrored(r, session.table, axis))
            return
        places = {
            one: mirrored_place(place, session.table, axis) for one, place in self.places().items()
        }
        if not self._all_free(places):
            session.messages.warn(
                tr("The balls were not mirrored: they would overlap others or leave the bed."),
                tr("Choose those in the way as well, or none to mirror the whole routine."),
            )
            return
        session.apply(name, lambda r: edits.move_balls(r, places))

    def duplicate(self) -> None:
        """Put a copy of each chosen ball beside it and choose the copies."""
        copies = [ball for ball in self.balls if not ball.is_cue]
        self.add(copies, DUPLICATE, shift=(2.6 * self._session.radius_mm, 0.0))

    def add(self, balls: list[Ball], name: str, shift: Point = (0.0, 0.0)) -> tuple[str, ...]:
        """Put balls down as near as can be to where they say, under free ids; they are chosen."""
        session = self._session
        if not balls:
            session.messages.warn(
                tr("“{step}” was not done: there is no ball to add.", step=tr(name)),
                tr("A table has one cue ball; choose another ball first."),
            )
            return ()
        table, added = session.table, []

        def put(routine: Routine) -> Routine:
            for ball in balls:
                if ball.is_cue and routine.cue_ball is not None:
                    continue
                ball_id = edits.free_ball_id(routine, ball.kind)
                wanted = (ball.x_mm + shift[0], ball.y_mm + shift[1])
                x, y = settle(routine, table, session.radius_of(ball.kind), ball_id, wanted)
                made = replace(ball, id=ball_id, x_mm=x, y_mm=y, locked=False)
                routine = edits.place_ball(routine, made)
                added.append(ball_id)
            return routine

        step = tr("{step}: {balls}", step=tr(name), balls=_count(len(balls)))
        if not session.apply(step, put):
            return ()
        session.choose_balls(added)
        return tuple(added)

    def lock(self, locked: bool) -> None:
        """Hold the chosen balls where they are, or let them be moved again."""
        chosen = self._session.chosen
        if len(chosen) == 1:
            self._single.lock(chosen[0], locked)
            return

        def edit(routine: Routine) -> Routine:
            for one in chosen:
                routine = edits.lock_ball(routine, one, locked)
            return routine

        balls = _count(len(chosen))
        step = tr("Lock {ball}", ball=balls) if locked else tr("Unlock {ball}", ball=balls)
        self._session.apply(step, edit)

    def remove(self) -> bool:
        """Take the chosen balls off the table, or the chosen mark away; False when none is."""
        session = self._session
        if session.mark is not None:
            return self._marks.remove(session.selected_mark)
        return bool(session.chosen) and self._single.remove(*session.chosen)

    def rack_reds(self) -> None:
        """Put fifteen reds in their triangle behind the pink spot, those on the table first."""
        session = self._session
        places = self.triangle_mm()
        if not places:
            session.messages.warn(
                tr("This table has no pink spot."), tr("There is no place for a rack.")
            )
            return
        reds = [ball for ball in session.routine.balls if ball.kind == "red" and not ball.locked]
        others = replace(
            session.routine, balls=tuple(b for b in session.routine.balls if b not in reds)
        )
        radius, table = session.radius_mm, session.table
        taken = [p for p in places if not is_free(others, table, radius, "rack", p)]
        if taken:
            session.messages.warn(
                tr_count(
                    "The triangle was not set up: {count} ball would overlap another.",
                    "The triangle was not set up: {count} balls would overlap others.",
                    len(taken),
                ),
                tr("Move what stands behind the pink spot away first."),
            )
            return

        def edit(routine: Routine) -> Routine:
            moved = dict(zip([ball.id for ball in reds], places, strict=False))
            routine = edits.move_balls(routine, moved)
            for place in places[len(reds) :]:
                red = Ball(edits.free_ball_id(routine, "red"), "red", *place)
                routine = edits.place_ball(routine, red)
            return routine

        session.apply(tr("Set up the reds in their triangle"), edit)

    def triangle_mm(self) -> list[Point]:
        """The fifteen places of the reds, the one nearest the pink first; () without a spot."""
        session = self._session
        try:
            pink = session.table.spot("pink")
        except BaizewrightError:
            return []
        # A hair apart, so that rounding never makes them overlap.
        step = 2.0 * session.radius_mm + 1e-5
        first = pink.y_mm + step + RACK_ROOM_MM
        return [
            (pink.x_mm + (place - row / 2) * step, first + row * step * math.sqrt(3.0) / 2)
            for row in range(ROWS)
            for place in range(row + 1)
        ]

    def _share_free(self, starts: Mapping[str, Point], by: Point) -> float:
        """How much of the way a group can go before the first of it meets something."""

        def free(share: float) -> bool:
            return self._all_free(
                {one: (x + by[0] * share, y + by[1] * share) for one, (x, y) in starts.items()}
            )

        if free(1.0):
            return 1.0
        low, high = 0.0, 1.0
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if free(middle) else (low, middle)
        return low

    def _all_free(self, places: Mapping[str, Point]) -> bool:
        session = self._session
        others = replace(
            session.routine,
            balls=tuple(ball for ball in session.routine.balls if ball.id not in places),
        )
        return all(
            is_free(
                others, session.table, session.radius_of(session.routine.ball(one).kind), one, place
            )
            for one, place in places.items()
        )

    def text(self) -> str:
        """Where the chosen balls stand, one a line, for other programs to paste."""
        routine = self._session.routine
        return "\n".join(
            tr(
                "{ball}: {x:.1f} mm from the left cushion face, {y:.1f} mm from the bottom one",
                ball=ball_name(routine, ball.id),
                x=ball.x_mm,
                y=ball.y_mm,
            )
            for ball in self.balls
        )


def _count(number: int) -> str:
    return tr_count("{count} ball", "{count} balls", number)
