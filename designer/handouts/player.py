"""The player's sheet: how to set the table, the question, and a record of practice.

It is made from the set-up and the question alone. Lanes enter it only as letters on the rim;
no strike, verdict, claim, title of a shot or note of the coach does. Only when the coach asks
for it, the answer stands upside-down at the foot of the page or on the page after it.
"""

from __future__ import annotations

from dataclasses import replace

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, FrameBreak, NextPageTemplate, PageBreak

from designer.drawing import QUESTION_LAYERS, Drawing, Look, build_drawing
from designer.handouts.answer_story import UpsideDown, answer_story
from designer.handouts.figure import Figure
from designer.handouts.pages import Handout, Head, PageHead
from designer.handouts.papers import GUTTER, Box
from designer.handouts.record import ROW_HEIGHT, practice_record
from designer.handouts.setting import setting_story
from designer.handouts.sheet import Sheet
from designer.handouts.stacking import stacked_height
from designer.handouts.styles import Grid, bold, paragraph, table_style, words
from designer.handouts.unplayable import ASK_YOUR_COACH, cannot_be_played
from designer.texts import tr
from engine.results import ShotAnswer
from engine.routine.values import Shot

OWN_ROW_HEIGHT = 6.5 * mm
#: Rows of the record on a question's page: as many as fit, between these.
_FEWEST, _MOST = 4, 20
#: The share of a page that an answer may take upside-down; a longer one goes to the next page.
_MOST_FOOT = 0.4


def player_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """Everything the player gets for one routine; starts on a "setting" page."""
    paper = document.paper
    line = f"{tr('Player’s sheet')}  ·  {sheet.maker_line}"
    head = Head(sheet.title, line, sheet.title, key=sheet.key)
    story: list[Flowable] = [PageHead(document, head), *setting_story(sheet, document, [])]
    for number, shot, answer in sheet.shots():
        story += _shot_pages(sheet, document, (number, shot, answer))
    if not sheet.routine.shots:
        story += [NextPageTemplate("more"), PageBreak(), PageHead(document, replace(head, level=1))]
        story += practice_record(paper.body.width, _MOST)
    return story


def _shot_pages(
    sheet: Sheet, document: Handout, numbered: tuple[int, Shot, ShotAnswer | None]
) -> list[Flowable]:
    number, shot, answer = numbered
    told = answer_story(sheet, shot, answer) if sheet.answers != "none" else []
    body = document.paper.body
    foot = UpsideDown(told, body.width) if told and sheet.answers == "upside-down" else None
    _, right = document.paper.columns(document.paper.shot_share)
    asked = _asked(sheet, shot, answer)
    needed = stacked_height([*asked, *practice_record(right.width, _FEWEST)], right.width)
    if foot is not None and (
        foot.height > body.height * _MOST_FOOT or needed + foot.height + GUTTER > right.height
    ):
        foot = None
    template, boxes = _frames(document, foot)
    story: list[Flowable] = [NextPageTemplate(template), PageBreak()]
    story += _question_story(sheet, document, numbered, boxes)
    story += _asked_and_record(asked, boxes[1])
    if foot is not None:
        return [*story, FrameBreak(), foot]
    if told:
        count = len(sheet.routine.shots)
        line = tr("Answer to shot {number} of {count}", number=number, count=count)
        line = f"{tr('Player’s sheet')}  ·  {line}"
        story += [NextPageTemplate("more"), PageBreak()]
        story += [
            PageHead(document, Head(sheet.title, line, tr("Answer {number}", number=number), 1)),
            *told,
        ]
    return story


def _frames(document: Handout, foot: UpsideDown | None) -> tuple[str, tuple[Box, Box]]:
    """The template of a question's page and its two columns, shortened by an answer below."""
    paper = document.paper
    left, right = paper.columns(paper.shot_share)
    if foot is None:
        return "shot", (left, right)
    high = foot.height + 1.0
    up = high + GUTTER
    columns = [Box(c.x, c.y + up, c.width, c.height - up) for c in (left, right)]
    below = Box(paper.body.x, paper.body.y, paper.body.width, high)
    name = document.add_template(f"shot-over-{high:.1f}", *columns, below)
    return name, (columns[0], columns[1])


