"""The player's sheet: how to set the table, the question, and a record of practice.

It is made from the set-up and the question alone. Lanes enter it only as letters on the rim;
no strike, verdict, claim, title of a shot or note of the coach does.
"""

from __future__ import annotations

from dataclasses import replace

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, FrameBreak, NextPageTemplate, PageBreak, Table

from designer.drawing import QUESTION_LAYERS, Drawing, Look, build_drawing
from designer.handouts.figure import Figure
from designer.handouts.pages import SETTING_SHARE, SHOT_SHARE, Handout, Head, PageHead
from designer.handouts.papers import Box
from designer.handouts.setting import setting_figure, setting_words
from designer.handouts.sheet import Sheet
from designer.handouts.styles import RULE, bold, paragraph, table_style, words
from engine.answers.values import ShotAnswer
from engine.routine.values import Shot

RECORD_ROWS = 16
ROW_HEIGHT = 8.5 * mm
OWN_ROW_HEIGHT = 6.5 * mm


def player_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """Everything the player gets for one routine; starts on a "setting" page."""
    left, right = document.paper.columns(SETTING_SHARE)
    figure = setting_figure(sheet, left)
    head = Head(sheet.title, f"Player’s sheet  ·  {sheet.maker_line}", sheet.title)
    story: list[Flowable] = [PageHead(document, head), figure, FrameBreak()]
    story.append(NextPageTemplate("more"))
    story += setting_words(sheet, right.width, figure.scale)
    for number, shot, answer in sheet.shots():
        story += [NextPageTemplate("shot"), PageBreak()]
        story += _question_story(sheet, document, (number, shot, answer))
    if not sheet.routine.shots:
        story += [NextPageTemplate("more"), PageBreak(), PageHead(document, head)]
        story += practice_record(document.paper.body.width)
    return story


def _question_story(
    sheet: Sheet, document: Handout, numbered: tuple[int, Shot, ShotAnswer | None]
) -> list[Flowable]:
    number, shot, answer = numbered
    line = f"Player’s sheet  ·  Shot {number} of {len(sheet.routine.shots)}"
    left, right = document.paper.columns(SHOT_SHARE)
    left = Box(left.x, left.y, left.width, left.height * 0.78)
    story: list[Flowable] = [
        PageHead(document, Head(sheet.title, line)),
        question_figure(sheet, shot, left),
        *_own_answer(answer, left.width),
        FrameBreak(),
        NextPageTemplate("more"),
        paragraph("Question", "heading"),
        paragraph(words(shot.question or _plain_question(answer)), "lead"),
    ]
    task = _task(sheet, shot)
    if task:
        story.append(paragraph(words(task)))
    if answer is not None and answer.lanes:
        story.append(
            paragraph(
                "The letters on the rim show where the cue ball first meets a cushion or, if it "
                "stops before that, where it is heading: one letter for each way of striking it.",
                "small",
            )
        )
    return story + practice_record(right.width)


def _own_answer(answer: ShotAnswer | None, width: float) -> list[Flowable]:
    """A line to write on for each letter."""
    labels = sorted(lane.label for lane in answer.lanes) if answer is not None else []
    if not labels:
        return []
    rows = [[paragraph(bold(label), "strong"), ""] for label in labels]
    style = table_style(("VALIGN", (0, 0), (-1, -1), "BOTTOM"), head=False)
    heights = [OWN_ROW_HEIGHT] * len(rows)
    return [
        paragraph("Your answer", "heading"),
        Table(rows, [width * 0.08, width * 0.92], heights, style=style, hAlign="LEFT"),
    ]


def _task(sheet: Sheet, shot: Shot) -> str:
    """What is to be potted, which is no secret."""
    if not shot.object_ball or not shot.pocket:
        return ""
    known = [pocket.id for pocket in sheet.table.pockets]
    if shot.pocket not in known:
        return ""
    ball = sheet.names.get(shot.object_ball, shot.object_ball)
    return f"Pot: {ball} to the {sheet.table.pocket(shot.pocket).title}."


def _plain_question(answer: ShotAnswer | None) -> str:
    labels = sorted(lane.label for lane in answer.lanes) if answer is not None else []
    if len(labels) > 1:
        return f"How must the cue ball be struck for it to run to each of {', '.join(labels)}?"
    if labels:
        return f"How must the cue ball be struck for it to run to {labels[0]}?"
    return "Where does the cue ball go?"


def question_figure(sheet: Sheet, shot: Shot, box: Box) -> Figure:
    """The set-up with lettered ends; the drawing carries no verdict and no lane."""
    bare = replace(sheet.answer, verdicts=(), claims=(), notes=())

    def make(look: Look) -> Drawing:
        return build_drawing(
            sheet.routine, bare, QUESTION_LAYERS, sheet.unit, look=look, shot=shot.id
        )

    return Figure(make, box.width, box.height)


def practice_record(width: float) -> list[Flowable]:
    """An empty table to write practice into."""
    head = [paragraph(f"<b>{name}</b>", "small") for name in ("Date", "Attempts", "Made", "Notes")]
    columns = [width * 0.22, width * 0.19, width * 0.15, width * 0.44]
    style = table_style(("INNERGRID", (0, 0), (-1, -1), 0.4, RULE))
    heights = [None] + [ROW_HEIGHT] * RECORD_ROWS
    rows = [head] + [["", "", "", ""] for _ in range(RECORD_ROWS)]
    return [
        paragraph("Practice record", "heading"),
        Table(rows, columns, heights, style=style, hAlign="LEFT", repeatRows=1),
    ]
