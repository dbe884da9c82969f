"""What a routine claims, what was found of it, and how carefully to set up and to ask."""

from __future__ import annotations

from designer.texts import listed, mark, tr
from designer.words.facts import fact
from designer.words.figures import angle, at_most, direction, first_up
from designer.words.gaps import verdict
from designer.words.names import id_as_words
from designer.words.wording import Wording
from engine.results import BallTolerance, ClaimResult, LanePair
from engine.routine.values import Claim

_CLAIMS = {
    "pot-on": mark("the pot is on"),
    "pot-off": mark("the pot is not on"),
    "lane-clears": mark("lane {lane} clears {ball}"),
    "lane-contacts": mark("lane {lane} touches {ball}"),
    "lane-threads": mark("lane {lane} threads {gap}"),
    "gap-reachable": mark("{gap} is reachable"),
    "gap-unreachable": mark("{gap} is not reachable"),
    "lane-passes": mark("lane {lane} passes {side} of {ball}"),
    "lane-same-line": mark("lane {lane} ends on the line of lane {other}, within {angle}"),
    "lane-near-ninety": mark("lane {lane} leaves within {angle} of the 90-degree line"),
    "lane-more-room": mark("lane {lane} has more room than lane {other} at {place}"),
    "cue-ball-stops-in": mark("with lane {lane} the cue ball stops in {gap}"),
    "object-ball-stops-in": mark("with lane {lane} the object ball stops in {gap}"),
}
_SIDES = {"left": mark("left"), "right": mark("right")}


def claim(wording: Wording, said: Claim) -> str:
    """What a claim says, with its shot where there are several.

    >>> from engine.routine.values import Routine
    >>> claim(Wording(Routine()), Claim("lane-clears", "shot-1", lane="A", margin_mm=9.5))
    'Lane A clears every ball, by 10 mm or more'
    """
    told = tr(
        _CLAIMS.get(said.kind, id_as_words(said.kind)),
        lane=said.lane,
        ball=wording.ball(said.ball) if said.ball else tr("every ball"),
        gap=wording.called(said.gap),
        other=said.other,
        side=tr(_SIDES.get(said.side, said.side)),
        angle=angle(said.within_deg),
        place=wording.ball(said.ball) if said.ball else wording.called(said.gap),
    )
    if said.margin_mm:
        length = wording.length(said.margin_mm)
        told = tr("{claim}, by {length} or more", claim=told, length=length)
    if said.pace_min is not None or said.pace_max is not None:
        low, high = said.pace_min or 1, said.pace_max or 10
        told = tr("{claim} at pace {low:g} to {high:g}", claim=told, low=low, high=high)
    ids = [shot.id for shot in wording.routine.shots]
    if len(ids) > 1 and said.shot in ids:
        number = ids.index(said.shot) + 1
        return tr("Shot {number}: {claim}", number=number, claim=told)
    return first_up(told)


def found(wording: Wording, result: ClaimResult) -> str:
    """What was found of a claim, as a clause or as the sentences of a verdict."""
    if result.verdict is not None:
        return verdict(wording, result.verdict)
    return "; ".join(fact(wording, one) for one in result.found)


def tolerance(wording: Wording, one: BallTolerance) -> tuple[str, str, str]:
    """A ball, how far it may lie off its place, and what changes first beyond that."""
    ball, length = first_up(wording.ball(one.ball)), at_most(one.tolerance_mm, wording.unit)
    if one.at_least or one.claim is None or one.direction_deg is None:
        return ball, tr("{length} or more", length=length), tr("nothing, whichever way")
    told = tr(
        "{direction}, no longer true: {claim}",
        direction=direction(one.direction_deg),
        claim=claim(wording, wording.routine.claims[one.claim]),
    )
    return ball, length, told


def pair(wording: Wording, one: LanePair) -> tuple[str, str, str]:
    """Two lanes, how far apart they lie where the player points, and whether that is enough."""
    told = tr("distinct") if one.apart else tr("NOTE: a guess could be right for both")
    return listed([one.one, one.two]), wording.length(one.distance_mm), told
