"""Edits of the shot on show and its lanes, each with its step name."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from designer.open_routine.editing import Editing
from designer.texts import mark, tr
from designer.words.names import ball_name, pocket_name
from engine.routine import edits
from engine.routine.values import STUN, LaneAsk, Routine, Shot

_WORDS = {
    "title": mark("Title of shot"),
    "question": mark("Question of shot"),
    "answer": mark("Answer of shot"),
    "note": mark("Note of shot"),
}


class ShotEdits:
    """Object ball, pocket, lanes, tip heights and paces of the shot on show."""

    def __init__(self, session: Editing) -> None:
        self._session = session

    def add(self) -> str:
        """Add a shot with the three standard lanes and show it; its id."""
        session = self._session
        shot_id = edits.free_shot_id(session.routine)
        shot = Shot(shot_id, lanes=self.standard_lanes())
        if session.apply(tr("Add shot"), lambda r: edits.add_shot(r, shot)):
            session.show_shot(shot_id)
        return shot_id

    def remove(self) -> None:
        """Remove the shot on show."""
        session = self._session
        if session.shot is not None:
            shot_id = session.shot.id
            session.apply(tr("Remove shot"), lambda r: edits.remove_shot(r, shot_id))

    def move(self, count: int) -> None:
        """Move the shot on show later in the order of steps (or earlier with -1)."""
        session, shot = self._session, self._session.shot
        if shot is not None:
            to_index = max(session.routine.shots.index(shot) + count, 0)
            session.apply(tr("Order of steps"), lambda r: edits.move_shot(r, shot.id, to_index))

    def standard_lanes(self, pace: float = 4.0) -> tuple[LaneAsk, ...]:
        """Full top, stun and full screw at one pace."""
        limit = self._session.conditions.tip_limit
        return (LaneAsk("A", limit, pace), LaneAsk("B", STUN, pace), LaneAsk("C", -limit, pace))

    def set_object_ball(self, ball_id: str) -> None:
        """Choose the object ball; the first choice makes the shot if there is none."""
        name = ball_name(self._session.routine, ball_id) if ball_id else tr("none")
        self._edit(
            tr("Object ball: {ball}", ball=name),
            lambda r, shot: edits.set_object_ball(r, shot.id, ball_id),
        )

    def set_pocket(self, pocket_id: str) -> None:
        """Choose the pocket; the first choice makes the shot if there is none."""
        name = pocket_name(self._session.table, pocket_id) if pocket_id else tr("none")
        self._edit(
            tr("Pocket: {pocket}", pocket=name),
            lambda r, shot: edits.set_pocket(r, shot.id, pocket_id),
        )

    def set_words(self, what: str, text: str) -> None:
        """Set the shot's "title", "question", "answer" or "note"."""
        if self._session.shot is None and not text:
            return
        self._edit(
            tr(_WORDS[what]),
            lambda r, shot: edits.set_shot(r, shot.id, replace(shot, **{what: text})),
        )

    def put_standard_lanes(self) -> None:
        """Replace the lanes by full top, stun and full screw at the pace now selected."""
        lane = self._session.lane
        lanes = self.standard_lanes(lane.pace if lane is not None else 4.0)
        self._edit(
            tr("Standard three lanes"),
            lambda r, shot: edits.set_shot(r, shot.id, replace(shot, lanes=lanes)),
        )
        self._session.point_at_lane("A")

    def add_lane(self) -> str:
        """Add a lane like the selected one, to be changed from there; its letter."""
        shot, like = self._session.shot, self._session.lane
        label = edits.free_lane_label(shot) if shot is not None else "D"
        lane = LaneAsk(label, 0.0, like.pace if like is not None else 4.0)
        self._edit(
            tr("Add lane {label}", label=label), lambda r, shot: edits.add_lane(r, shot.id, lane)
        )
        self._session.point_at_lane(label)
        return label

    def remove_lane(self) -> None:
        """Remove the selected lane."""
        lane = self._session.lane
        if lane is not None:
            self._edit(
                tr("Remove lane {label}", label=lane.label),
                lambda r, shot: edits.remove_lane(r, shot.id, lane.label),
            )

    def set_tip(self, tip_height: float | str) -> None:
        """Set the selected lane's tip height, over the radius, or "stun"."""
        self._set_lane(mark("Tip height of lane {label}"), "tip", tip_height=tip_height)

    def set_pace(self, pace: float) -> None:
        """Set the selected lane's pace, 1 to 10 (a stated speed gives way to it)."""
        self._set_lane(mark("Pace of lane {label}"), "pace", pace=pace, speed_m_s=None)

    def set_strike(self, tip_height: float, pace: float) -> None:
        """Give the selected lane a tip height and a pace in one step; a first lane if none is."""
        session, shot = self._session, self._session.shot
        if shot is None:
            return
        lane = session.lane
        self.rest()
        if lane is None:
            made = LaneAsk(edits.free_lane_label(shot), tip_height, pace)
            self._edit(
                tr("Add lane {label}", label=made.label),
                lambda r, one: edits.add_lane(r, one.id, made),
            )
            session.point_at_lane(made.label)
            return
        new = replace(lane, tip_height=tip_height, pace=pace, speed_m_s=None)
        session.apply(
            tr("Strike of lane {label}", label=lane.label),
            lambda r: edits.set_lane(r, shot.id, lane.label, new),
        )

    def rest(self) -> None:
        """End a run of small steps, as when a slider is let go."""
        self._session.document.end_merge()

    def _set_lane(self, what: str, key: str, **values: Any) -> None:
        lane, shot = self._session.lane, self._session.shot
        if lane is None or shot is None:
            return
        new = replace(lane, **values)
        self._session.apply(
            tr(what, label=lane.label),
            lambda r: edits.set_lane(r, shot.id, lane.label, new),
            merge=f"{key} {shot.id} {lane.label}",
        )

    def _edit(self, name: str, edit: Any) -> None:
        """Apply an edit of the shot on show, which is made first where there is none."""
        session = self._session
        shown = session.shot

        def whole(routine: Routine) -> Routine:
            shot = shown
            if shot is None:
                shot = Shot(edits.free_shot_id(routine), lanes=self.standard_lanes())
                routine = edits.add_shot(routine, shot)
            return edit(routine, shot)

        session.apply(name, whole)
