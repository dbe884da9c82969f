"""The booklet of a lesson: the plan on one page, then every routine's sheet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from reportlab.lib.units import mm
from reportlab.platypus import Flowable

from designer.drawing.small import set_up_drawing
from designer.handouts.build import build_sheets
from designer.handouts.pages import Handout, Head, PageHead
from designer.handouts.papers import PaperName
from designer.handouts.request import Progress, checked
from designer.handouts.sheet import Audience, Sheet, SheetKind
from designer.handouts.stacking import stacked_height
from designer.handouts.styles import Grid, bold, fitted, paragraph, table_style, words
from designer.painters.pdf import paint_on_canvas
from designer.texts import mark, tr, tr_count
from designer.words.library import balls_told, change_told, minutes_told
from engine.errors import OutOfRangeError
from engine.plans import LessonPlan, Part
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from engine.units import LengthUnit

#: Widths of the plan's columns as shares: number, from, minutes, routine, aim, table.
_SHARES = (0.05, 0.08, 0.07, 0.3, 0.27, 0.23)
_HEADS = (
    mark("No."), mark("From"), mark("Min"), mark("Routine"), mark("Aim"), mark("On the table"),
)  # fmt: skip
_SMALL = 7.5


def lesson_plan_pdf(
    lesson: LessonPlan,
    answers: Sequence[RoutineAnswer],
    paper: PaperName = "a4",
    audience: Audience = "coach",
    unit: LengthUnit = "mm",
    made_at: datetime | None = None,
    *,
    sheet: SheetKind = "full",
    landscape: bool = False,
    progress: Progress | None = None,
) -> bytes:
    """One PDF: the plan, and the sheet of each of its routines in order.

    `answers` holds one for each part. `progress` is called with routines done and in all; with
    `made_at` the same input gives the same bytes. `OutOfRangeError` for a plan without routines,
    `HandoutStoppedError` when `progress` returns False.
    """
    if not lesson.parts:
        raise OutOfRangeError("number of routines", 0, "at least 1", "Add one to the plan.")
    if len(answers) != len(lesson.parts):
        raise OutOfRangeError("number of answers", len(answers), f"{len(lesson.parts)}")
    title = lesson.plan.title or tr("Lesson plan")
    asked = checked(
        paper, audience, unit, sheet, "none", landscape=landscape, tolerances=False, booklet=True,
        booklet_title=title, made_at=made_at, progress=progress,
    )  # fmt: skip
    sheets = [
        Sheet(part.routine, answer, unit, audience, "none", (), f"routine-{index}")
        for index, (part, answer) in enumerate(zip(lesson.parts, answers, strict=True))
    ]
    return build_sheets(
        sheets, asked, lambda _sheets, document: plan_story(lesson, document, title)
    )


def plan_story(lesson: LessonPlan, document: Handout, title: str) -> list[Flowable]:
    """The plan, made to fit one page: with many routines the texts of a row keep to one line."""
    plan, body = lesson.plan, document.paper.body
    line = "  ·  ".join(
        part
        for part in (
            plan.day, plan.coach, minutes_told(plan.minutes),
            tr_count("{count} routine", "{count} routines", len(lesson.parts)),
        )
        if part
    )  # fmt: skip
    story: list[Flowable] = [PageHead(document, Head(title, line, tr("Plan")))]
    if plan.aims:
        story.append(paragraph(words(plan.aims), "lead"))
    balls = words(balls_told(lesson.balls))
    story.append(paragraph(tr("<b>Balls needed:</b> {balls}", balls=balls), "body"))
    if len(lesson.tables) > 1:
        tables = ", ".join(lesson.tables)
        told = tr("These routines are for more than one kind of table: {tables}.", tables=tables)
        story.append(paragraph(words(told), "strong"))
    for whole in (True, False):
        grid = _grid(lesson.parts, body.width, whole)
        end = paragraph(words(_handled_words(lesson)), "small")
        made = [*story, grid, end]
        if stacked_height(made[1:], body.width) <= body.height - 2.0 * mm:
            break
    room = body.height - 2.0 * mm - stacked_height(made[1:], body.width)
    return [*made, *_set_ups(lesson.parts, body.width, room)]


def _set_ups(parts: Sequence[Part], width: float, room: float) -> list[Flowable]:
    """The set-ups side by side with their numbers, as large as the page has room for; or none."""
    for across in (3, 4, 5, 6):
        rows = -(-len(parts) // across)
        wide = width / across - 4.0
        high = 0.62 * wide
        if rows * (high + 14.0) + 8.0 <= room:
            break
    else:
        return []
    cells: list[list] = []
    for start in range(0, len(parts), across):
        row = [
            [paragraph(f"<b>{number}</b>", "small"), SetUp(part.routine, wide, high)]
            for number, part in enumerate(parts[start : start + across], start=start + 1)
        ]
        cells.append(row + [""] * (across - len(row)))
    grid = Grid(
        cells, [width / across] * across, hAlign="LEFT", spaceBefore=6.0,
        style=table_style(ruled=False, head=False),
    )  # fmt: skip
    return [grid]


class SetUp(Flowable):
    """A routine's table lying on its side, without a letter; its words name the routine."""

    def __init__(self, routine: Routine, width: float, height: float) -> None:
        super().__init__()
        drawing = set_up_drawing(routine)
        self.width = min(width, height * drawing.width_mm / drawing.height_mm)
        self.height = self.width * drawing.height_mm / drawing.width_mm
        self.drawing = drawing

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height

    def draw(self) -> None:
        """Paint it, with its words for who cannot see it."""
        with self.canv.tagged("Figure", self.drawing.description):
            paint_on_canvas(self.drawing, self.canv, 0.0, 0.0, self.width)


def _grid(parts: Sequence[Part], width: float, whole: bool) -> Grid:
    columns = [share * width for share in _SHARES]
    rows: list[list] = [[paragraph(bold(tr(head)), "small") for head in _HEADS]]
    for number, part in enumerate(parts, start=1):
        title = part.routine.title or tr("Routine without a title")
        texts = [
            str(number), _clock(part.starts_min), f"{part.item.minutes:g}", title, part.item.aim,
            change_told(part.change, first=number == 1),
        ]  # fmt: skip
        if not whole:
            texts = [
                fitted(text, _SMALL, False, wide - 4.0)
                for text, wide in zip(texts, columns, strict=True)
            ]
        rows.append([paragraph(words(text), "small") for text in texts])
    return Grid(rows, columns, style=table_style(), hAlign="LEFT", repeatRows=1)


def _handled_words(lesson: LessonPlan) -> str:
    handled = tr_count(
        "From the first set-up on, {count} ball is moved, put on or taken off between routines.",
        "From the first set-up on, {count} balls are moved, put on or taken off between routines.",
        lesson.handled,
    )
    again = tr("Balls that a shot has moved are set again for every attempt; they are not counted.")
    return f"{handled} {again}"


def _clock(minutes: float) -> str:
    """Minutes since the start as hours and minutes."""
    whole = round(minutes)
    return f"{whole // 60}:{whole % 60:02}"
