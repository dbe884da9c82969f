"""Gaps: reachable or not, the windows of tip and pace, what forgives most, the chances."""

from __future__ import annotations

from dataclasses import replace

from designer.texts import mark, tr, tr_count
from designer.words.errors import error_told
from designer.words.facts import fact
from designer.words.figures import aim_error, chance, fine, pace_span, room, sentence, tip_span
from designer.words.strikes import strike, strike_word, tip_and_pace
from designer.words.wording import Wording
from engine.results import Choice, GapVerdict, ReachWindow, TriedStrike
from engine.units import rounded

_GRADES = {
    "easy": mark("easy for a {player}"),
    "fair": mark("fair for a {player}"),
    "hard": mark("hard for a {player}"),
    "paper-only": mark("on paper only for a {player}"),
}
#: Windows told in a sentence, the largest first.
_TOLD = 2


def verdict(wording: Wording, found: GapVerdict) -> str:
    """A verdict in whole sentences."""
    if found.error is not None:
        return sentence(tr("No verdict: {why}", why=error_told(found.error)))
    if found.reachable:
        return tr("Reachable, at a quick look.") if found.quick else _reached(wording, found)
    if found.limit is None:
        return tr("Not reachable with plain top or screw, at a quick look.")
    if found.limit.kind == "pot-off":
        if found.limit.then is None:
            return tr("Not reachable: the pot is not on.")
        why = fact(wording, found.limit.then)
        return sentence(tr("Not reachable: the pot is not on, {why}", why=why))
    return _not_reached(wording, found)


def _not_reached(wording: Wording, found: GapVerdict) -> str:
    assert found.limit is not None
    if found.slivers:
        return tr(
            "Not reachable with plain top or screw: only strikes too exact for anyone to play on "
            "purpose would thread it."
        )
    why = fact(wording, found.limit)
    told = sentence(tr("Not reachable with plain top or screw: {why}", why=why))
    if found.nearest is None or found.nearest_miss_mm is None:
        return told
    near = tr(
        "The nearest miss is {length}, with {strike}.",
        length=room(found.nearest_miss_mm, wording.unit),
        strike=_tried(wording, found.nearest),
    )
    return f"{told} {near}"


def _reached(wording: Wording, found: GapVerdict) -> str:
    parts = [window(wording, one) for one in found.windows[:_TOLD]]
    told = tr("Reachable with {first}", first=parts[0])
    if len(parts) > 1:
        told = tr("Reachable with {first}; or with {second}", first=parts[0], second=parts[1])
    left = len(found.windows) - _TOLD
    if left > 0:
        told = tr_count(
            "{told}, and {count} smaller window",
            "{told}, and {count} smaller windows",
            left,
            told=told,
        )
    best = found.choice or found.best
    if best is not None:
        return f"{sentence(told)} {forgives_most(wording, best)}"
    widest = max(found.windows, key=lambda one: one.best_margin_mm)
    most = tr(
        "Most room, {length} to the nearer edge: {strike}.",
        length=room(widest.best_margin_mm, wording.unit),
        strike=tip_and_pace(widest.best_tip, widest.best_pace, wording.conditions),
    )
    return f"{sentence(told)} {most}"


def forgives_most(wording: Wording, best: TriedStrike | Choice) -> str:
    """The strike that forgives most, its room, and how hard it is."""
    told = tr(
        "Forgives most: {strike}, {length} of room.",
        strike=_tried(wording, best),
        length=room(best.margin_mm, wording.unit),
    )
    if isinstance(best, TriedStrike):
        return " ".join([told, *finer(wording, best)])
    more = finer(wording, best)
    if best.grade:
        more.append(sentence(grade(best)))
    if best.after_cushions:
        over = tr_count(
            "It goes over {count} cushion first.", "It goes over {count} cushions first.",
            best.after_cushions,
        )  # fmt: skip
        more.append(over)
    if best.by_jaw:
        more.append(tr("One of them is a jaw: do not count on it."))
    return " ".join([told, *more])