def _question_story(
    sheet: Sheet,
    document: Handout,
    numbered: tuple[int, Shot, ShotAnswer | None],
    boxes: tuple[Box, Box],
) -> list[Flowable]:
    number, shot, answer = numbered
    count = len(sheet.routine.shots)
    line = tr("Shot {number} of {count}", number=number, count=count)
    line = f"{tr('Player’s sheet')}  ·  {line}"
    left, _ = boxes
    own = _own_answer(answer, left.width)
    box = Box(left.x, left.y, left.width, left.height - stacked_height(own, left.width))
    story: list[Flowable] = [
        PageHead(document, Head(sheet.title, line, tr("Shot {number}", number=number), 1)),
        question_figure(sheet, shot, box, document.paper.landscape),
        *own,
        FrameBreak(),
    ]
    return story


def _asked(sheet: Sheet, shot: Shot, answer: ShotAnswer | None) -> list[Flowable]:
    """The question and what is to be potted."""
    asked: list[Flowable] = [
        paragraph(words(tr("Question")), "heading"),
        paragraph(words(shot.question or _plain_question(answer)), "lead"),
    ]
    task = task_words(sheet, shot)
    if task:
        asked.append(paragraph(words(task)))
    if cannot_be_played(answer):
        asked.append(paragraph(bold(tr(ASK_YOUR_COACH))))
    if answer is not None and answer.lanes:
        asked.append(
            paragraph(
                words(
                    tr(
                        "The letters on the rim show where the cue ball first meets a cushion or, "
                        "if it stops before that, where it is heading: one letter for each way of "
                        "striking it."
                    )
                ),
                "small",
            )
        )
    return asked


def _asked_and_record(asked: list[Flowable], box: Box) -> list[Flowable]:
    """The question with a practice record as long as the column has room for."""
    frame = stacked_height(practice_record(box.width, 0), box.width)
    room = box.height - stacked_height(asked, box.width) - frame - 4.0
    rows = min(max(int(room / ROW_HEIGHT), _FEWEST), _MOST)
    return [*asked, *practice_record(box.width, rows)]


def _own_answer(answer: ShotAnswer | None, width: float) -> list[Flowable]:
    """A line to write on for each letter."""
    labels = sorted(lane.label for lane in answer.lanes) if answer is not None else []
    if not labels:
        return []
    rows = [[paragraph(bold(label), "strong"), ""] for label in labels]
    style = table_style(("VALIGN", (0, 0), (-1, -1), "BOTTOM"), head=False)
    heights = [OWN_ROW_HEIGHT] * len(rows)
    return [
        paragraph(words(tr("Your answer")), "heading"),
        Grid(rows, [width * 0.08, width * 0.92], heights, style=style, hAlign="LEFT"),
    ]


def task_words(sheet: Sheet, shot: Shot) -> str:
    """What is to be potted, which is no secret."""
    if not shot.object_ball or not shot.pocket:
        return ""
    known = [pocket.id for pocket in sheet.table.pockets]
    if shot.pocket not in known:
        return ""
    wording = sheet.wording
    ball, pocket = wording.ball(shot.object_ball), wording.pocket(shot.pocket)
    return tr("Pot: {ball} to the {pocket}.", ball=ball, pocket=pocket)


def _plain_question(answer: ShotAnswer | None) -> str:
    labels = sorted(lane.label for lane in answer.lanes) if answer is not None else []
    if len(labels) > 1:
        lanes = ", ".join(labels)
        return tr("How must the cue ball be struck for it to run to each of {lanes}?", lanes=lanes)
    if labels:
        return tr("How must the cue ball be struck for it to run to {lane}?", lane=labels[0])
    return tr("Where does the cue ball go?")


def question_figure(sheet: Sheet, shot: Shot, box: Box, turned: bool = False) -> Figure:
    """The set-up with lettered ends; the drawing carries no verdict and no lane."""
    bare = replace(sheet.answer, verdicts=(), claims=(), notes=())

    def make(look: Look) -> Drawing:
        return build_drawing(
            sheet.routine, bare, QUESTION_LAYERS, sheet.unit, look=look, shot=shot.id
        )

    return Figure(make, box.width, box.height, Look(turned=turned))
