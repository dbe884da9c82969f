"""The pot of a shot: on or not and why, how full, how much room the pocket and the cue have."""

from __future__ import annotations

from designer.texts import mark, tr
from designer.words.facts import fact
from designer.words.figures import angle, first_up, sentence, tip_place
from designer.words.fullness import fullness
from designer.words.wording import Wording
from engine.results import Fact, PotAnswer
from engine.units import rounded


def pot_head(wording: Wording, pot: PotAnswer) -> str:
    """Which ball to which pocket, and whether it is on."""
    told = mark("{ball} to the {pocket}: on") if pot.on else mark("{ball} to the {pocket}: not on")
    named = {"ball": wording.ball(pot.object_ball), "pocket": wording.pocket(pot.pocket)}
    return first_up(tr(told, **named))


def cut(pot: PotAnswer) -> str:
    """How thin and to which side: "cut 31° to the left, half ball"."""
    if not pot.cut_side or rounded(pot.cut_deg) < 1.0:
        return tr("straight, {fullness}", fullness=fullness(pot.fullness))
    left, right = (
        mark("cut {angle} to the left, {fullness}"),
        mark("cut {angle} to the right, {fullness}"),
    )
    told = left if pot.cut_side == "left" else right
    return tr(told, angle=angle(pot.cut_deg), fullness=fullness(pot.fullness))


def pot_lines(wording: Wording, pot: PotAnswer) -> list[str]:
    """What there is to say of a pot: why it is not on, the cut, the pocket's room, the cue's."""
    lines = [fact(wording, reason) for reason in pot.reasons]
    if pot.cut_deg < 90.0:
        lines.append(cut(pot))
    if pot.pocket_margin_deg > 0.0:
        lines.append(
            tr("the pocket forgives {angle} either way", angle=angle(pot.pocket_margin_deg))
        )
    if pot.lowest_tip_reason is not None:
        lines.append(lowest_tip(wording, pot, pot.lowest_tip_reason))
    return [sentence(line) for line in lines]


def lowest_tip(wording: Wording, pot: PotAnswer, reason: Fact) -> str:
    """What keeps the cue up, and how low the tip can go."""
    return tr(
        "{reason} limits how low the tip can go: {place}",
        reason=fact(wording, reason),
        place=tip_place(pot.lowest_tip * wording.conditions.cue_radius_mm),
    )
