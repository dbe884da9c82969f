"""A message for every kind of fact the engine finds, with its figures and names filled in.

A message is a whole clause, without capital and full stop unless it is several sentences; a
translation may order what it names as its language wants.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from designer.texts import listed, mark, tr, tr_count
from designer.words.errors import error_told
from designer.words.figures import angle, first_up, pace, room, speed, tip_place
from designer.words.fullness import fullness
from designer.words.names import cushion_name, gap_called, pocket_name, shot_name
from designer.words.wording import Wording
from engine.results import Fact, RoutineAnswer

MESSAGES: dict[str, str] = {
    # pots
    "pocket-thin": mark("the {pocket} is too thin from there, by {angle} either way"),
    "cut-past-90": mark("a cut of {angle} cannot be played: the object ball goes back past 90°"),
    "cut-too-thin": mark("a cut of {angle} is beyond the practical 80°"),
    "contact-off-bed": mark("the contact position lies off the bed: a cushion is in the way"),
    "contact-covered": mark("{ball} covers the contact position by {length}"),
    "line-blocked": mark("the potting line is blocked by {ball}, {length} over"),
    "way-blocked": mark("the cue ball’s way to the contact is blocked by {ball}, {length} over"),
    "cushion-behind": mark("the cushion behind the cue ball"),
    "ball-behind": mark("{ball} behind the cue ball"),
    "cut": mark("cut {angle}, {fullness}"),
    # what a shot cannot be asked
    "no-lanes": mark("no lanes: {then}"),
    "nothing-chosen": mark("no object ball and pocket chosen yet, and no direction given"),
    "no-direction": mark("the table has no pockets and the shot no direction"),
    "lane-refused": mark("lane {lane}: {error}"),
    "gap-refused": mark("{gap}: {error}"),
    "refused": mark("{error}"),
    "no-answer": mark("it has no answer"),
    "no-pot": mark("the shot has no pot"),
    # what to know of a lane
    "tip-too-low": mark("{then} leaves no room for a tip this low: the lowest is {tip}"),
    "short-of-object-ball": mark("the cue ball does not reach the object ball"),
    "meets-before-object-ball": mark("as the balls lie it meets {ball} before the object ball"),
    "cut-short": mark("too much happens in this shot: the prediction stops before the balls rest"),
    "fast-into-cushion": mark(
        "it meets a cushion at {speed}: the cushion model is fitted up to {limit}"
    ),
    "other-pocket": mark("the object ball goes into the {pocket} instead"),
    "object-ball-stays-out": mark(
        "the object ball is not potted like this: it stops short or catches a jaw"
    ),
    "no-stun-short": mark(
        "stun is out of reach: the cue ball stops before it gets to the object ball"
    ),
    "no-stun-rolling": mark(
        "stun is out of reach at this pace: even with the tip {tip} the backspin is gone before "
        "contact and it arrives rolling"
    ),
    "no-stun-forward": mark(
        "stun is out of reach at this pace: even with the tip {tip} the backspin is gone before "
        "contact and it arrives with forward spin"
    ),
    "backspin-gone": mark("the backspin is gone before contact: it arrives with forward spin"),
    # lanes and balls
    "clears": mark("clears {ball} by {length}"),
    "no-obstacle": mark("there is no obstacle"),
    # lanes and gaps
    "no-way": mark("the cue ball does not get that far"),
    "edge-played": mark("{ball} is played in this shot and will have left its place"),
    "part-fails": mark("{gap}: {then}"),
    "before-its-turn": mark("{gap} is passed before its turn"),
    "threads-all": mark("threads all {count} in order, {length} of room at the tightest"),
    "touches-ball": mark("touches {ball} by {length}"),
    "touches-edge": mark("touches {ball}, {length} short of going through"),
    "touches-cushion": mark("touches the {cushion}, {length} short of going through"),
    "passes-ball": mark("passes {length} clear of {ball}"),
    "passes-cushion": mark("passes {length} clear of the {cushion}"),
    "then-in-off": mark("then it goes in-off"),
    "stops-short-of-gap": mark("stops {length} short of the gap"),
    "misses-gap": mark("misses the gap by {length}"),
    "meets": mark("meets {ball}"),
    "meets-first": mark("meets {ball} first"),
    "meets-before-gap": mark("meets {ball} before the gap"),
    "meets-before-cushion": mark("meets {ball} before the cushion"),
    "meets-on-the-way": mark("meets {ball} on the way"),
    "meets-on-left": mark("meets {ball} on its left side"),
    "meets-on-right": mark("meets {ball} on its right side"),
    "misses-ball": mark("misses {ball} by {length}"),
    "cannon-ball-gone": mark("{ball} is not on the cloth beside the balls played"),
    "stops-short-of-cushion": mark("stops {length} short of the cushion"),
    "other-cushion-first": mark("meets the {cushion} first"),
    "inside-stretch": mark("meets the cushion {length} inside the stretch"),
    "outside-stretch": mark("meets the cushion {length} outside the stretch"),
    "goes-in-off": mark("goes in-off"),
    "stops-in-area": mark("stops {length} inside the area"),
    "stops-outside-area": mark("stops {length} outside the area"),
    # what stops a gap
    "pot-off": mark("the pot is not on"),
    "narrow": mark("the gap is {length} narrower than the cue ball"),
    "short-of-pot": mark("the cue ball does not even get to the pot at any pace"),
    "never-near": mark("no strike brings the cue ball near it"),
    "pot-fails": mark("the object ball is not potted with any strike that would thread it"),
    "always-in-off": mark("every strike that would thread it goes in-off"),
    "in-the-way": mark("{ball} is in the way"),
    "kisses-first": mark("the cue ball kisses the object ball again first"),
    "no-backspin": mark("the backspin is gone before contact: it would do it from closer"),
    "highest-pace-short": mark("even the highest pace of the scale stops short"),
    "late-bend": mark("at {pace} the bend comes too late"),
    "beyond-screw": mark(
        "full screw does not turn the cue ball that far; it needs side or another angle"
    ),
    "beyond-top": mark(
        "full top does not carry the cue ball that far forward; it needs side or another angle"
    ),
    "needs-side": mark(
        "no tip height and pace send the cue ball that way; it needs side or another angle"
    ),
    # claims about lanes
    "passes-left": mark("on the left of {ball}"),
    "passes-right": mark("on the right of {ball}"),
    "no-line": mark("lane {lane} has no line after contact"),
    "lines-apart": mark("the lines are {angle} apart"),
    "off-ninety": mark("it leaves {angle} off the 90-degree line"),
    "rooms": mark("{length} of room against {was}"),
    "is-potted": mark("{ball} is potted"),
    "no-such-ball": mark("no such ball is on the table"),
    # claims about gaps
    "no-verdict": mark("there is no verdict on this gap"),
    "not-judged": mark("no verdict: {error}"),
    "no-tip-at-these-paces": mark("no tip height threads it at these paces"),
    "widest-room": mark("the widest room at these paces is {length}"),
    # what is wrong with a routine
    "no-cue-ball": mark("there is no cue ball: place one"),
    "balls-overlap": mark("{ball} and {other} overlap by {length}: move one of them away"),
    "lies-in-pocket": mark("{ball} lies in the {pocket}: move it onto the bed"),
    "off-bed": mark(
        "{ball} is not on the bed: its centre must keep {length} from each cushion face"
    ),
    "shot-pots-nothing": mark(
        "{shot} can pot nothing on a table without pockets: give it a direction"
    ),
    "no-object-ball": mark("{shot} has no object ball: pick one"),
    "no-pocket": mark("{shot} has no pocket: pick one"),
    "asks-for-no-lane": mark("{shot} asks for no lane: add one"),
    "gap-needs-other-balls": mark("{gap} needs balls other than the cue ball"),
    "gap-needs-two-balls": mark("{gap} needs two different balls"),
    "gap-needs-one-ball": mark("{gap} needs one ball"),
    "gap-needs-cushion": mark("{gap} needs a cushion"),
    "gap-needs-both-ends": mark("{gap} needs both ends of its stretch"),
    "gap-needs-two-ends": mark("{gap} needs two different ends of its stretch"),
    "gap-needs-corners": mark("{gap} needs at least three corners round an area"),
    "gap-off-bed": mark("{gap} reaches off the bed: keep it within the cushion faces"),
    "claim-incomplete": mark("claim {count} does not say which {names}"),
    # another table
    "moved-as-else-not-fit": mark(
        "places were moved {way}: {other_way} something would no longer fit"
    ),
    "moved-as-more-would-not-fit": mark(
        "places were moved {way}: {other_way} more would no longer fit"
    ),
    "openings-left-behind": mark(
        "the pocket openings stated were the old table’s: the new table’s are used"
    ),
    "no-shared-spot": mark("the tables share no spot: places were moved by cushions instead"),
    "conditions-left-behind": mark("conditions stated for the old table were left behind: {names}"),
    "pocket-not-there": mark("{shot}: the new table has no {pocket}; choose another"),
    "now-in-left-half": mark(
        "{ball} now stands in the left half of the table, before in the right: the table is too "
        "small to keep that distance"
    ),
    "now-in-right-half": mark(
        "{ball} now stands in the right half of the table, before in the left: the table is too "
        "small to keep that distance"
    ),
    "now-in-lower-half": mark(
        "{ball} now stands in the lower half of the table, before in the upper: the table is too "
        "small to keep that distance"
    ),
    "now-in-upper-half": mark(
        "{ball} now stands in the upper half of the table, before in the lower: the table is too "
        "small to keep that distance"
    ),
    "balls-across": mark("the balls are {size} mm across; before, {was_size} mm"),
    "cue-ball-across": mark("the cue ball {size} mm"),
    # a step harder or easier
    "gap-narrowed": mark("gap narrowed from {was} to {length}"),
    "gap-widened": mark("gap widened from {was} to {length}"),
    "aim-longer": mark("cue ball’s way to contact longer, {was} to {length}"),
    "aim-shorter": mark("cue ball’s way to contact shorter, {was} to {length}"),
    "pot-longer": mark("way to the pocket longer, {was} to {length}"),
    "pot-shorter": mark("way to the pocket shorter, {was} to {length}"),
    # all of it
    "prediction": mark(
        "lanes are a prediction from stated conditions, to be tried on the table: sheets say how "
        "far off to expect each"
    ),
}
#: Kinds whose message has a place for the fact that belongs to them; others are told before it.
WITHIN = frozenset(kind for kind, message in MESSAGES.items() if "{then}" in message)
MOVE_WAYS = {
    "cushions": mark("by cushions"),
    "spots": mark("by spots"),
    "proportion": mark("in proportion"),
}
#: What a claim may lack, and conditions by the names of a file.
_NAMES = {
    "shot": mark("shot"),
    "lane": mark("lane"),
    "ball": mark("ball"),
    "gap": mark("gap"),
}


def fact(wording: Wording, found: Fact) -> str:
    """One fact as a clause: "passes 12 mm clear of red R2".

    >>> from engine.balls import Ball
    >>> from engine.routine.values import Routine
    >>> reds = (Ball("1", "red", 500, 500), Ball("47", "red", 700, 500))
    >>> fact(Wording(Routine(balls=reds)), Fact("passes-ball", ball="1", mm=47.2))
    'passes 47 mm clear of red R1'
    """
    told = tr(MESSAGES[found.kind], **_figures(wording, found))
    if found.after_cushions:
        told = tr_count(
            "{told}, after {count} cushion",
            "{told}, after {count} cushions",
            found.after_cushions,
            told=told,
        )
    if found.then is None or found.kind in WITHIN:
        return told
    return tr("{first}; {then}", first=told, then=fact(wording, found.then))


def facts(wording: Wording, found: Iterable[Fact]) -> str:
    """Several facts one after another."""
    return "; ".join(fact(wording, one) for one in found)


def unplayable(wording: Wording, answer: RoutineAnswer) -> Iterator[tuple[str, str]]:
    """Every shot that cannot be played, as its coach calls it, and why."""
    shots = {shot.id for shot in wording.routine.shots}
    for shot in answer.shots:
        if shot.shot in shots and shot.cannot_be_played:
            yield shot_name(wording.routine, shot.shot), facts(wording, shot.refusals)


def unplayable_told(shot: str, why: str) -> str:
    """That a shot cannot be played, before its sheet is made."""
    return first_up(
        tr("{shot} cannot be played as it stands ({why}): its sheet says so.", shot=shot, why=why)
    )


def _figures(wording: Wording, found: Fact) -> dict[str, object]:
    """Everything a message may name, each only where the fact has it."""
    unit, values = wording.unit, {}
    for key, value in (("length", found.mm), ("was", found.was_mm)):
        if value is not None:
            values[key] = room(value, unit)
    if found.size_mm is not None:
        values["size"] = f"{found.size_mm:g}"
        values["was_size"] = f"{found.was_mm or 0.0:g}"
    if found.deg is not None:
        values["angle"] = angle(found.deg)
    if found.tip is not None:
        values["tip"] = tip_place(found.tip * wording.conditions.cue_radius_mm)
    if found.pace is not None:
        values["pace"] = pace(found.pace)
    for key, value in (("speed", found.m_s), ("limit", found.was_m_s)):
        if value is not None:
            values[key] = speed(value)
    return values | _named(wording, found)


def _named(wording: Wording, found: Fact) -> dict[str, object]:
    routine = wording.routine
    return {
        "ball": wording.ball(found.ball),
        "other": wording.ball(found.other),
        "cushion": cushion_name(found.cushion),
        "pocket": pocket_name(wording.table, found.pocket) if found.pocket else "",
        "gap": gap_called(routine, found.gap),
        "shot": shot_name(routine, found.shot),
        "lane": found.lane,
        "names": listed([tr(_NAMES.get(one, one)) for one in found.names]),
        "way": tr(MOVE_WAYS.get(found.name, found.name)),
        "other_way": tr(MOVE_WAYS.get(found.names[0], found.names[0])) if found.names else "",
        "count": found.count,
        "fullness": fullness(found.share) if found.share is not None else "",
        "then": fact(wording, found.then) if found.then is not None else "",
        "error": error_told(found.error) if found.error is not None else "",
    }
