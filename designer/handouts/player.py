"""The player's sheet: how to set the table, the question with its strokes, a record of practice.

It is made from the set-up and the question alone. Lanes enter it only as letters on the rim and
as strokes in an order of their own; which stroke is which letter, verdicts, claims, titles of
shots and notes of the coach do not. The answer stands on it only when the coach asks for it.
"""

from __future__ import annotations

from dataclasses import replace

from reportlab.lib.units import mm
from reportlab.platypus import Flowable, PageBreak

from designer.drawing import QUESTION_LAYERS, Drawing, Look, build_drawing
from designer.handouts.answer_story import answer_story
from designer.handouts.figure import Figure, table_figure
from designer.handouts.heads import sheet_head
from designer.handouts.insets import inset_story
from designer.handouts.marks import marks_story
from designer.handouts.pages import Handout, part_heading
from designer.handouts.papers import GUTTER, Box, Paper
from designer.handouts.record import practice_record
from designer.handouts.setting import placement_story, setting_figure, setting_page, setting_words
from designer.handouts.sheet import Sheet
from designer.handouts.shot_pages import ShotPart, paged, shot_pages
from designer.handouts.stacking import Beside, Stack, stacked_height
from designer.handouts.strokes import stroke_cards, stroke_numbers
from designer.handouts.styles import bold, paragraph, words
from designer.handouts.unplayable import ASK_YOUR_COACH, cannot_be_played
from designer.texts import mark, tr
from engine.results import ShotAnswer
from engine.routine.values import Shot

Numbered = tuple[int, Shot, ShotAnswer | None]

#: On the one page of one shot: shares of the width for the measured drawing and for the table to
#: draw a guess on, upright and lying; the heights the latter may have.
_MEASURED, _GUESS = {False: 0.49, True: 0.55}, {False: 0.5, True: 0.4}
_LOWEST, _HIGHEST = 42.0 * mm, 62.0 * mm
_SPARE = 3.0
DRAW_IT = mark("Draw your guess for each stroke, then play it.")
TARGET = mark("<b>Target:</b> each stroke 3 times in 5, potted and to its letter.")


def player_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """Everything the player gets for one routine."""
    paper = document.paper
    told = answer_story(sheet) if sheet.answers == "upside-down" else []
    foot = _foot(told, paper)
    head = sheet_head(sheet, document, tr("Player’s sheet"))
    numbered = sheet.shots()
    if len(numbered) == 1:
        taken = stacked_height([*head, *foot] if len(foot) == 1 else head, paper.body.width)
        page = _one_page(sheet, paper, numbered[0], taken)
        if page:
            return [*head, *page, *foot]
    parts = [_part(sheet, paper.landscape, each) for each in numbered]
    story = [*head, *setting_page(sheet, document, head, []), *paged(shot_pages(parts, paper))]
    if not parts:
        story += [PageBreak(), *practice_record(paper.body.width, paper.body.height)]
    return [*story, *foot]


def _foot(told: list[Flowable], paper: Paper) -> list[Flowable]:
    """The answers turned by half; told upright on a page of their own when they take too much."""
    if not told:
        return []
    turned = Stack(told, paper.body.width, turned=True)
    if turned.height > 0.4 * paper.body.height:
        return [PageBreak(), *told]
    return [turned]


def _one_page(sheet: Sheet, paper: Paper, numbered: Numbered, taken: float) -> list[Flowable]:
    """Set-up, question, strokes and record of one shot on one page; nothing when it is too much."""
    _, shot, answer = numbered
    width, landscape = paper.body.width, paper.landscape
    room = paper.body.height - taken - _SPARE
    legend = stacked_height(setting_words(sheet, 10.0), width) + 2.0
    left = setting_figure(
        sheet, width * _MEASURED[landscape], room - legend - _LOWEST - 14.0, landscape
    )
    beside = width - left.width - GUTTER
    right = Stack([
        *placement_story(sheet, beside), *marks_story(sheet, beside),
        *inset_story(sheet, left.drawing.crowded, beside, landscape),
        *_asked(sheet, shot, answer), *stroke_cards(sheet, shot, answer, beside),
        paragraph(tr(TARGET)),
    ], beside)  # fmt: skip
    below = room - legend - max(left.height, right.height) - GUTTER
    if below < _LOWEST + 14.0:
        return []
    caption = paragraph(bold(tr(DRAW_IT)), "small")
    box = Box(0, 0, width * _GUESS[landscape], min(below - 14.0, _HIGHEST))
    guess = question_figure(sheet, shot, box, turned=True)
    drawn = Stack([caption, guess], box.width)
    wide = width - box.width - GUTTER
    record = Stack(practice_record(wide, below, stroke_numbers(sheet, shot, answer)), wide)
    if record.height > below:
        return []
    return [
        Beside([left, right]), *setting_words(sheet, left.scale), Beside([drawn, record]),
    ]  # fmt: skip


def _part(sheet: Sheet, landscape: bool, numbered: Numbered) -> ShotPart:
    number, shot, answer = numbered

    def draw(width: float, height: float) -> Figure:
        return question_figure(sheet, shot, Box(0, 0, width, height), landscape)

    def tell(width: float, height: float) -> list[Flowable]:
        told = [
            *_asked(sheet, shot, answer), *stroke_cards(sheet, shot, answer, width),
            paragraph(words(tr(DRAW_IT)), "small"), paragraph(tr(TARGET)),
        ]  # fmt: skip
        room = height - stacked_height(told, width) - 10.0
        return [*told, *practice_record(width, room, stroke_numbers(sheet, shot, answer))]

    count = len(sheet.routine.shots)
    told = tr("Shot {number}", number=number)
    if count > 1:
        told = tr("Shot {number} of {count}", number=number, count=count)
    heading = part_heading(told)
    return ShotPart(heading, draw, tell, [])


def _asked(sheet: Sheet, shot: Shot, answer: ShotAnswer | None) -> list[Flowable]:
    """The question and what is to be potted."""
    asked: list[Flowable] = [
        paragraph(words(tr("Question")), "heading"),
        paragraph(words(question_of(shot, answer))),
    ]
    task = task_words(sheet, shot)
    if task:
        asked.append(paragraph(words(task)))
    if cannot_be_played(answer):
        asked.append(paragraph(bold(tr(ASK_YOUR_COACH))))
    if answer is not None and answer.lanes:
        told = tr(
            "The letters on the rim show where the cue ball first meets a cushion or, if it stops "
            "before that, where it is heading."
        )
        asked.append(paragraph(words(told), "small"))
    return asked


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


def question_of(shot: Shot, answer: ShotAnswer | None) -> str:
    """What a shot asks, by its coach or plainly."""
    if shot.question:
        return shot.question
    labels = sorted(lane.label for lane in answer.lanes) if answer is not None else []
    if len(labels) > 1:
        lanes = ", ".join(labels)
        return tr("Which stroke sends the cue ball to each of {lanes}?", lanes=lanes)
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

    return table_figure(sheet.routine, make, box.width, box.height, Look(turned=turned))
