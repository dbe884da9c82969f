"""What the coach has to see to, each with the place it concerns."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from designer.texts import tr
from designer.words.claims import claim, found
from designer.words.facts import fact, facts
from designer.words.figures import sentence
from designer.words.pots import lowest_tip, pot_head
from designer.words.wording import Wording
from engine.results import RoutineAnswer, ShotAnswer
from engine.routine.values import Shot


@dataclass(frozen=True, slots=True)
class Todo:
    """One thing to see to: a sentence, and the balls, shot, lane, gap or claim it is about."""

    words: str
    balls: tuple[str, ...] = ()
    shot: str = ""
    lane: str = ""
    gap: str = ""
    claim: int | None = None


def todo_of(wording: Wording, answer: RoutineAnswer | None) -> tuple[Todo, ...]:
    """Overlaps and what is missing first, then pots, cueing and lanes, then claims that fail.

    Only what the answer has worked out so far can be told.
    """
    return tuple(_all(wording, answer)) if answer is not None else ()


def _all(wording: Wording, answer: RoutineAnswer) -> Iterator[Todo]:
    routine = wording.routine
    for one in answer.problems:
        words = sentence(fact(wording, one.fact))
        yield Todo(words, one.balls, one.shot, "", one.gap, one.claim)
    shots = {shot.id: shot for shot in routine.shots}
    for shot in answer.shots:
        if shot.shot in shots:
            yield from _of_shot(wording, shots[shot.shot], shot)
    for result in answer.claims:
        if not result.holds and result.index < len(routine.claims):
            said = routine.claims[result.index]
            balls = (said.ball,) if said.ball else ()
            why = found(wording, result)
            words = tr("Claim fails: {claim} ({found})", claim=claim(wording, said), found=why)
            yield Todo(words, balls, said.shot, said.lane, said.gap, result.index)


def _of_shot(wording: Wording, shot: Shot, answer: ShotAnswer) -> Iterator[Todo]:
    pot = answer.pot
    if pot is None:
        return
    if not pot.on:
        why = facts(wording, pot.reasons)
        words = tr("{pot}, {why}", pot=pot_head(wording, pot), why=why)
        yield Todo(words, (pot.object_ball,), shot.id)
    for lane in answer.lanes:
        if lane.tip_height < pot.lowest_tip - 1e-9 and pot.lowest_tip_reason is not None:
            why = lowest_tip(wording, pot, pot.lowest_tip_reason)
            words = tr("Lane {lane}: {why}", lane=lane.label, why=why)
            yield Todo(words, (), shot.id, lane.label)
        if lane.contact is None and shot.object_ball:
            ball = wording.ball(pot.object_ball)
            words = tr("Lane {label} never gets to the {ball}", label=lane.label, ball=ball)
            yield Todo(words, (), shot.id, lane.label)
