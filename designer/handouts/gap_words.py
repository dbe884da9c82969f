"""The gaps on the coach's sheet: verdict, what forgives most, and what stops a gap."""

from __future__ import annotations

import math

from reportlab.platypus import Flowable

from designer.drawing.gaps import NO, YES
from designer.handouts.phrases import tip_words
from designer.handouts.sheet import Sheet
from designer.handouts.styles import Grid, bold, paragraph, table_style, words
from engine.results import Choice, GapVerdict, ShotAnswer
from engine.units import length_text


def verdicts_of(sheet: Sheet, answer: ShotAnswer) -> list[GapVerdict]:
    """The verdicts of one shot, in the order they are numbered in."""
    return [verdict for verdict in sheet.answer.verdicts if verdict.shot == answer.shot]


def gap_story(sheet: Sheet, answer: ShotAnswer, width: float) -> list[Flowable]:
    """One row a gap: number, verdict as sign and words, which lanes thread it."""
    verdicts = verdicts_of(sheet, answer)
    if not verdicts:
        return []
    titles = sheet.gap_titles
    rows = []
    for number, verdict in enumerate(verdicts, start=1):
        sign = YES if verdict.reachable else NO
        threads = [p.lane for p in answer.passes if p.gap == verdict.gap and p.threads]
        wide = ""
        if math.isfinite(verdict.width_mm) and verdict.width_mm > 0:
            wide = f" ({length_text(verdict.width_mm, sheet.unit)} wide)"
        told = [
            bold(f"{number}. {titles.get(verdict.gap, verdict.gap)}") + words(wide),
            words(sheet.said(verdict.sentence)),
            *(words(line) for line in _more(sheet, verdict)),
            words(f"Lanes through it: {', '.join(threads) or 'none of those drawn'}."),
        ]
        rows.append([paragraph(f"<b>{sign}</b>", "strong"), paragraph("<br/>".join(told), "small")])
    columns = [width * 0.07, width * 0.93]
    return [
        paragraph("Gaps", "heading"),
        Grid(rows, columns, style=table_style(head=False), hAlign="LEFT"),
    ]


def _more(sheet: Sheet, verdict: GapVerdict) -> list[str]:
    """What the verdict's sentence leaves out: the most forgiving strike, or what stops it."""
    lines = []
    if verdict.choice is not None:
        lines += choice_words(sheet, verdict.choice)
    if verdict.slivers:
        count = verdict.slivers
        noun = "window is" if count == 1 else "windows are"
        lines.append(f"{count} more {noun} too thin for anyone to play.")
    if verdict.limit and not verdict.reachable:
        lines.append(f"What stops it: {verdict.limit}.")
    return lines


def choice_words(sheet: Sheet, choice: Choice) -> list[str]:
    """The strike that forgives most, what it forgives, and the chances of players."""
    radius = sheet.conditions.cue_radius_mm
    tip = tip_words(choice.tip_height, sheet.conditions)
    lines = [
        f"Most forgiving: {tip}, {pace_figure(choice.pace)} ({choice.speed_m_s:.2f} m/s), "
        f"{length_text(choice.margin_mm, sheet.unit)} to spare; forgives, each alone, "
        f"{_least(choice.aim_deg):.2f}° of aim, {_least(choice.tip_error) * radius:.1f} mm of tip "
        f"height, {_least(choice.side_error) * radius:.1f} mm of side, "
        f"{_least(choice.pace_error):.1f} of pace."
    ]
    if choice.chances:
        told = ", ".join(f"{name} {chance * 100:.0f} %" for name, chance, _, _ in choice.chances)
        lines.append(f"Chances (players’ errors are a guess): {told}.")
    return lines


def pace_figure(pace: float) -> str:
    """A pace on the coach's scale, whole where it is.

    >>> pace_figure(4.0), pace_figure(4.25)
    ('pace 4', 'pace 4.2')
    """
    return f"pace {pace:.1f}".removesuffix(".0")


def _least(errors: tuple[float, float]) -> float:
    """The smaller of what is forgiven either way."""
    return min(abs(error) for error in errors)
