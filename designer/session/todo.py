"""What the coach has to see to, each with the place it concerns."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from designer.session.claim_words import claim_words
from designer.texts import tr
from designer.words.figures import first_up
from designer.words.in_names import in_coachs_words
from designer.words.names import ball_name, pocket_name
from engine.errors import BaizewrightError
from engine.results import RoutineAnswer, ShotAnswer
from engine.routine.context import table_of
from engine.routine.values import Routine, Shot


@dataclass(frozen=True, slots=True)
class Todo:
    """One thing to see to: a sentence, and the balls, shot, lane, gap or claim it is about."""

    words: str
    balls: tuple[str, ...] = ()
    shot: str = ""
    lane: str = ""
    gap: str = ""
    claim: int | None = None


def todo_of(routine: Routine, answer: RoutineAnswer | None) -> tuple[Todo, ...]:
    """Overlaps and what is missing first, then pots, cueing and lanes, then claims that fail.

    Only what the answer has worked out so far can be told.
    """
    return tuple(_all(routine, answer)) if answer is not None else ()


def _all(routine: Routine, answer: RoutineAnswer) -> Iterator[Todo]:
    for one in answer.problems:
        words = _with_names(one.message, one.balls, routine)
        yield Todo(words, one.balls, one.shot, "", one.gap, one.claim)
    shots = {shot.id: shot for shot in routine.shots}
    for found in answer.shots:
        if found.shot in shots:
            yield from _of_shot(routine, shots[found.shot], found)
    for result in answer.claims:
        if not result.holds and result.index < len(routine.claims):
            claim = routine.claims[result.index]
            balls = (claim.ball,) if claim.ball else ()
            words = tr(
                "Claim fails: {claim} ({found})",
                claim=claim_words(routine, claim),
                found=in_coachs_words(routine, result.found),
            )
            yield Todo(words, balls, claim.shot, claim.lane, claim.gap, result.index)


def _of_shot(routine: Routine, shot: Shot, found: ShotAnswer) -> Iterator[Todo]:
    pot = found.pot
    if pot is None:
        return
    ball = ball_name(routine, pot.object_ball)
    if not pot.on:
        why = in_coachs_words(routine, "; ".join(pot.reasons))
        pocket = _pocket(routine, pot.pocket)
        words = tr(
            "{ball} to {pocket} is not on: {why}", ball=first_up(ball), pocket=pocket, why=why
        )
        yield Todo(words, (pot.object_ball,), shot.id)
    for lane in found.lanes:
        if lane.tip_height < pot.lowest_tip - 1e-9:
            words = tr(
                "Lane {label}: the cue cannot reach so low a tip; {reason} is in its way",
                label=lane.label,
                reason=in_coachs_words(routine, pot.lowest_tip_reason)
                or tr("something behind the cue ball"),
            )
            yield Todo(words, (), shot.id, lane.label)
        if lane.contact is None and shot.object_ball:
            yield Todo(
                tr("Lane {label} never gets to the {ball}", label=lane.label, ball=ball),
                (),
                shot.id,
                lane.label,
            )


def _with_names(message: str, balls: tuple[str, ...], routine: Routine) -> str:
    """The engine's sentence with the coach's names for the ids of the balls it is about."""
    for ball in balls:
        message = re.sub(
            rf"(?<![\w-]){re.escape(ball)}(?![\w-])", ball_name(routine, ball), message
        )
    return first_up(in_coachs_words(routine, message))


def _pocket(routine: Routine, pocket_id: str) -> str:
    try:
        return pocket_name(table_of(routine), pocket_id)
    except BaizewrightError:
        return pocket_id
