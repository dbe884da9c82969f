"""Claims: what a routine states about itself, proved or refuted with figures."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.errors import BaizewrightError, OutOfRangeError, UnknownNameError
from engine.judging.measuring import room_inside
from engine.judging.rules import is_clear, is_touch, within
from engine.reach import widest_room
from engine.results import ClaimResult, Clearance, Fact, GapVerdict, Lane, PotAnswer, ShotAnswer
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
    def pot(self) -> PotAnswer:
        """The shot's pot; no answer where there is none."""
        if self.shot.pot is None:
            raise _NoAnswerError(*(self.shot.refusals or (Fact("no-pot"),)))
        return self.shot.pot

    @property
    def lane(self) -> Lane:
        return self.lane_named(self.claim.lane)

    def lane_named(self, label: str) -> Lane:
        """A lane of the shot; no answer where it was refused."""
        lanes = self.shot.lanes
        for lane in lanes:
            if lane.label == label:
                return lane
        if self.shot.refusals:
            raise _NoAnswerError(*self.shot.refusals)
        raise UnknownNameError("lane", label, [lane.label for lane in lanes])


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
    pot = case.pot
    return pot.on, pot.reasons or (Fact("cut", deg=pot.cut_deg, share=pot.fullness),), None


def _pot_off(case: _Case) -> _Found:
    on, found, _ = _pot_on(case)
    return not on, found, None


def _nearest(case: _Case, lane: Lane | None = None) -> Clearance | None:
    """The clearance of the claimed lane (or another) to the claimed ball, or the least of all."""
    claim, lane = case.claim, lane or case.lane
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


def _lane_passes(case: _Case) -> _Found:
    room = _nearest(case)
    if room is None:
        return False, (Fact("no-obstacle"),), None
    # a lane that passes left of a ball has it on its right
    beside = {"right": "left", "left": "right"}.get(room.side, "")
    holds = is_clear(room.clearance_mm, case.claim.margin_mm) and beside == case.claim.side
    sides = (Fact(f"passes-{beside}", ball=room.ball),) if beside else ()
    return holds, (room.fact, *sides), None


def _line_of(case: _Case, label: str) -> float:
    """The direction (degrees) a lane ends its bend in."""
    found = case.lane_named(label).final_direction_deg
    if math.isnan(found):
        raise _NoAnswerError(Fact("no-line", lane=label))
    return found


def _lane_same_line(case: _Case) -> _Found:
    one, two = _line_of(case, case.claim.lane), _line_of(case, case.claim.other)
    holds, apart = within(one, two, case.claim.within_deg)
    return holds, (Fact("lines-apart", deg=apart),), None


def _lane_near_ninety(case: _Case) -> _Found:
    (ax, ay), (bx, by) = case.pot.ninety_line_mm
    ninety = math.degrees(math.atan2(by - ay, bx - ax))
    holds, apart = within(_line_of(case, case.claim.lane), ninety, case.claim.within_deg)
    return holds, (Fact("off-ninety", deg=apart),), None


def _room_at(case: _Case, label: str) -> float:
    """The room (mm) of a lane at the claimed ball or gap."""
    lane = case.lane_named(label)
    if case.claim.ball:
        room = _nearest(case, lane)
        return math.nan if room is None else room.clearance_mm
    found = (one for one in case.shot.passes if (one.lane, one.gap) == (label, case.claim.gap))
    return next((one.margin_mm for one in found), math.nan)


def _lane_more_room(case: _Case) -> _Found:
    one, two = _room_at(case, case.claim.lane), _room_at(case, case.claim.other)
    holds = one > two and one - two >= case.claim.margin_mm
    return holds, (Fact("rooms", mm=one, was_mm=two),), None


def _stops_in(case: _Case, ball: str) -> _Found:
    gap = case.routine.gap(case.claim.gap)
    if len(gap.points_mm) < 3:
        raise OutOfRangeError(f"gap {gap.id}", gap.kind, "an area of cloth")
    rest = dict(case.lane.rests).get(ball)
    if rest is None:
        potted = ball in dict(case.lane.rests)
        return False, (Fact("is-potted", ball=ball) if potted else Fact("no-such-ball"),), None
    room = room_inside(gap.points_mm, rest)
    kind = "stops-in-area" if room >= 0.0 else "stops-outside-area"
    return room >= 0.0, (Fact(kind, mm=abs(room)),), None


def _cue_ball_stops_in(case: _Case) -> _Found:
    cue = case.routine.cue_ball
    return _stops_in(case, "" if cue is None else cue.id)


def _object_ball_stops_in(case: _Case) -> _Found:
    return _stops_in(case, case.routine.shot(case.claim.shot).object_ball)


_JUDGES: dict[str, Callable[[_Case], _Found]] = {
    "pot-on": _pot_on,
    "pot-off": _pot_off,
    "lane-clears": _lane_clears,
    "lane-contacts": _lane_contacts,
    "lane-threads": _lane_threads,
    "gap-reachable": _gap_reachable,
    "gap-unreachable": _gap_unreachable,
    "lane-passes": _lane_passes,
    "lane-same-line": _lane_same_line,
    "lane-near-ninety": _lane_near_ninety,
    "lane-more-room": _lane_more_room,
    "cue-ball-stops-in": _cue_ball_stops_in,
    "object-ball-stops-in": _object_ball_stops_in,
}
