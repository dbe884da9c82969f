"""Put handouts together: routines and their answers in, PDF out."""

from __future__ import annotations

import io
from collections.abc import Callable, Sequence
from datetime import datetime

from reportlab.platypus import Flowable

from designer.fonts.metrics import printable
from designer.handouts.answer_story import answers_page
from designer.handouts.cards import card_sheets
from designer.handouts.clusters import clusters
from designer.handouts.coach import coach_story
from designer.handouts.contents import contents_story
from designer.handouts.pages import Handout, Numbered
from designer.handouts.papers import PaperName
from designer.handouts.player import player_story
from designer.handouts.poster import poster_story
from designer.handouts.record import record_story
from designer.handouts.request import Progress, Request, checked, tolerances_for
from designer.handouts.sheet import Answers, Audience, Sheet, SheetKind, Tolerances
from designer.handouts.steps import steps_story
from designer.handouts.strip import any_cluster, strip_story
from designer.painters.pdf_stamp import set_stamp
from designer.texts import language, mark, tr, tr_count
from engine.errors import OutOfRangeError
from engine.results import RoutineAnswer
from engine.routine.values import Routine
from engine.units import LengthUnit
from engine.version import VERSION

#: The story of the pages before the sheets.
Front = Callable[[list[Sheet], Handout], list[Flowable]]

#: For each kind of sheet: what it is called, and what tells its story.
_KINDS: dict[str, tuple[str, Callable[[Sheet, Handout], list[Flowable]]]] = {
    "coach": (mark("Coach’s sheet"), coach_story),
    "player": (mark("Player’s sheet"), player_story),
    "steps": (mark("Step by step"), steps_story),
    "record": (mark("Practice record"), record_story),
    "strip": (mark("Full-size strips"), strip_story),
    "poster": (mark("Poster"), poster_story),
}


def handout_pdf(
    pairs: Sequence[tuple[Routine, RoutineAnswer]],
    paper: PaperName = "a4",
    audience: Audience = "coach",
    unit: LengthUnit = "mm",
    made_at: datetime | None = None,
    *,
    sheet: SheetKind = "full",
    landscape: bool = False,
    answers: Answers = "none",
    booklet: bool = False,
    booklet_title: str = "",
    tolerances: Sequence[Tolerances | None] | None = None,
    progress: Progress | None = None,
) -> bytes:
    """Sheets for routines with their answers, one after the other, as a PDF file's bytes.

    `sheet`: "full" for the reader's whole sheet, "steps" for the progression, "record" for a
    practice record, "card" for table cards, "strip" for full-size strips, "poster" for the wall.
    `answers` says where a player's sheet tells them. A `booklet` begins with its contents.
    `tolerances` holds, for each routine, what `engine.answers.set_up_tolerance` finds; it is shown
    when given. `progress` is called with the routines done and in all. With `made_at` the same
    input gives the same bytes.

    `UnknownNameError` for a choice that is not known; `OutOfRangeError` when there is no routine,
    or no cluster of balls for a strip; `HandoutStoppedError` when `progress` returns False.
    """
    asked = checked(
        paper, audience, unit, sheet, answers, landscape=landscape,
        tolerances=tolerances is not None, booklet=booklet, booklet_title=booklet_title,
        made_at=made_at, progress=progress,
    )  # fmt: skip
    if not pairs:
        raise OutOfRangeError("number of routines", 0, "at least 1", "Name a routine file.")
    rooms = tolerances_for(tolerances, len(pairs))
    sheets = [
        Sheet(routine, answer, unit, audience, answers, tuple(room or ()), f"routine-{index}")
        for index, ((routine, answer), room) in enumerate(zip(pairs, rooms, strict=True))
    ]
    if asked.sheet == "strip":
        any_cluster(sheets)
    return build_sheets(sheets, asked)


def build_sheets(sheets: list[Sheet], asked: Request, front: Front | None = None) -> bytes:
    """The PDF of sheets as asked for; `front` tells what goes before them, but for a contents."""
    store = io.BytesIO()
    document = Handout(store, asked.paper, _foot(sheets), **_metadata(sheets, asked))
    document.invariant = int(asked.made_at is not None)
    document.day = (asked.made_at or datetime.now()).date().isoformat()

    def canvas(*args: object, **options: object) -> Numbered:
        page = Numbered(*args, **options)
        set_stamp(page, asked.made_at)
        return page

    document.begin(canvas)
    asked.tell(0, len(sheets))
    if front is not None:
        document.add("page", front(sheets, document))
    elif asked.booklet:
        listed = [sheet for sheet in sheets if asked.sheet != "strip" or clusters(sheet.routine)]
        title = asked.booklet_title or _count(sheets)
        document.add("page", contents_story(listed, document, title, _kind(asked)))
    if asked.sheet == "card":
        for number, page in enumerate(card_sheets(sheets, document), start=1):
            document.add("bare", [page])
            asked.tell(min(4 * number, len(sheets)), len(sheets))
    else:
        for number, each in enumerate(sheets, start=1):
            document.add("page", _KINDS[_which(asked)][1](each, document))
            asked.tell(number, len(sheets))
    if asked.answers == "last-page":
        document.add("page", answers_page(sheets, document))
    document.finish()
    return store.getvalue()


def _which(asked: Request) -> str:
    return asked.audience if asked.sheet == "full" else asked.sheet


def _kind(asked: Request) -> str:
    """What the sheets are called."""
    return tr("Table cards") if asked.sheet == "card" else tr(_KINDS[_which(asked)][0])


def _count(sheets: Sequence[Sheet]) -> str:
    return tr_count("{count} routine", "{count} routines", len(sheets))


def _metadata(sheets: Sequence[Sheet], asked: Request) -> dict[str, str]:
    """Title and author of the file; nothing in it tells an answer."""
    title = sheets[0].title if len(sheets) == 1 else _count(sheets)
    authors = list(dict.fromkeys(s.routine.coach for s in sheets if s.routine.coach))
    return {
        "title": printable(asked.booklet_title or title),
        "author": printable(", ".join(authors)),
        "subject": _kind(asked),
        "creator": f"Baizewright {VERSION}",
        "lang": language() or "en-GB",
    }


def _foot(sheets: Sequence[Sheet]) -> str:
    versions = sorted({sheet.answer.engine_version for sheet in sheets})
    return f"Baizewright, {tr('engine {version}', version=', '.join(versions))}  ·  " + tr(
        "lanes are predictions, to be tried on the table"
    )
