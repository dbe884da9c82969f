"""The reach of a routine's gaps as text a coach can read in a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from designer.commands.report import gap_head
from designer.texts import tr
from designer.words.advice import advice as proposal
from designer.words.advice import lost
from designer.words.errors import error_told
from designer.words.figures import list_of, pace_span, room
from designer.words.gaps import (
    chances,
    forgiven,
    forgives_most,
    reachable,
    slivers,
    verdict,
    window,
)
from designer.words.names import shot_name
from designer.words.wording import Wording
from engine.advice import Advice, Wish
from engine.answers.reach_json import Reach
from engine.results import Choice, GapVerdict
from engine.routine.values import Routine


def reach_report(
    file: str,
    routine: Routine,
    found: Reach,
    advice: tuple[Wish, Sequence[Advice]] | None = None,
) -> str:
    """Everything `reach` tells of one routine; no line end after the last line."""
    wording = Wording(routine)
    lines = [f"{routine.title or tr('Routine without a title')} ({file})"]
    if not routine.gaps:
        lines.append("  " + tr("The routine names no gaps."))
    for one in found.verdicts:
        lines += ["", *(f"  {line}" for line in _verdict(wording, one))]
    for _, error in found.refusals:
        lines += ["", "  " + tr("No verdict: {why}", why=error_told(error))]
    if advice is not None:
        lines += ["", *(f"  {line}" for line in _advice(wording, *advice))]
    return "\n".join(lines)


def _verdict(wording: Wording, one: GapVerdict) -> Iterator[str]:
    shot = shot_name(wording.routine, one.shot)
    state = "" if one.error is not None else f": {reachable(one)}"
    yield f"{gap_head(wording, one)}, {shot} ({one.shot}){state}"
    yield f"  {verdict(wording, one)}"
    for each in one.windows:
        most = room(each.best_margin_mm, wording.unit)
        told = tr("window: {window}; most room {length}", window=window(wording, each), length=most)
        yield f"  {told}"
    if one.slivers:
        yield f"  {slivers(one)}"
    if one.choice is not None:
        yield from (f"  {line}" for line in _choice(wording, one.choice))


def _choice(wording: Wording, choice: Choice) -> Iterator[str]:
    yield forgives_most(wording, choice)
    for player, share, spread in chances(choice):
        told = tr("chance of a {player}: {share}", player=player, share=share)
        yield f"  {told}" + (f" ({spread})" if spread else "")
    told = "; ".join(forgiven(wording, choice))
    yield "  " + tr("each alone, it forgives: {errors}", errors=told)


def _advice(wording: Wording, wish: Wish, found: Sequence[Advice]) -> Iterator[str]:
    asked = [pace_span(wish.pace_min, wish.pace_max)]
    if wish.margin_mm:
        length = wording.length(wish.margin_mm)
        asked.append(tr("{length} of room or more", length=length))
    if wish.apart_mm:
        asked.append(tr("lanes {length} apart or more", length=wording.length(wish.apart_mm)))
    yield tr(
        "Advice for {gap} in {shot} ({asked}):",
        gap=wording.called(wish.gap),
        shot=shot_name(wording.routine, wish.shot),
        asked=list_of(asked),
    )
    if not found:
        yield "  " + tr("no move of one or two balls within 300 mm was found that does it")
    for number, one in enumerate(found, 1):
        yield f"  {number}. {proposal(wording, one)}"
        if one.claims_lost:
            yield f"     {lost(wording, one)}"
