"""The coach's sheet: how to set the table, then each shot with its answers."""

from __future__ import annotations

from reportlab.platypus import Flowable

from designer.drawing import Drawing, Layers, Look, build_drawing
from designer.handouts.figure import Figure, table_figure
from designer.handouts.heads import sheet_head
from designer.handouts.pages import Handout, part_heading
from designer.handouts.setting import TRY_IT, setting_page
from designer.handouts.sheet import Sheet
from designer.handouts.shot_pages import ShotPart, paged, shot_pages
from designer.handouts.shot_story import (
    asked_story,
    gap_story,
    physics_story,
    played_story,
    refusal_story,
)
from designer.handouts.styles import paragraph, words
from designer.texts import mark, tr
from designer.words.facts import fact
from designer.words.figures import sentence
from engine.results import Fact, ShotAnswer
from engine.routine.values import Shot

#: What the lines on a shot's drawing are.
LINES = mark(
    "On the drawings of shots the solid line is the potting line, dash and dot the 90-degree line: "
    "a cue ball that arrives without spin leaves close to it, top bends forward of it, screw back "
    "from it."
)


def coach_story(sheet: Sheet, document: Handout) -> list[Flowable]:
    """Everything the coach gets for one routine."""
    paper, routine = document.paper, sheet.routine
    head = sheet_head(sheet, document, tr("Coach’s sheet"))
    more: list[Flowable] = []
    if routine.notes:
        more.append(paragraph(tr("<b>Notes:</b> {note}", note=words(routine.notes))))
    if sheet.answer.problems:
        more.append(paragraph(words(tr("To put right")), "heading"))
        more += [
            paragraph(words(sentence(fact(sheet.wording, problem.fact))), "small")
            for problem in sheet.answer.problems
        ]
    parts = [_part(sheet, paper.landscape, numbered) for numbered in sheet.shots()]
    return [
        *head,
        *setting_page(sheet, document, head, more, f"{tr(LINES)} {tr(TRY_IT)}"),
        *paged(shot_pages(parts, paper)),
    ]


def _part(sheet: Sheet, landscape: bool, numbered: tuple[int, Shot, ShotAnswer | None]) -> ShotPart:
    number, shot, answer = numbered
    if answer is None:
        answer = ShotAnswer(shot.id, None, (), (), None, (Fact("no-answer"),))
    known = answer

    def draw(width: float, height: float) -> Figure:
        def make(look: Look) -> Drawing:
            return build_drawing(
                sheet.routine, sheet.answer, Layers(), sheet.unit, look=look, shot=shot.id
            )

        return table_figure(sheet.routine, make, width, height, Look(turned=landscape))

    def tell(width: float, height: float) -> list[Flowable]:
        return [
            *refusal_story(sheet, known), *asked_story(shot),
            *played_story(sheet, shot, known, width, height), *gap_story(sheet, known),
        ]  # fmt: skip

    heading = part_heading(shot_heading(number, shot, len(sheet.routine.shots)))
    return ShotPart(heading, draw, tell, physics_story(sheet, known))


def shot_heading(number: int, shot: Shot, count: int) -> str:
    """A shot's number, of how many, and its title."""
    name = tr("Shot {number}", number=number)
    if count > 1:
        name = tr("Shot {number} of {count}", number=number, count=count)
    return f"{name}: {shot.title}" if shot.title else name
