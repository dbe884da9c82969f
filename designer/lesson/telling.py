"""What the lesson shows by now: each card, what came of it, and what the keys do."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from html import escape

from designer.lesson.asked import Asked
from designer.lesson.cards import Face
from designer.open_routine import OpenRoutine
from designer.table_view.trails import Trail
from designer.texts import tr
from designer.words.figures import angle, list_of, pace
from designer.words.lesson import card_told, lesson_verdict, threaded
from designer.words.strikes import lane_strike
from engine.results import Lane
from engine.routine.values import STUN, LaneAsk


def lane_of(session: OpenRoutine, label: str) -> Lane | None:
    """A predicted lane of the step on show by its letter, None while there is none."""
    found = session.shot_answer
    lanes = found.lanes if found is not None else ()
    return next((one for one in lanes if one.label == label), None)


def is_right(session: OpenRoutine, label: str) -> bool:
    """Whether a lane goes through a gap, as it is meant to."""
    found, lane = session.shot_answer, lane_of(session, label)
    return found is not None and lane is not None and bool(threaded(session.routine, found, lane))


def faces(session: OpenRoutine, asked: Asked) -> list[Face]:
    """The cards of the step on show; nothing of a lane that has not been seen."""
    return [_face(session, asked, place) for place in range(len(asked.order))]


def _face(session: OpenRoutine, asked: Asked, place: int) -> Face:
    label = asked.order[place]
    lane = lane_of(session, label)
    assert session.shot is not None, "cards belong to a shot"
    stroke: Lane | LaneAsk = lane or session.shot.lane(label)
    height, raised = stroke.tip_height, stroke.elevation_deg > 1e-9
    seen = lane is not None and place in asked.finished
    return Face(
        number=place + 1,
        tip=None if height == STUN else (stroke.side, float(height)),
        pace=pace(stroke.pace),
        limit=session.conditions.tip_limit,
        more=tr("cue raised {angle}", angle=angle(stroke.elevation_deg)) if raised else "",
        told=list_of([label, lane_strike(lane)]) if seen and lane is not None else "",
        guessed=asked.guess == place,
        playing=asked.current == place and session.player.is_open,
        right=asked.is_done and is_right(session, label),
    )


def told(session: OpenRoutine, asked: Asked, *, by_letter: bool) -> str:
    """The answer once every lane has been seen, else what came of the one seen last."""
    found = session.shot_answer
    if found is None:
        return ""
    if asked.is_done:
        return lesson_verdict(session.wording, found, asked.order, by_letter=by_letter)
    if asked.current is None or asked.current not in asked.finished:
        return ""
    lane = lane_of(session, asked.order[asked.current])
    return "" if lane is None else card_told(session.wording, found, lane, asked.current + 1)


def key_line(cards: int, *, slow: bool, whole: bool) -> str:
    """What the keys do, as rich text for one line."""
    pairs: tuple[tuple[str, str], ...] = (
        (f"1–{cards}" if cards > 1 else "1", tr("note a guess")),
        (tr("Space"), tr("play the next one")),
        ("R", tr("again")),
        ("S", tr("at true speed") if slow else tr("slowly")),
        (", .", tr("event by event")),
        ("W", tr("part of the table") if whole else tr("whole table")),
        ("← →", tr("steps")),
        (tr("Esc"), tr("leave")),
    )
    if not cards:
        pairs = ((tr("Space"), tr("the answer")), *pairs[5:])
    told = [f"<b>{escape(key)}</b>\N{NO-BREAK SPACE}{escape(what)}" for key, what in pairs]
    return "\N{NO-BREAK SPACE} \N{NO-BREAK SPACE}".join(told)


def trails_now(
    session: OpenRoutine, asked: Asked, trails: Mapping[int, Trail]
) -> tuple[tuple[Trail, ...], Trail | None]:
    """The ways to show by card: those seen, and the one being played.

    The guess stays as a ghost once it was seen. Bold is the way seen last; with the answer all
    are shown, bold those that do what was asked.
    """
    player = session.player
    if asked.current is None:
        return (), None
    if not player.is_at_end:
        kept = [card for card in trails if asked.is_done or card == asked.guess]
        ghosts = (replace(trails[card], ghost=True) for card in kept if card != asked.current)
        return tuple(ghosts), trails.get(asked.current)
    shown = [c for c in trails if asked.is_done or c in (asked.guess, asked.current)]
    bold = {asked.current}
    if asked.is_done:
        bold = {c for c in shown if is_right(session, asked.order[c])}
    return tuple(replace(trails[card], ghost=card not in bold) for card in shown), None
