"""Claims: what a routine states about itself, proved or refuted with figures."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.errors import BaizewrightError, UnknownNameError
from engine.judging.rules import is_clear, is_touch
from engine.reach import widest_room
from engine.results import ClaimResult, Clearance, Fact, GapVerdict, Lane, ShotAnswer
from engine.routine.values import CLAIM_KINDS, Claim, Routine


@dataclass(frozen=True, slots=True)
class _Case:
    """What a claim is judged on."""

    routine: Routine
    claim: Claim
    shots: Sequence[ShotAnswer]
    verdicts: Sequence[GapVerdict]

    @property
    def shot(self) -> ShotAnswer:
        for shot in self.shots:
            if shot.shot == self.claim.shot:
                return shot
        raise UnknownNameError("shot", self.claim.shot, [shot.shot for shot in self.shots])

    @property
    def lane(self) -> Lane:
        lanes = self.shot.lanes
        for lane in lanes:
            if lane.label == self.claim.lane:
                return lane
        if self.shot.refusals:
            raise _NoAnswerError(*self.shot.refusals)
        raise UnknownNameError("lane", self.claim.lane, [lane.label for lane in lanes])


class _NoAnswerError(Exception):
    """The shot has no answer for the claim to be held against: why."""

    def __init__(self, *facts: Fact) -> None:
        super().__init__()
        self.facts = facts


#: Whether a claim holds, what was found, and the verdict that says so.
_Found = tuple[bool, tuple[Fact, ...], GapVerdict | None]


def judge_claims(
    routine: Routine, shots: Sequence[ShotAnswer], verdicts: Sequence[GapVerdict]
) -> tuple[ClaimResult, ...]:
    """Every claim of the routine with whether it holds and what was found.

    A claim about something that is not there, or that has no answer, does not hold.
    """
    return tuple(
        _judged(index, _Case(routine, claim, shots, verdicts))
        for index, claim in enumerate(routine.claims)
    )


def _judged(index: int, case: _Case) -> ClaimResult:
    try:
        judge = _JUDGES.get(case.claim.kind)
        if judge is None:
            raise UnknownNameError("kind of claim", case.claim.kind, CLAIM_KINDS)
        return ClaimResult(index, *judge(case))
    except _NoAnswerError as none:
        return ClaimResult(index, False, none.facts)
    except BaizewrightError as error:
        return ClaimResult(index, False, (Fact("refused", error=error),))


def _pot_on(case: _Case) -> _Found:
    pot = case.shot.pot
    if pot is None:
        raise _NoAnswerError(*(case.shot.refusals or (Fact("no-pot"),)))
    return pot.on, pot.reasons or (Fact("cut", deg=pot.cut_deg, share=pot.fullness),), None


def _pot_off(case: _Case) -> _Found:
    on, found, _ = _pot_on(case)
    return not on, found, None


def _nearest(case: _Case) -> Clearance | None:
    """The clearance of the claimed lane to the claimed ball, or the least of all."""
    claim, lane = case.claim, case.lane
    if not len(lane.path_mm):
        raise _NoAnswerError(Fact("short-of-object-ball"))
    if lane.met_instead:
        raise _NoAnswerError(Fact("meets-before-object-ball", ball=lane.met_instead))
    rooms = [room for room in lane.clearances if claim.ball in ("", room.ball)]
    if claim.ball and not rooms:
        raise UnknownNameError("obstacle ball", claim.ball, [one.ball for one in lane.clearances])
    return min(rooms, key=lambda room: (room.clearance_mm, room.ball), default=None)


def _lane_clears(case: _Case) -> _Found:
    room = _nearest(case)
    if room is None:
        return True, (Fact("no-obstacle"),), None
    return is_clear(room.clearance_mm, case.claim.margin_mm), (room.fact,), None


def _lane_contacts(case: _Case) -> _Found:
    room = _nearest(case)
    if room is None:
        return False, (Fact("no-obstacle"),), None
    holds, met = is_touch(room.clearance_mm, case.claim.margin_mm), case.lane.first_touched
    if not holds and case.claim.ball and met not in ("", room.ball):
        return False, (Fact("meets-first", ball=met),), None
    return holds, (room.fact,), None


def _lane_threads(case: _Case) -> _Found:
    lane, claim = case.lane, case.claim
    for one in case.shot.passes:
        if one.lane == lane.label and one.gap == claim.gap:
            return one.threads and one.margin_mm >= claim.margin_mm, (one.reason,), None
    raise UnknownNameError("gap", claim.gap, [gap.id for gap in case.routine.gaps])


def _gap_reachable(case: _Case) -> _Found:
    claim = case.claim
    verdict = next((v for v in case.verdicts if v.shot == claim.shot and v.gap == claim.gap), None)
    if verdict is None:
        case.routine.gap(claim.gap)
        raise _NoAnswerError(*(case.shot.refusals or (Fact("no-verdict"),)))
    if verdict.error is not None:
        raise _NoAnswerError(Fact("not-judged", error=verdict.error))
    plain = claim.margin_mm <= 0.0 and claim.pace_min is None and claim.pace_max is None
    if plain or (case.shot.pot is not None and not case.shot.pot.on):
        return verdict.reachable, (), verdict
    low = PACE_LOWEST if claim.pace_min is None else claim.pace_min
    high = PACE_HIGHEST if claim.pace_max is None else claim.pace_max
    best = widest_room(case.routine, claim.shot, claim.gap, low, high)
    if best is None:
        return False, (Fact("no-tip-at-these-paces"),), None
    return best >= claim.margin_mm, (Fact("widest-room", mm=best),), None


def _gap_unreachable(case: _Case) -> _Found:
    reachable, found, verdict = _gap_reachable(case)
    return not reachable, found, verdict


_JUDGES: dict[str, Callable[[_Case], _Found]] = {
    "pot-on": _pot_on,
    "pot-off": _pot_off,
    "lane-clears": _lane_clears,
    "lane-contacts": _lane_contacts,
    "lane-threads": _lane_threads,
    "gap-reachable": _gap_reachable,
    "gap-unreachable": _gap_unreachable,
}
