"""A step harder or easier: what was changed, and what that does to the chance."""

from __future__ import annotations

from designer.texts import tr
from designer.words.facts import fact
from designer.words.figures import chance, sentence
from designer.words.strikes import strike
from designer.words.wording import Wording
from engine.progressions.values import Step


def step_told(wording: Wording, step: Step) -> str:
    """What was changed, and how often a player of the level makes it now, and made it before."""
    rate = step.rate
    told = tr(
        "{change}: a {player} makes it {now} instead of {before}, with {strike}",
        change=fact(wording, step.change),
        player=tr(step.player),
        now=chance(rate.chance),
        before=chance(step.before.chance),
        strike=strike(rate.strike_name, rate.tip_height, rate.pace, wording.conditions),
    )
    return sentence(told)


def as_near(step: Step) -> str:
    """That the chance asked for was not quite found."""
    return tr("This is as near to {wanted} as was found.", wanted=chance(step.wanted))
