"""The printed form on which a coach collects what calibration needs, kind by kind."""

from __future__ import annotations

import io
from datetime import datetime

from reportlab.lib.colors import HexColor
from reportlab.lib.units import mm
from reportlab.platypus import Flowable, KeepTogether, Spacer
from reportlab.platypus import Table as Grid

from designer.drawing.look import SOFT_INK
from designer.fonts.metrics import printable
from designer.handouts.pages import Handout, Head, Numbered, PageHead
from designer.handouts.papers import paper_of
from designer.handouts.styles import RULE, bold, paragraph, table_style, words
from designer.painters.pdf_stamp import set_stamp
from designer.texts import language, mark, tr
from designer.words.calibration import OBSERVATIONS
from engine.calibration.form import FormPart, form_parts
from engine.calibration.kinds import COLUMNS
from engine.conditions import Conditions
from engine.tables import Table
from engine.version import VERSION

TITLE = mark("Observations for calibration")
ROW_HEIGHT = 7.5 * mm
LEAD = mark(
    "Measure distances from the cushion face to the ball’s centre, seen from baulk: left and "
    "right across, bottom at baulk. Paces are your own, 1 to 10. Where a cell is filled in, play "
    "it like that or write over it. Play each row once; more rows make the result surer."
)


def form_pdf(
    table: Table, conditions: Conditions, paper: str = "a4", made_at: datetime | None = None
) -> bytes:
    """The form for one table as a PDF file's bytes; `UnknownNameError` for an unknown paper.

    With `made_at` the same input gives the same bytes.
    """
    sheet = paper_of(paper)
    store = io.BytesIO()
    name = tr(table.title)
    name = f"{name}, {table.measured}" if table.measured else name
    title, foot = tr(TITLE), f"Baizewright, {tr('engine {version}', version=VERSION)}"
    document = Handout(
        store, sheet, foot, title=printable(f"{title}: {name}"),
        creator=f"Baizewright {VERSION}", lang=language() or "en-GB",
    )  # fmt: skip
    document.invariant = int(made_at is not None)

    def canvas(*args: object, **options: object) -> Numbered:
        page = Numbered(*args, **options)
        set_stamp(page, made_at)
        return page

    width = sheet.body.width
    story: list[Flowable] = [
        PageHead(document, Head(title, name, title)),
        paragraph(words(tr(LEAD))),
        _who(width),
    ]
    for part in form_parts(table, conditions):
        story += [Spacer(0, 3 * mm), KeepTogether(_part(part, width, conditions.cue_radius_mm))]
    story += [Spacer(0, 3 * mm), *_keying_in()]
    document.begin(canvas)
    document.add("page", story)
    document.finish()
    return store.getvalue()


def _who(width: float) -> Grid:
    cells = (tr("Club and table"), "", tr("Coach"), "", tr("Date"), "")
    shares = (0.13, 0.33, 0.08, 0.24, 0.06, 0.16)
    return Grid(
        [[paragraph(words(cell), "small") for cell in cells]],
        [share * width for share in shares],
        [ROW_HEIGHT],
        style=table_style(head=False),
        hAlign="LEFT",
    )


def _part(part: FormPart, width: float, radius_mm: float) -> list[Flowable]:
    heads = [_column_head(column) for column in part.columns]
    rows = [
        [
            paragraph(words(_told(column, cell, radius_mm)))
            for column, cell in zip(part.columns, row, strict=True)
        ]
        for row in part.rows
    ]
    wide = width / max(len(part.columns), 6)
    grid = Grid(
        [heads, *rows],
        [wide] * len(part.columns),
        [None, *[ROW_HEIGHT] * len(rows)],
        style=table_style(
            ("INNERGRID", (0, 0), (-1, -1), 0.4, RULE),
            ("BOX", (0, 0), (-1, -1), 0.6, HexColor(SOFT_INK)),
            ("VALIGN", (0, 1), (-1, -1), "MIDDLE"),
        ),
        hAlign="LEFT",
    )
    title, how = OBSERVATIONS[part.kind.id]
    return [
        paragraph(
            words(tr("{observation} (kind: {kind})", observation=tr(title), kind=part.kind.id)),
            "heading",
        ),
        paragraph(words(tr(how))),
        grid,
        Spacer(0, 1 * mm),
    ]


def _told(column: str, cell: str, radius_mm: float) -> str:
    """A cell as it is printed: a tip height with its millimetres."""
    if column != "tip" or not cell:
        return cell
    off = float(cell) * radius_mm
    if not off:
        return cell
    told = mark("{tip}: {off:.1f} mm below") if off < 0 else mark("{tip}: {off:.1f} mm above")
    return tr(told, tip=cell, off=abs(off))


def _column_head(column: str) -> Flowable:
    return paragraph(f"{bold(column)}<br/>{words(tr(COLUMNS[column]))}", "small")


def _keying_in() -> list[Flowable]:
    return [
        paragraph(words(tr("Keying it in")), "heading"),
        paragraph(
            words(
                tr(
                    "Type the rows into a CSV file: a head row with the column names in bold, "
                    "first of them “kind” (roll, rebound, up-and-down, pace-time, stun, lane, "
                    "bank), then one row an observation. Columns error_mm and error_s state how "
                    "far off your tape and watch may be where that is not 5 mm and 0.1 s. Then run:"
                )
            )
        ),
        paragraph(bold("baizewright calibrate OBSERVATIONS.csv --table TABLE -o CONDITIONS.json")),
    ]
