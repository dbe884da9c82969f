"""What holds of a shot now and could be claimed, in a coach's words."""

from __future__ import annotations

from designer.session.words import gap_name, named_ball
from engine.answers.values import RoutineAnswer, ShotAnswer
from engine.routine.values import Claim, Routine


def claims_on_offer(
    routine: Routine, answer: RoutineAnswer, shot_id: str
) -> list[tuple[str, Claim]]:
    """Sentences with their claims: all hold for this answer, none is made already."""
    shot = next((one for one in answer.shots if one.shot == shot_id), None)
    if shot is None:
        return []
    found = _about_shot(routine, shot) + _about_gaps(routine, answer, shot)
    made = set(map(meaning, routine.claims))
    return [(words, claim) for words, claim in found if meaning(claim) not in made]


def _about_shot(routine: Routine, shot: ShotAnswer) -> list[tuple[str, Claim]]:
    found = []
    if shot.pot is not None:
        words, kind = ("The pot is on", "pot-on") if shot.pot.on else ("The pot is off", "pot-off")
        found.append((words, Claim(kind, shot.shot)))
    for lane in shot.lanes:
        if lane.clear:
            claim = Claim("lane-clears", shot.shot, lane=lane.label)
            found.append((f"Lane {lane.label} clears every ball", claim))
        for room in lane.clearances:
            if room.clearance_mm < 0.0:
                claim = Claim("lane-contacts", shot.shot, lane=lane.label, ball=room.ball)
                name = named_ball(routine, room.ball)
                found.append((f"Lane {lane.label} touches the {name}", claim))
    return found


def _about_gaps(
    routine: Routine, answer: RoutineAnswer, shot: ShotAnswer
) -> list[tuple[str, Claim]]:
    names = {gap.id: gap_name(routine, gap) for gap in routine.gaps}
    found = [
        (
            f"Lane {one.lane} threads {names[one.gap]}",
            Claim("lane-threads", shot.shot, lane=one.lane, gap=one.gap),
        )
        for one in shot.passes
        if one.threads and one.gap in names
    ]
    for one in answer.verdicts:
        if one.shot == shot.shot and one.gap in names:
            kind = "gap-reachable" if one.reachable else "gap-unreachable"
            word = "is reachable" if one.reachable else "is not reachable"
            found.append((f"{names[one.gap]} {word}", Claim(kind, shot.shot, gap=one.gap)))
    return found


def meaning(claim: Claim) -> tuple[str, ...]:
    """What a claim says, so that the same is not said twice."""
    return (claim.kind, claim.shot, claim.lane, claim.ball, claim.gap)
