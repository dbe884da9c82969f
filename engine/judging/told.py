"""A gap's facts as sentences, as answers carry them."""

from __future__ import annotations

from engine.results.facts import Fact

_SENTENCES = {
    "no-way": "the cue ball does not get that far",
    "meets-before-object-ball": "meets ball {0.ball} before the object ball",
    "edge-played": "ball {0.ball} is played in this shot and will have left its place",
    "cannon-ball-gone": "ball {0.ball} is not on the cloth beside the balls played",
    "kisses-first": "the cue ball kisses the object ball again first",
    "object-ball-stays-out": "the object ball is not potted",
    "goes-in-off": "goes in-off",
    "meets-before-gap": "meets ball {0.ball} before the gap",
    "meets-before-cushion": "meets ball {0.ball} before the cushion",
    "meets-on-the-way": "meets ball {0.ball} on the way",
    "meets-first": "meets ball {0.ball} first",
    "touches-ball": "touches ball {0.ball} by {0.mm:.0f} mm",
    "touches-cushion": "touches the {0.cushion} cushion by {0.mm:.0f} mm",
    "passes-ball": "passes {0.mm:.0f} mm clear of ball {0.ball}",
    "passes-cushion": "passes {0.mm:.0f} mm clear of the {0.cushion} cushion",
    "stops-short-of-gap": "stops {0.mm:.0f} mm short of the gap",
    "misses-gap": "misses the gap by {0.mm:.0f} mm",
    "stops-short-of-cushion": "stops {0.mm:.0f} mm short of the cushion",
    "other-cushion-first": "meets the {0.cushion} cushion first",
    "inside-stretch": "meets the cushion {0.mm:.0f} mm inside the stretch",
    "outside-stretch": "meets the cushion {0.mm:.0f} mm outside the stretch",
    "stops-in-area": "stops {0.mm:.0f} mm inside the area",
    "stops-outside-area": "stops {0.mm:.0f} mm outside the area",
    "misses-ball": "misses ball {0.ball} by {0.mm:.0f} mm",
    "meets": "meets ball {0.ball}",
    "meets-on-left": "meets ball {0.ball} on its left side",
    "meets-on-right": "meets ball {0.ball} on its right side",
    "part-fails": "gap {0.gap}: ",
    "before-its-turn": "gap {0.gap} is passed before its turn",
    "threads-all": "threads all {0.count} in order, {0.mm:.0f} mm of room at the tightest",
}


def told(fact: Fact) -> str:
    """A fact as a sentence."""
    sentence = _SENTENCES[fact.kind].format(fact)
    if fact.then is None:
        return sentence
    joint = "" if fact.kind == "part-fails" else "; it "
    return f"{sentence}{joint}{told(fact.then)}"
