"""The report of one player's practice: success by routine, over time, misses, every line."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import datetime

from reportlab.platypus import Flowable, Spacer

from designer.drawing.charts import misses_chart, success_chart
from designer.drawing.model import Drawing
from designer.fonts.metrics import printable
from designer.handouts.pages import Handout, Head, Numbered, PageHead
from designer.handouts.papers import PaperName, paper_of
from designer.handouts.request import HandoutStoppedError, Progress
from designer.handouts.styles import Grid, bold, paragraph, table_style, words
from designer.painters.pdf import POINTS_PER_MM, paint_on_canvas
from designer.painters.pdf_stamp import set_stamp
from designer.texts import language, mark, tr, tr_count
from designer.words.figures import chance
from designer.words.library import RECORDS_CAUTION, line_name, miss_name
from engine.errors import OutOfRangeError
from engine.records import MISSES, NOT_SAID, Line, Practice, Share, lines_of, share_of
from engine.version import VERSION

BANDS = mark(
    "Bands and ranges are 95 % intervals (Wilson’s): with few attempts they are wide, and a "
    "difference within them may be chance."
)
#: Lines listed at most; the report says when there are more.
MOST_LISTED = 200


def report_pdf(
    player: str,
    practice: Sequence[Practice],
    paper: PaperName = "a4",
    made_at: datetime | None = None,
    *,
    progress: Progress | None = None,
) -> bytes:
    """The report of one player as a PDF file's bytes.

    `progress` is called with steps of routines done and in all. `OutOfRangeError` when there is
    no practice, or practice of someone else among it; `HandoutStoppedError` when `progress`
    returns False.
    """
    if not practice:
        raise OutOfRangeError("practice of the report", "none", "at least one line")
    others = sorted({one.player for one in practice} - {player})
    if others:
        raise OutOfRangeError("practice of the report", f"of {others[0]} too", f"of {player} only")
    lines = lines_of(practice)
    store = io.BytesIO()
    foot = f"Baizewright {VERSION}  ·  {tr('practice record, kept on this computer only')}"
    document = Handout(
        store, paper_of(paper), foot, title=printable(_title(player)), author="",
        subject=tr("Practice report"), creator=f"Baizewright {VERSION}", lang=language() or "en-GB",
    )  # fmt: skip
    document.invariant = int(made_at is not None)

    def canvas(*args: object, **options: object) -> Numbered:
        page = Numbered(*args, **options)
        set_stamp(page, made_at)
        return page

    document.begin(canvas)
    charts: list[Flowable] = [paragraph(words(tr("Success over time")), "heading")]
    for done, line in enumerate(lines):
        if progress is not None and progress(done, len(lines)) is False:
            raise HandoutStoppedError(done, len(lines))
        charts.append(Chart(success_chart(line_name(line), line.days), document.paper.body.width))
        charts.append(Spacer(1, 4))
    summary = _summary(player, practice, lines, document)
    document.add("page", [*summary, *charts, *_misses(lines, document), *_listed(practice)])
    document.finish()
    return store.getvalue()


def _title(player: str) -> str:
    return tr("Practice of {player}", player=player)


class Chart(Flowable):
    """A chart as wide as its column, told by its words."""

    def __init__(self, drawing: Drawing, width: float) -> None:
        super().__init__()
        self.drawing = drawing
        self.width = min(width, drawing.width_mm * POINTS_PER_MM)
        self.height = self.width * drawing.height_mm / drawing.width_mm

    def wrap(self, *_: float) -> tuple[float, float]:
        """Its size, whatever room is offered."""
        return self.width, self.height

    def draw(self) -> None:
        """Paint it, with its words for who cannot see it."""
        with self.canv.tagged("Figure", self.drawing.description):
            paint_on_canvas(self.drawing, self.canv, 0.0, 0.0, self.width)


def _summary(
    player: str, practice: Sequence[Practice], lines: Sequence[Line], document: Handout
) -> list[Flowable]:
    days = sorted({one.day for one in practice})
    span = str(days[0])
    if len(days) > 1:
        span = tr("{low} to {high}", low=days[0], high=days[-1])
    total = share_of(sum(p.made for p in practice), sum(p.attempts for p in practice))
    count = tr_count("{count} day", "{count} days", len(days))
    line = f"{tr('Practice report')}  ·  {span}  ·  {count}"
    head = Head(_title(player), line, _title(player))
    width = document.paper.body.width
    rows: list[list] = [
        [paragraph(bold(name), "small")
         for name in (tr("Routine"), tr("Days"), tr("Attempts"), tr("Made"), tr("Success"),
                      tr("95 % range"))]
    ]  # fmt: skip
    for one in lines:
        rows.append(_row(line_name(one), len(one.days), one.total))
    if len(lines) > 1:
        rows.append(_row(tr("All together"), len(days), total))
    shares = (0.34, 0.08, 0.1, 0.09, 0.13, 0.26)
    return [
        PageHead(document, head),
        paragraph(words(tr(RECORDS_CAUTION)), "small"),
        paragraph(words(tr("In short")), "heading"),
        Grid(rows, [width * share for share in shares], style=table_style(), hAlign="LEFT",
             repeatRows=1),
        paragraph(words(tr(BANDS)), "small"),
    ]  # fmt: skip


def _row(name: str, days: int, total: Share) -> list:
    cells = (
        name, str(days), str(total.attempts), str(total.made), chance(total.share),
        tr("{low} to {high}", low=chance(total.low), high=chance(total.high)),
    )  # fmt: skip
    return [paragraph(words(cell), "small") for cell in cells]


def _misses(lines: Sequence[Line], document: Handout) -> list[Flowable]:
    if not any(count for line in lines for count in line.misses):
        return []
    kinds = [miss_name(kind) for kind in (*MISSES, NOT_SAID)]
    title = tr("How it was missed (darker: more often)")
    chart = misses_chart(lines, kinds, title)
    return [
        paragraph(words(tr("Misses")), "heading"),
        Chart(chart, document.paper.body.width),
        Spacer(1, 4),
    ]


def _listed(practice: Sequence[Practice]) -> list[Flowable]:
    newest = sorted(practice, key=lambda one: one.day, reverse=True)[:MOST_LISTED]
    rows: list[list] = [
        [paragraph(bold(name), "small")
         for name in (tr("Date"), tr("Routine"), tr("Step"), tr("Attempts"), tr("Made"),
                      tr("Misses and notes"))]
    ]  # fmt: skip
    for one in newest:
        misses = ", ".join(f"{miss_name(kind)} {count}" for kind, count in one.misses.items())
        told = "; ".join(part for part in (misses, one.note) if part)
        cells = (one.day.isoformat(), one.routine, str(one.step), str(one.attempts),
                 str(one.made), told)  # fmt: skip
        rows.append([paragraph(words(cell), "small") for cell in cells])
    width = 188.0 * POINTS_PER_MM
    shares = (0.11, 0.35, 0.06, 0.1, 0.08, 0.3)
    story: list[Flowable] = [
        paragraph(words(tr("Every line, the newest first")), "heading"),
        Grid(rows, [width * share for share in shares], style=table_style(), hAlign="LEFT",
             repeatRows=1),
    ]  # fmt: skip
    if len(practice) > len(newest):
        told = tr("The newest {shown} of {count} lines are listed.", shown=len(newest),
                  count=len(practice))  # fmt: skip
        story.append(paragraph(words(told), "small"))
    return story
