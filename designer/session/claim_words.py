"""Claims in a coach's words, and what holds of a shot now and could be claimed."""

from __future__ import annotations

from collections.abc import Iterator

from designer.texts import tr
from designer.words.figures import first_up
from designer.words.names import ball_name, gap_name, id_as_words
from engine.results import RoutineAnswer, ShotAnswer
from engine.routine.values import Claim, Routine


def claim_words(routine: Routine, claim: Claim) -> str:
    """What a claim says, with its shot where there are several.

    >>> claim_words(Routine(), Claim("lane-clears", "shot-1", lane="A"))
    'Lane A clears every ball'
    """
    gaps = {gap.id: gap_name(routine, gap) for gap in routine.gaps}
    gap = gaps.get(claim.gap, id_as_words(claim.gap))
    ball = ball_name(routine, claim.ball) if claim.ball else tr("every ball")
    words = {
        "pot-on": tr("The pot is on"),
        "pot-off": tr("The pot is not on"),
        "lane-clears": tr("Lane {lane} clears {ball}", lane=claim.lane, ball=ball),
        "lane-contacts": tr("Lane {lane} touches {ball}", lane=claim.lane, ball=ball),
        "lane-threads": tr("Lane {lane} threads {gap}", lane=claim.lane, gap=gap),
        "gap-reachable": tr("{gap} is reachable", gap=first_up(gap)),
        "gap-unreachable": tr("{gap} is not reachable", gap=first_up(gap)),
    }.get(claim.kind, id_as_words(claim.kind))
    if claim.margin_mm:
        words = tr("{claim}, by {margin:g} mm or more", claim=words, margin=claim.margin_mm)
    if claim.pace_min is not None or claim.pace_max is not None:
        words = tr(
            "{claim} at pace {low:g} to {high:g}",
            claim=words,
            low=claim.pace_min or 1,
            high=claim.pace_max or 10,
        )
    ids = [shot.id for shot in routine.shots]
    if len(ids) > 1 and claim.shot in ids:
        words = tr("Shot {number}: {claim}", number=ids.index(claim.shot) + 1, claim=words)
    return words


def claims_on_offer(routine: Routine, answer: RoutineAnswer, shot_id: str) -> list[Claim]:
    """Claims about a shot that hold for this answer and are not made yet."""
    shot = next((one for one in answer.shots if one.shot == shot_id), None)
    if shot is None:
        return []
    made = set(map(meaning, routine.claims))
    return [claim for claim in _that_hold(routine, answer, shot) if meaning(claim) not in made]


def meaning(claim: Claim) -> tuple[str, ...]:
    """What a claim says, so that the same is not said twice."""
    return (claim.kind, claim.shot, claim.lane, claim.ball, claim.gap)


def _that_hold(routine: Routine, answer: RoutineAnswer, shot: ShotAnswer) -> Iterator[Claim]:
    if shot.pot is not None:
        yield Claim("pot-on" if shot.pot.on else "pot-off", shot.shot)
    for lane in shot.lanes:
        if lane.clear:
            yield Claim("lane-clears", shot.shot, lane=lane.label)
        for room in lane.clearances:
            if room.clearance_mm < 0.0:
                yield Claim("lane-contacts", shot.shot, lane=lane.label, ball=room.ball)
    known = {gap.id for gap in routine.gaps}
    for one in shot.passes:
        if one.threads and one.gap in known:
            yield Claim("lane-threads", shot.shot, lane=one.lane, gap=one.gap)
    for verdict in answer.verdicts:
        if verdict.shot == shot.shot and verdict.gap in known:
            kind = "gap-reachable" if verdict.reachable else "gap-unreachable"
            yield Claim(kind, shot.shot, gap=verdict.gap)
