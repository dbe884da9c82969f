"""Gaps, claims and problems as rich text: the layout of what `designer.words` says."""

from __future__ import annotations

from html import escape

from designer.texts import listed, tr, tr_count
from designer.words.claims import claim, found
from designer.words.facts import fact, facts
from designer.words.figures import first_up, sentence
from designer.words.gaps import reachable, verdict
from designer.words.pots import pot_head, pot_lines
from designer.words.wording import Wording
from engine.results import GapVerdict, RoutineAnswer, ShotAnswer

#: Words, not colours, carry the verdict; the colours only help the eye (dark enough on white).
GOOD, BAD, SOFT = "#00604a", "#a03c00", "#59646a"


def pot_told(wording: Wording, shot: ShotAnswer) -> tuple[str, bool | None, list[str]]:
    """Headline of the pot, whether it is on (None: not known), and the lines under it."""
    pot = shot.pot
    refusals = [one for one in shot.refusals if pot is None or one.kind != "no-lanes"]
    why = [sentence(facts(wording, refusals))] if refusals else []
    if pot is None:
        return tr("Nothing to pot yet"), None, why
    return pot_head(wording, pot), pot.on, [*pot_lines(wording, pot), *why]


def gap_html(wording: Wording, answer: RoutineAnswer, shot_id: str, full: bool) -> str:
    """Each gap with its verdict and the lanes that thread it, as rich text."""
    shot = next((one for one in answer.shots if one.shot == shot_id), None)
    verdicts = {one.gap: one for one in answer.verdicts if one.shot == shot_id}
    parts = []
    for gap in wording.routine.gaps:
        passes = [one for one in shot.passes if one.gap == gap.id] if shot is not None else []
        threads = [one.lane for one in passes if one.threads]
        told = []
        if threads:
            told.append(
                tr_count(
                    "Lane {lanes} threads it.",
                    "Lanes {lanes} thread it.",
                    len(threads),
                    lanes=listed(threads),
                )
            )
        one = verdicts.get(gap.id)
        if one is not None:
            told.append(verdict(wording, one))
        parts.append(
            f"<p><b>{escape(first_up(wording.gap(gap.id)))}</b> {_mark(one, full, shot)}"
            f"<br>{escape(' '.join(told))}</p>"
        )
    return "".join(parts)


def claims_html(wording: Wording, answer: RoutineAnswer) -> str:
    """Each claim with whether it holds and what was found, those that fail first."""
    claims = wording.routine.claims
    return "".join(
        f"<p>{_coloured(tr('holds'), GOOD) if one.holds else _coloured(tr('FAILS'), BAD)}: "
        f"{escape(sentence(claim(wording, claims[one.index])))} "
        f"{escape(sentence(found(wording, one)))}</p>"
        for one in sorted(answer.claims, key=lambda one: one.holds)
        if one.index < len(claims)
    )


def problems_html(wording: Wording, answer: RoutineAnswer) -> str:
    """What is wrong with the set-up."""
    return "".join(
        f"<p>{_coloured(tr('To do'), BAD)}: {escape(sentence(fact(wording, one.fact)))}</p>"
        for one in answer.problems
    )


def _mark(found: GapVerdict | None, full: bool, shot: ShotAnswer | None) -> str:
    if found is not None:
        return _coloured(reachable(found), GOOD if found.reachable else BAD)
    waiting = shot is not None and not full
    return _coloured(tr("being worked out") if waiting else tr("no verdict"), SOFT)


def _coloured(words: str, colour: str) -> str:
    return f'<b style="color:{colour}">{words}</b>'
