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
from engine.reach.verdicts import NO_VERDICT
from engine.results import ClaimResult, GapVerdict, Lane, ShotAnswer
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
        return self.lane_named(self.claim.lane)

    def lane_named(self, label: str) -> Lane:
        """A lane of the shot; no answer where it was refused."""
        lanes = self.shot.lanes
        for lane in lanes:
            if lane.label == label:
                return lane
        if self.shot.refusal:
            raise _NoAnswerError(self.shot.refusal)
        raise UnknownNameError("lane", label, [lane.label for lane in lanes])


class _NoAnswerError(BaizewrightError):
    """The shot has no answer for the claim to be held against."""


Found = tuple[bool, str]


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
    sentence = claim_sentence(case.claim)
    judge = _JUDGES.get(case.claim.kind)
    if judge is None:
        text = str(UnknownNameError("kind of claim", case.claim.kind, CLAIM_KINDS))
        return ClaimResult(index, sentence, False, text)
    try:
        holds, found = judge(case)
    except BaizewrightError as error:
        holds, found = False, str(error)
    return ClaimResult(index, sentence, holds, found)


def claim_sentence(claim: Claim) -> str:
    """A claim in words.

    >>> claim_sentence(Claim("lane-clears", "s1", lane="A", ball="red", margin_mm=10))
    'shot s1, lane A clears ball red by at least 10 mm'
    """
    margin = f" by at least {claim.margin_mm:g} mm" if claim.margin_mm else ""
    ball = f"ball {claim.ball}" if claim.ball else ""
    paces = ""
    if claim.pace_min is not None or claim.pace_max is not None:
        low, high = _pace_range(claim)
        paces = f" at pace {low:g} to {high:g}"
    told = {
        "pot-on": "the pot is on",
        "pot-off": "the pot is not on",
        "lane-clears": f"lane {claim.lane} clears {ball or 'every ball'}{margin}",
        "lane-contacts": f"lane {claim.lane} contacts {ball or 'a ball'}{margin}",
        "lane-threads": f"lane {claim.lane} threads gap {claim.gap}{margin}",
        "gap-reachable": f"gap {claim.gap} is reachable{paces}{margin}",
        "gap-unreachable": f"gap {claim.gap} is not reachable{paces}{margin}",
        "lane-passes": f"lane {claim.lane} passes {claim.side} of {ball}{margin}",
        "lane-same-line": f"lane {claim.lane} ends on the line of lane {claim.other} "
        f"within {claim.within_deg:g}°",
        "lane-near-ninety": f"lane {claim.lane} leaves within {claim.within_deg:g}° of the "
        "90-degree line",
        "lane-more-room": f"lane {claim.lane} has more room than lane {claim.other} at "
        f"{ball or f'gap {claim.gap}'}{margin}",
        "cue-ball-stops-in": f"lane {claim.lane}: the cue ball stops in {claim.gap}",
        "object-ball-stops-in": f"lane {claim.lane}: the object ball stops in {claim.gap}",
    }
    return f"shot {claim.shot}, {told.get(claim.kind, claim.kind)}"


def _pot_on(case: _Case) -> Found:
    pot = case.shot.pot
    if pot is None:
        return False, case.shot.refusal or "the shot has no pot"
    if pot.on:
        return True, f"cut {pot.cut_deg:.1f}°, {pot.fullness_name}"
    return False, "; ".join(pot.reasons)


def _pot_off(case: _Case) -> Found:
    if case.shot.pot is None:
        return False, case.shot.refusal or "the shot has no pot"
    on, found = _pot_on(case)
    return not on, found


def _rooms(case: _Case, label: str = "") -> list[tuple[float, str]]:
    """Clearances of the claimed lane to the claimed ball, or to all, nearest first."""
    claim, lane = case.claim, case.lane_named(label or case.claim.lane)
    if not len(lane.path_mm):
        raise _NoAnswerError("the cue ball does not reach the object ball")
    if lane.met_instead:
        raise _NoAnswerError(f"it meets ball {lane.met_instead} before the object ball")
    rooms = [(room.clearance_mm, room.ball) for room in lane.clearances]
    if claim.ball:
        rooms = [room for room in rooms if room[1] == claim.ball]
        if not rooms:
            known = [room.ball for room in lane.clearances]
            raise UnknownNameError("obstacle ball", claim.ball, known)
    return sorted(rooms)


def _lane_clears(case: _Case) -> Found:
    rooms = _rooms(case)
    if not rooms:
        return True, "there is no obstacle"
    room, ball = rooms[0]
    return is_clear(room, case.claim.margin_mm), _room_words(room, ball)


def _lane_contacts(case: _Case) -> Found:
    rooms = _rooms(case)
    if not rooms:
        return False, "there is no obstacle"
    room, ball = rooms[0]
    holds, met = is_touch(room, case.claim.margin_mm), case.lane.first_touched
    if not holds and case.claim.ball and met not in ("", ball):
        return False, f"as the balls lie it meets ball {met} first"
    return holds, _room_words(room, ball)


