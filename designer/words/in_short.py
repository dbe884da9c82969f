"""Verdicts in a line, for where there is little room: of a pot, a lane, a gap."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from designer.texts import listed, mark, tr, tr_count
from designer.words.errors import error_told
from designer.words.facts import fact
from designer.words.figures import angle, chance, first_up, pace_span, room
from designer.words.fullness import fullness_in_short
from designer.words.gaps import grade
from designer.words.lanes import by_room
from designer.words.names import id_as_words, printed_letters
from designer.words.strikes import tip_and_pace
from designer.words.wording import Wording
from engine.results import GapPass, GapVerdict, Lane, PotAnswer
from engine.routine.values import Claim, Gap
from engine.units import rounded


@dataclass(frozen=True, slots=True)
class InShort:
    """Good, bad or (None) not known; what is found in a few words; what is beside it."""

    good: bool | None
    told: str
    beside: str = ""


def lane_verdict(wording: Wording, lane: Lane, passes: Sequence[GapPass]) -> InShort:
    """Whether a lane touches a ball, goes through a gap, or is clear, and the room in mm."""
    if len(lane.path_mm) < 2 and lane.contact is None:
        return InShort(False, tr("stops short"))
    ranked = by_room(lane)
    touched = [one for one in ranked if one.clearance_mm < 0.0]
    if touched:
        letter = printed_letters(wording.routine).get(touched[0].ball, "")
        name = letter or wording.ball(touched[0].ball)
        by = tr("by {length}", length=room(-touched[0].clearance_mm, wording.unit))
        more = tr("{by}, {more} more", by=by, more=len(touched) - 1)
        return InShort(False, tr("touches {ball}", ball=name), more if len(touched) > 1 else by)
    if lane.in_off:
        return InShort(False, tr("goes in-off"))
    through = [one.margin_mm for one in passes if one.lane == lane.label and one.threads]
    if through:
        return InShort(True, tr("goes through"), room(min(through), wording.unit))
    return InShort(True, tr("clear"), room(ranked[0].clearance_mm, wording.unit) if ranked else "")


def pot_verdict(wording: Wording, pot: PotAnswer) -> InShort:
    """Whether a pot is on and how it is cut; what is in its way."""
    told = []
    if pot.cut_deg < 90.0:
        told = [tr("cut {angle}", angle=angle(pot.cut_deg)), fullness_in_short(pot.fullness)]
    if pot.on and pot.pocket_margin_deg > 0.0:
        told.append(tr("pocket forgives {angle}", angle=angle(pot.pocket_margin_deg)))
    beside = " · ".join(told)
    if pot.on:
        return InShort(True, tr("on"), beside)
    return InShort(False, tr("not on: {why}", why=fact(wording, pot.reasons[0])), beside)


def tip_in_short(offset_mm: float) -> str:
    """Where the tip meets the ball, for a narrow place.

    >>> tip_in_short(13.125), tip_in_short(-6.6), tip_in_short(0.0)
    ('13 mm above', '7 mm below', 'centre')
    """
    offset = rounded(offset_mm)
    if not offset:
        return tr("centre")
    told = mark("{offset} mm above") if offset > 0.0 else mark("{offset} mm below")
    return tr(told, offset=f"{abs(offset):.0f}")


def gap_line(
    wording: Wording, gap: Gap, found: GapVerdict | None, passes: Sequence[GapPass]
) -> InShort:
    """Which lanes go through a gap and with how much to spare, or what would, or why nothing."""
    through = sorted(
        (one for one in passes if one.gap == gap.id and one.threads), key=lambda one: one.lane
    )
    if through:
        spare = room(min(one.margin_mm for one in through), wording.unit)
        told = tr_count(
            "{lanes} goes through, {room} to spare",
            "{lanes} go through, {room} to spare",
            len(through), lanes=listed([one.lane for one in through]), room=spare,
        )  # fmt: skip
        return InShort(True, told, _how_hard(found))
    if found is None:
        return InShort(None, tr("No lane goes through; whether any could is being worked out"))
    if found.error is not None:
        return InShort(None, tr("No verdict: {why}", why=error_told(found.error)))
    if not found.reachable and found.slivers:
        return InShort(
            False, tr("Out of reach: only strikes too exact to play on purpose would thread it")
        )
    if not found.reachable:
        why = found.limit.then if found.limit and found.limit.kind == "pot-off" else found.limit
        told = tr("Out of reach: {why}", why=fact(wording, why)) if why else tr("Out of reach")
        near = found.nearest_miss_mm
        miss = "" if near is None else tr("misses by {room}", room=room(near, wording.unit))
        return InShort(False, told, miss)
    best = found.choice or found.best
    if best is None or found.quick:
        return InShort(False, tr("No lane goes through, but it can be reached"))
    how = tip_and_pace(best.tip_height, best.pace, wording.conditions)
    return InShort(False, tr("No lane goes through; {strike} would", strike=how), _how_hard(found))


_CLAIMS = {
    "pot-on": mark("pot on"),
    "pot-off": mark("pot not on"),
    "lane-clears": mark("{lane} clears {ball}"),
    "lane-contacts": mark("{lane} touches {ball}"),
    "lane-threads": mark("{lane} through {gap}"),
    "gap-reachable": mark("{gap}: reachable"),
    "gap-unreachable": mark("{gap}: out of reach"),
    "lane-passes": mark("{lane} {side} of {ball}"),
    "lane-same-line": mark("{lane} and {other} on one line"),
    "lane-near-ninety": mark("{lane} near the 90-degree line"),
    "lane-more-room": mark("{lane} with more room than {other}"),
    "cue-ball-stops-in": mark("{lane}: cue ball stops in {gap}"),
    "object-ball-stops-in": mark("{lane}: object ball stops in {gap}"),
}
_SIDES = {"left": mark("left"), "right": mark("right")}


def claim_in_short(wording: Wording, said: Claim, holds: bool) -> InShort:
    """What a routine claims of a shot, in a few words, and whether it holds.

    >>> from engine.routine.values import Routine
    >>> claim_in_short(Wording(Routine()), Claim("lane-clears", "s", lane="A"), True)
    InShort(good=True, told='A clears all', beside='')
    """
    letters = printed_letters(wording.routine)
    told = tr(
        _CLAIMS.get(said.kind, id_as_words(said.kind)),
        lane=said.lane, other=said.other, side=tr(_SIDES.get(said.side, said.side)),
        ball=letters.get(said.ball, "") or (wording.ball(said.ball) if said.ball else tr("all")),
        gap=wording.gap(said.gap) if said.gap else "",
    )  # fmt: skip
    more = []
    if said.margin_mm:
        more.append(tr("by {length}+", length=wording.length(said.margin_mm)))
    if said.within_deg:
        more.append(tr("within {angle}", angle=angle(said.within_deg)))
    if said.pace_min is not None or said.pace_max is not None:
        more.append(pace_span(said.pace_min or 1.0, said.pace_max or 10.0))
    return InShort(holds, first_up(told), ", ".join(more))


def _how_hard(found: GapVerdict | None) -> str:
    """How hard the most forgiving strike is for the player asked about, and the chance."""
    choice = found.choice if found is not None else None
    told = grade(choice) if choice is not None else ""
    if choice is None or not told:
        return ""
    shares = [share for name, share, _, _ in choice.chances if name == choice.player]
    return tr("{grade}, {chance}", grade=told, chance=chance(shares[0])) if shares else told
