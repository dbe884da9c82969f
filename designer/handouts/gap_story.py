"""The gaps on the coach's sheet: verdict, what the best strike forgives, and the chances."""

from __future__ import annotations

import math

from reportlab.platypus import Flowable

from designer.drawing.gaps import NO, YES
from designer.handouts.sheet import Sheet
from designer.handouts.styles import Grid, bold, paragraph, table_style, words
from designer.texts import listed, tr
from designer.words.gaps import chances, forgiven, slivers, verdict
from engine.results import Choice, GapVerdict, ShotAnswer


def verdicts_of(sheet: Sheet, answer: ShotAnswer) -> list[GapVerdict]:
    """The verdicts of one shot, in the order they are numbered in."""
    return [found for found in sheet.answer.verdicts if found.shot == answer.shot]


def gap_story(sheet: Sheet, answer: ShotAnswer, width: float) -> list[Flowable]:
    """One row a gap: number, verdict as sign and words, which lanes thread it."""
    found = verdicts_of(sheet, answer)
    if not found:
        return []
    rows = []
    for number, one in enumerate(found, start=1):
        threads = [each.lane for each in answer.passes if each.gap == one.gap and each.threads]
        through = tr("Lanes through it: {lanes}.", lanes=listed(threads))
        if not threads:
            through = tr("Lanes through it: none of those drawn.")
        told = [
            bold(f"{number}. {sheet.gap_titles.get(one.gap, one.gap)}") + words(_wide(sheet, one)),
            words(verdict(sheet.wording, one)),
            *(words(line) for line in _more(sheet, one)),
            words(through),
        ]
        sign = YES if one.reachable else NO
        rows.append([paragraph(f"<b>{sign}</b>", "strong"), paragraph("<br/>".join(told), "small")])
    columns = [width * 0.07, width * 0.93]
    return [
        paragraph(words(tr("Gaps")), "heading"),
        Grid(rows, columns, style=table_style(head=False), hAlign="LEFT"),
    ]


def _wide(sheet: Sheet, one: GapVerdict) -> str:
    if not (math.isfinite(one.width_mm) and one.width_mm > 0):
        return ""
    return " " + tr("({length} wide)", length=sheet.wording.length(one.width_mm))


def _more(sheet: Sheet, one: GapVerdict) -> list[str]:
    """What the verdict leaves out: what its best strike forgives, the chances, the slivers."""
    lines = [] if one.choice is None else choice_lines(sheet, one.choice)
    return [*lines, slivers(one)] if slivers(one) else lines


def choice_lines(sheet: Sheet, choice: Choice) -> list[str]:
    """What the most forgiving strike forgives, and the chances of players."""
    errors = "; ".join(forgiven(sheet.wording, choice))
    lines = [tr("It forgives, each alone: {errors}.", errors=errors)]
    if choice.chances:
        told = ", ".join(f"{name} {share}" for name, share, _ in chances(choice))
        lines.append(tr("Chances (players’ errors are a guess): {chances}.", chances=told))
    return lines
