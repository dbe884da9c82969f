"""Put handouts together: routines and their answers in, PDF out."""

from __future__ import annotations

import io
from collections.abc import Sequence
from datetime import datetime

from reportlab.platypus import Flowable, NextPageTemplate, PageBreak

from designer.fonts.metrics import printable
from designer.handouts.coach import coach_story
from designer.handouts.pages import Handout, Numbered
from designer.handouts.papers import PaperName, paper_of
from designer.handouts.player import player_story
from designer.handouts.sheet import Audience, Sheet
from designer.painters.pdf_stamp import set_stamp
from engine.answers.values import RoutineAnswer
from engine.errors import OutOfRangeError, UnknownNameError
from engine.routine.values import Routine
from engine.units import LengthUnit
from engine.version import VERSION

_STORIES = {"coach": coach_story, "player": player_story}
_UNITS = ("mm", "inch")


def handout_pdf(
    pairs: Sequence[tuple[Routine, RoutineAnswer]],
    paper: PaperName = "a4",
    audience: Audience = "coach",
    unit: LengthUnit = "mm",
    made_at: datetime | None = None,
) -> bytes:
    """Sheets for routines with their answers, one after the other, as a PDF file's bytes.

    With `made_at` the same input gives the same bytes. `UnknownNameError` for a paper, reader
    or unit that is not known; `OutOfRangeError` when there is no routine.
    """
    if audience not in _STORIES:
        raise UnknownNameError("reader", audience, tuple(_STORIES))
    if unit not in _UNITS:
        raise UnknownNameError("unit", unit, _UNITS)
    if not pairs:
        raise OutOfRangeError("number of routines", 0, "at least 1", "Name a routine file.")
    sheets = [Sheet(routine, answer, unit) for routine, answer in pairs]
    store = io.BytesIO()
    document = Handout(store, paper_of(paper), _foot(sheets), **_metadata(sheets, audience))
    document.invariant = int(made_at is not None)
    story: list[Flowable] = []
    for sheet in sheets:
        if story:
            story += [NextPageTemplate("setting"), PageBreak()]
        story += _STORIES[audience](sheet, document)

    def canvas(*args: object, **options: object) -> Numbered:
        page = Numbered(*args, **options)
        set_stamp(page, made_at)
        return page

    document.build(story, canvasmaker=canvas)
    return store.getvalue()


def _metadata(sheets: Sequence[Sheet], audience: Audience) -> dict[str, str]:
    """Title and author of the file; nothing in it tells an answer."""
    title = sheets[0].title if len(sheets) == 1 else f"{len(sheets)} routines"
    authors = list(dict.fromkeys(s.routine.coach for s in sheets if s.routine.coach))
    reader = "Coach’s sheet" if audience == "coach" else "Player’s sheet"
    return {
        "title": printable(title),
        "author": printable(", ".join(authors)),
        "subject": reader,
        "creator": f"Baizewright {VERSION}",
        "lang": "en-GB",
    }


def _foot(sheets: Sequence[Sheet]) -> str:
    versions = sorted({sheet.answer.engine_version for sheet in sheets})
    return (
        f"Baizewright, engine {', '.join(versions)}  ·  lanes are predictions, to be tried on "
        "the table"
    )