def grade(best: Choice) -> str:
    """How hard a strike is for the player asked about; "" where that is not known."""
    return tr(_GRADES[best.grade], player=tr(best.player)) if best.grade else ""


def finer(wording: Wording, best: TriedStrike | Choice) -> list[str]:
    """That no hand repeats it, and how little there is to hit; nothing where one does."""
    if best.within is None:
        return []
    tip, pace = best.within
    told = tr(
        "That is finer than a hand can repeat: {tip} mm of tip and {pace} of pace from end to end.",
        tip=fine(tip * wording.conditions.cue_radius_mm),
        pace=fine(pace),
    )
    return [told]


def _tried(wording: Wording, one: TriedStrike | Choice) -> str:
    return strike(one.strike_name, one.tip_height, one.pace, wording.conditions)


def window(wording: Wording, found: ReachWindow) -> str:
    """A window: the words for its strikes, from where to where the tip may be, at which paces.

    Of a window that its bounds promise too much of, the box is told that is filled.
    """
    if found.is_diagonal:
        tip_min, tip_max, pace_min, pace_max = found.box
        inner = replace(
            found, tip_min=tip_min, tip_max=tip_max, pace_min=pace_min, pace_max=pace_max,
            filled_share=1.0, strikes=("", ""),
        )  # fmt: skip
        return tr("{window}, and beyond with tip and pace changed together",
                  window=window(wording, inner))  # fmt: skip
    radius = wording.conditions.cue_radius_mm
    tips = tip_span(found.tip_min * radius, found.tip_max * radius)
    paces = pace_span(found.pace_min, found.pace_max)
    low, high = (strike_word(name) for name in found.strikes)
    if not low:
        return tr("tip {tips}, {paces}", tips=tips, paces=paces)
    names = low if low == high else tr("{low} to {high}", low=low, high=high)
    return tr("{strikes} (tip {tips}) at {paces}", strikes=names, tips=tips, paces=paces)


def reachable(found: GapVerdict | None) -> str:
    """A verdict in a word or two, for a column."""
    if found is None or found.error is not None:
        return tr("no verdict")
    return tr("reachable") if found.reachable else tr("not reachable")


def slivers(found: GapVerdict) -> str:
    """The windows left out, "" where none is."""
    if not found.slivers:
        return ""
    return tr_count(
        "{count} window is left out: too thin for anyone to play on purpose.",
        "{count} windows are left out: too thin for anyone to play on purpose.",
        found.slivers,
    )


def forgiven(wording: Wording, found: Choice) -> list[str]:
    """The largest error of each kind alone, either way."""
    radius, unit = wording.conditions.cue_radius_mm, wording.unit
    low, high = (aim_error(one, unit) for one in found.aim_deg)
    lines = [tr("aim {low} to the right, {high} to the left", low=low, high=high)]
    low, high = (_ball_mm(radius * one) for one in found.tip_error)
    lines.append(tr("tip height {low} too low, {high} too high", low=low, high=high))
    low, high = (_ball_mm(radius * one) for one in found.side_error)
    lines.append(tr("side {low} to the left, {high} to the right", low=low, high=high))
    low, high = (_pace_error(one) for one in found.pace_error)
    lines.append(tr("pace {low} too soft, {high} too hard", low=low, high=high))
    return lines


def _ball_mm(offset_mm: float) -> str:
    """An error of the tip on the ball, in mm in every unit of the table."""
    return room(abs(offset_mm), "mm")


def _pace_error(error: float) -> str:
    if abs(error) < 0.25:
        return tr("under a half")
    return f"{rounded(abs(error), 0.5):g}"


def chances(found: Choice) -> list[tuple[str, str, str]]:
    """Player level, chance, and from which to which it may be where the two are not one figure."""
    return [
        (tr(name), chance(share), "" if chance(low) == chance(high) else spread(low, high))
        for name, share, low, high in found.chances
    ]


def spread(low: float, high: float) -> str:
    """From which chance to which."""
    return tr("{low} to {high}", low=chance(low), high=chance(high))
