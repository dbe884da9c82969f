"""What holds of a shot now and could be claimed."""

from __future__ import annotations

from collections.abc import Iterator

from engine.results import RoutineAnswer, ShotAnswer
from engine.routine.values import Claim, Routine


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
