"""The coach's sheet: how to set the table, then each shot with its answers."""

from __future__ import annotations

from reportlab.platypus import Flowable, FrameBreak, NextPageTemplate, PageBreak

from designer.drawing import Drawing, Layers, Look, build_drawing
from designer.handouts.figure import Figure
from designer.handouts.pages import SETTING_SHARE, SHOT_SHARE, Handout, Head, PageHead
from designer.handouts.papers import Box
from designer.handouts.setting import TRY_IT, ids_key, setting_figure, setting_words
from designer.handouts.sheet import Sheet
from designer.handouts.shot_words import (
    claim_story,
    gap_story,
    lane_table,
    pot_story,
    talking_story,
)
from designer.handouts.styles import paragraph, words
from engine.answers.values import ShotAnswer
from engine.routine.values import Shot

#: Height of the page that the talking points may take below a shot's drawing.
_UNDER_DRAWING = 0.24


def coach_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """Everything the coach gets for one routine; starts on a "setting" page."""
    paper = document.paper
    left, right = paper.columns(SETTING_SHARE)
    figure = setting_figure(sheet, left)
    head = Head(sheet.title, f"Coach’s sheet  ·  {sheet.maker_line}", sheet.title)
    story: list[Flowable] = [PageHead(document, head), figure, FrameBreak()]
    story.append(NextPageTemplate("more"))
    story += setting_words(sheet, right.width, figure.scale)
    story.append(paragraph(words(TRY_IT), "small"))
    story += ids_key(sheet)
    if sheet.routine.notes:
        story += [paragraph("Notes", "heading"), paragraph(words(sheet.routine.notes), "small")]
    if sheet.answer.problems:
        story.append(paragraph("To put right", "heading"))
        story += [paragraph(words(problem.message), "small") for problem in sheet.answer.problems]
    for number, shot, answer in sheet.shots():
        story += [NextPageTemplate("shot"), PageBreak()]
        story += _shot_story(sheet, document, (number, shot, answer))
    return story


def _shot_story(
    sheet: Sheet, document: Handout, numbered: tuple[int, Shot, ShotAnswer | None]
) -> list[Flowable]:
    number, shot, answer = numbered
    line = f"Coach’s sheet  ·  Shot {number} of {len(sheet.routine.shots)}"
    line += f": {shot.title}" if shot.title else ""
    head = PageHead(document, Head(sheet.title, line))
    left, right = document.paper.columns(SHOT_SHARE)
    drawing_box = Box(left.x, left.y, left.width, left.height * (1.0 - _UNDER_DRAWING))
    figure = _shot_figure(sheet, shot, drawing_box)
    story: list[Flowable] = [head, figure]
    if answer is None or answer.refusal:
        refusal = answer.refusal if answer else "This shot has no answer."
        return [*story, FrameBreak(), NextPageTemplate("more"), paragraph(words(refusal))]
    talk = talking_story(sheet, shot, answer)
    under, after = what_fits(talk, left.width, left.height - figure.height)
    story += under
    story += [FrameBreak(), NextPageTemplate("more")]
    story += _asked(shot)
    if answer.pot is not None:
        story += [paragraph("Pot", "heading"), *pot_story(sheet, answer.pot)]
    if answer.lanes:
        story += [paragraph("Lanes", "heading"), lane_table(sheet, answer, right.width)]
    story += gap_story(sheet, answer, right.width)
    story += claim_story(sheet, shot, right.width)
    return story + after


def what_fits(
    story: list[Flowable], width: float, height: float
) -> tuple[list[Flowable], list[Flowable]]:
    """The first flowables that fit into a column's room, and those that do not (points)."""
    room = height
    for index, flowable in enumerate(story):
        needed = flowable.wrap(width, height)[1] + flowable.getSpaceBefore()
        needed += flowable.getSpaceAfter()
        if needed > room:
            return story[:index], story[index:]
        room -= needed
    return story, []


def _asked(shot: Shot) -> list[Flowable]:
    story: list[Flowable] = []
    if shot.question:
        story += [paragraph("Question", "heading"), paragraph(words(shot.question))]
    if shot.answer:
        story += [paragraph("Answer", "heading"), paragraph(words(shot.answer))]
    return story


def _shot_figure(sheet: Sheet, shot: Shot, box: Box) -> Figure:
    def make(look: Look) -> Drawing:
        return build_drawing(
            sheet.routine, sheet.answer, Layers(), sheet.unit, look=look, shot=shot.id
        )

    return Figure(make, box.width, box.height)