def _room_words(room_mm: float, ball: str) -> str:
    if room_mm < 0.0:
        return f"touches ball {ball}, {-room_mm:.1f} mm over"
    return f"clears ball {ball} by {room_mm:.1f} mm"


def _lane_threads(case: _Case) -> Found:
    lane, claim = case.lane, case.claim
    for one in case.shot.passes:
        if one.lane == lane.label and one.gap == claim.gap:
            return one.threads and one.margin_mm >= claim.margin_mm, one.reason
    raise UnknownNameError("gap", claim.gap, [gap.id for gap in case.routine.gaps])


def _pace_range(claim: Claim) -> tuple[float, float]:
    low = PACE_LOWEST if claim.pace_min is None else claim.pace_min
    high = PACE_HIGHEST if claim.pace_max is None else claim.pace_max
    return low, high


def _gap_reachable(case: _Case) -> Found:
    claim = case.claim
    verdict = next((v for v in case.verdicts if v.shot == claim.shot and v.gap == claim.gap), None)
    if verdict is None:
        case.routine.gap(claim.gap)
        raise _NoAnswerError(case.shot.refusal or "there is no verdict on this gap")
    if verdict.sentence.startswith(NO_VERDICT):
        raise _NoAnswerError(verdict.sentence)
    plain = claim.margin_mm <= 0.0 and claim.pace_min is None and claim.pace_max is None
    if plain or (case.shot.pot is not None and not case.shot.pot.on):
        return verdict.reachable, verdict.sentence
    low, high = _pace_range(claim)
    best = widest_room(case.routine, claim.shot, claim.gap, low, high)
    if best is None:
        return False, "no tip height threads it at these paces"
    return best >= claim.margin_mm, f"the widest room at these paces is {best:.1f} mm"


def _gap_unreachable(case: _Case) -> Found:
    reachable, found = _gap_reachable(case)
    return not reachable, found


def _lane_passes(case: _Case) -> Found:
    room, ball = _rooms(case)[0]
    side = next(one.side for one in case.lane.clearances if one.ball == ball)
    # a lane that passes left of a ball has it on its right
    beside = {"right": "left", "left": "right"}.get(side, "")
    holds = is_clear(room, case.claim.margin_mm) and beside == case.claim.side
    where = f", {beside} of it" if beside else ""
    return holds, _room_words(room, ball) + where


def _line_of(case: _Case, label: str) -> float:
    """The direction (degrees) a lane ends its bend in."""
    found = case.lane_named(label).final_direction_deg
    if math.isnan(found):
        raise _NoAnswerError(f"lane {label} has no line after contact")
    return found


def _lane_same_line(case: _Case) -> Found:
    one, two = _line_of(case, case.claim.lane), _line_of(case, case.claim.other)
    holds, apart = within(one, two, case.claim.within_deg)
    return holds, f"the lines are {apart:.1f}° apart"


def _lane_near_ninety(case: _Case) -> Found:
    pot = case.shot.pot
    if pot is None:
        raise _NoAnswerError(case.shot.refusal or "the shot has no pot")
    (ax, ay), (bx, by) = pot.ninety_line_mm
    ninety = math.degrees(math.atan2(by - ay, bx - ax))
    holds, apart = within(_line_of(case, case.claim.lane), ninety, case.claim.within_deg)
    return holds, f"it turns {apart:.1f}° off the 90-degree line"


def _room_at(case: _Case, label: str) -> float:
    """The room (mm) of a lane at the claimed ball or gap."""
    if case.claim.ball:
        return _rooms(case, label)[0][0]
    lane = case.lane_named(label).label
    return next(
        (
            one.margin_mm
            for one in case.shot.passes
            if (one.lane, one.gap) == (lane, case.claim.gap)
        ),
        math.nan,
    )


def _lane_more_room(case: _Case) -> Found:
    one, two = _room_at(case, case.claim.lane), _room_at(case, case.claim.other)
    holds = one > two and one - two >= case.claim.margin_mm
    return holds, f"{one:.1f} mm against {two:.1f} mm"


def _stops_in(case: _Case, ball: str) -> Found:
    gap = case.routine.gap(case.claim.gap)
    if len(gap.points_mm) < 3:
        raise OutOfRangeError(f"gap {gap.id}", gap.kind, "an area of cloth")
    rest = dict(case.lane.rests).get(ball)
    if rest is None:
        return False, f"ball {ball} is potted" if ball in dict(case.lane.rests) else "no such ball"
    room = room_inside(gap.points_mm, rest)
    return room >= 0.0, f"it stops {abs(room):.0f} mm {'inside' if room >= 0.0 else 'outside'}"


def _cue_ball_stops_in(case: _Case) -> Found:
    cue = case.routine.cue_ball
    return _stops_in(case, "" if cue is None else cue.id)


def _object_ball_stops_in(case: _Case) -> Found:
    return _stops_in(case, case.routine.shot(case.claim.shot).object_ball)


_JUDGES: dict[str, Callable[[_Case], Found]] = {
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
