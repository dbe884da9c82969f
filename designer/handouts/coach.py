"""The coach's sheet: how to set the table, then each shot with its answers."""

from __future__ import annotations

from reportlab.platypus import Flowable, FrameBreak, NextPageTemplate, PageBreak

from designer.drawing import Drawing, Layers, Look, build_drawing
from designer.handouts.closeups import closeup_story
from designer.handouts.figure import Figure
from designer.handouts.gap_story import gap_story
from designer.handouts.pages import Handout, Head, PageHead
from designer.handouts.papers import Box
from designer.handouts.setting import TRY_IT, ids_key, setting_story
from designer.handouts.sheet import Sheet
from designer.handouts.shot_story import (
    claim_story,
    lane_table,
    pot_story,
    refusal_story,
    talking_story,
)
from designer.handouts.stacking import stacked_height, what_fits
from designer.handouts.styles import paragraph, words
from designer.texts import tr
from designer.words.facts import fact
from designer.words.figures import sentence
from engine.results import Fact, ShotAnswer
from engine.routine.values import Shot

#: Least share of the column's height for a shot's drawing, whatever there is to say below it.
_LEAST_DRAWING = 0.62
#: Room left over below the talking points, points.
_SPARE = 2.0


def coach_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """Everything the coach gets for one routine; starts on a "setting" page."""
    line = f"{tr('Coach’s sheet')}  ·  {sheet.maker_line}"
    head = Head(sheet.title, line, sheet.title, key=sheet.key)
    more: list[Flowable] = [paragraph(words(tr(TRY_IT)), "small"), *ids_key(sheet)]
    if sheet.routine.notes:
        more += [
            paragraph(words(tr("Notes")), "heading"),
            paragraph(words(sheet.routine.notes), "small"),
        ]
    if sheet.answer.problems:
        more.append(paragraph(words(tr("To put right")), "heading"))
        more += [
            paragraph(words(sentence(fact(sheet.wording, problem.fact))), "small")
            for problem in sheet.answer.problems
        ]
    story: list[Flowable] = [PageHead(document, head), *setting_story(sheet, document, more)]
    for number, shot, answer in sheet.shots():
        story += [NextPageTemplate("shot"), PageBreak()]
        story += _shot_story(sheet, document, (number, shot, answer))
    return story


def _shot_story(
    sheet: Sheet, document: Handout, numbered: tuple[int, Shot, ShotAnswer | None]
) -> list[Flowable]:
    number, shot, answer = numbered
    line = f"{tr('Coach’s sheet')}  ·  {shot_of(number, len(sheet.routine.shots))}"
    line += f": {shot.title}" if shot.title else ""
    head = PageHead(document, Head(sheet.title, line, shot_bookmark(number, shot), 1))
    left, right = document.paper.columns(document.paper.shot_share)
    if answer is None:
        answer = ShotAnswer(shot.id, None, (), (), None, (Fact("no-answer"),))
    talk = talking_story(sheet, shot, answer)
    talk_height = stacked_height(talk, left.width)
    height = max(left.height - talk_height - _SPARE, left.height * _LEAST_DRAWING)
    box = Box(left.x, left.y, left.width, height)
    figure = _shot_figure(sheet, shot, box, document.paper.landscape)
    story: list[Flowable] = [head, figure]
    claims = claim_story(sheet, shot, left.width)
    below = left.height - figure.height - _SPARE
    under, after = what_fits(talk, left.width, below)
    room = below - stacked_height(under, left.width)
    beside = bool(after or what_fits(claims, left.width, room)[1])
    story += under if beside else under + claims
    story += [FrameBreak(), NextPageTemplate("shot-more")]
    story += [*refusal_story(sheet, answer), *_asked(shot)]
    if answer.pot is not None:
        story += [paragraph(words(tr("Pot")), "heading"), *pot_story(sheet, answer.pot)]
    if not answer.cannot_be_played:
        story += closeup_story(sheet, answer, right.width)
    if answer.lanes:
        story += [paragraph(words(tr("Lanes")), "heading"), lane_table(sheet, answer, right.width)]
    story += gap_story(sheet, answer, right.width)
    if beside:
        story += claim_story(sheet, shot, right.width)
    return story + after


def _asked(shot: Shot) -> list[Flowable]:
    story: list[Flowable] = []
    if shot.question:
        story += [paragraph(words(tr("Question")), "heading"), paragraph(words(shot.question))]
    if shot.answer:
        story += [paragraph(words(tr("Answer")), "heading"), paragraph(words(shot.answer))]
    return story


def shot_bookmark(number: int, shot: Shot) -> str:
    """A shot's entry in the outline."""
    name = tr("Shot {number}", number=number)
    return f"{name}: {shot.title}" if shot.title else name


def shot_of(number: int, count: int) -> str:
    """Which shot of how many."""
    return tr("Shot {number} of {count}", number=number, count=count)


def _shot_figure(sheet: Sheet, shot: Shot, box: Box, turned: bool) -> Figure:
    def make(look: Look) -> Drawing:
        return build_drawing(
            sheet.routine, sheet.answer, Layers(), sheet.unit, look=look, shot=shot.id
        )

    return Figure(make, box.width, box.height, Look(turned=turned))
