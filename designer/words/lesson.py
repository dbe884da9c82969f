"""What the lesson says of its cards: what came of one of them, and the answer in one sentence."""

from __future__ import annotations

import math
from collections.abc import Sequence

from designer.texts import listed, tr
from designer.words.facts import fact, facts
from designer.words.figures import room, sentence
from designer.words.lanes import lane_in_short
from designer.words.strikes import lane_strike
from designer.words.wording import Wording
from engine.results import GapPass, Lane, ShotAnswer
from engine.routine.values import Routine

#: Gaps that a cue ball goes through; others it meets or ends in.
_CROSSED = ("ball-ball", "ball-cushion")


def card_told(wording: Wording, found: ShotAnswer, lane: Lane, number: int) -> str:
    """What came of one card: "Card 2, screw: clears red R2 by 48 mm."."""
    told = _lane_told(wording, found, lane)
    strike = lane_strike(lane)
    return sentence(tr("Card {number}, {strike}: {told}", number=number, strike=strike, told=told))


def lesson_verdict(
    wording: Wording, found: ShotAnswer, cards: Sequence[str], *, by_letter: bool = False
) -> str:
    """The answer, `cards` being the lane letters in their order: "Card 2 goes through …".

    With `by_letter` the question was which letter each of them is.
    """
    if found.cannot_be_played:
        reason = facts(wording, found.refusals)
        return sentence(tr("This shot cannot be played: {reason}", reason=reason))
    if by_letter:
        pairs = enumerate(cards, start=1)
        told = [tr("card {number} is {letter}", number=n, letter=one) for n, one in pairs]
        return sentence(listed(told))
    numbers = {label: number for number, label in enumerate(cards, start=1)}
    lanes = sorted(found.lanes, key=lambda lane: numbers[lane.label])
    right = [lane for lane in lanes if threaded(wording.routine, found, lane)]
    if right or not found.passes:
        parts = [(numbers[one.label], _lane_told(wording, found, one)) for one in right or lanes]
        if len(parts) == 1:
            return sentence(tr("card {number} {told}", number=parts[0][0], told=parts[0][1]))
        told = [tr("card {number}: {told}", number=n, told=clause) for n, clause in parts]
        return sentence("; ".join(told))
    return sentence(_nearest(wording, found, numbers))


def threaded(routine: Routine, found: ShotAnswer, lane: Lane) -> list[GapPass]:
    """The gaps a lane is meant to go through and does: those claimed, if any are, else all."""
    claimed = {
        (one.lane, one.gap)
        for one in routine.claims
        if one.kind == "lane-threads" and one.shot == found.shot
    }
    return [
        one
        for one in found.passes
        if one.threads
        and one.lane == lane.label
        and (not claimed or (one.lane, one.gap) in claimed)
    ]


def _lane_told(wording: Wording, found: ShotAnswer, lane: Lane) -> str:
    """What a lane does, as a clause: to the gaps it goes through, to the one gap, or to balls."""
    through = threaded(wording.routine, found, lane)
    passes = [one for one in found.passes if one.lane == lane.label]
    kinds = {gap.id: gap.kind for gap in wording.routine.gaps}
    if through and all(kinds[one.gap] in _CROSSED for one in through):
        return tr(
            "goes through {gaps}, {length} to spare",
            gaps=listed([wording.called(one.gap) for one in through]),
            length=room(min(one.margin_mm for one in through), wording.unit),
        )
    if through:
        return listed([_ends_told(wording, one) for one in through])
    if len(passes) == 1:
        return fact(wording, passes[0].reason)
    return lane_in_short(wording, lane)


def _ends_told(wording: Wording, one: GapPass) -> str:
    gap, told = wording.called(one.gap), fact(wording, one.reason)
    return tr("{told} ({gap})", told=told, gap=gap)


def _nearest(wording: Wording, found: ShotAnswer, numbers: dict[str, int]) -> str:
    """That no card does it, and the one that comes nearest."""
    known = [one for one in found.passes if not math.isnan(one.margin_mm)]
    if not known:
        return tr("no card goes through")
    one = max(known, key=lambda each: each.margin_mm)
    return tr(
        "no card does it; card {number} comes nearest: {told}",
        number=numbers[one.lane],
        told=fact(wording, one.reason),
    )
