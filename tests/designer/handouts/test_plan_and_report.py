"""The plan on one page before its sheets, and the report of a player's practice."""

import io
from dataclasses import replace
from datetime import date, datetime, timedelta

import pdfplumber
import pytest
from pypdf import PdfReader

from designer.handouts.plan import lesson_plan_pdf
from designer.handouts.practice_report import report_pdf
from designer.handouts.request import HandoutStoppedError
from designer.words.figures import chance
from designer.words.library import change_told, line_name
from engine.errors import OutOfRangeError
from engine.placement import placements
from engine.plans import lesson_plan_of
from engine.records import Practice, lines_of
from engine.results import RoutineAnswer
from engine.storage import Plan, PlanItem
from engine.version import VERSION
from tests.designer.pdf_pages import page_texts
from tests.engine.library.generated_routines import generated
from tests.shares import mixed

WHEN = datetime(2026, 4, 1, 10, 0)


def unplayed(routine):
    """Where the balls stand: enough for a sheet without shots."""
    return RoutineAnswer(VERSION, (), (), (), (), placements(routine))


def session(count, aim="get the feel"):
    routines = [replace(generated(number), shots=(), gaps=()) for number in range(count)]
    items = tuple(PlanItem(f"{n}.json", 5.0 + n, f"{aim} {n}") for n in range(count))
    plan = Plan("Tuesday lesson", "2026-04-07", "Maren Tolliver", "Pace & <position>.", items)
    return lesson_plan_of(plan, routines)


def made(found, **more):
    return lesson_plan_pdf(
        found, [unplayed(part.routine) for part in found.parts], made_at=WHEN, **more
    )


@pytest.mark.parametrize(("count", "paper"), mixed((1, 4, 12), ("a4", "letter"), usual=2))
@pytest.mark.slow
def test_the_plan_tells_all_of_it_on_one_page(count, paper):
    found = session(count)
    page, following, *_ = page_texts(made(found, paper=paper))
    text = " ".join(page.split())
    for number, part in enumerate(found.parts):
        assert part.routine.title in text
        assert f"get the feel {number}" in text
        assert change_told(part.change, first=number == 0) in text
    assert "Pace & <position>." in text and "Balls needed: cue ball" in text
    assert found.parts[0].routine.title in following
    assert "Balls needed" not in following


@pytest.mark.slow
def test_many_long_aims_still_make_one_page():
    found = session(24, "a long aim that would take several lines in its narrow column, " * 4)
    plan, following, *_ = page_texts(made(found))
    assert "24" in plan and found.parts[23].routine.title in plan
    assert "Set up, in this order" in following


def test_the_same_plan_gives_the_same_bytes():
    assert made(session(2)) == made(session(2))


def test_it_can_be_stopped_and_refuses_an_empty_plan():
    with pytest.raises(HandoutStoppedError):
        made(session(3), progress=lambda done, wanted: done < 1)
    with pytest.raises(OutOfRangeError, match="Add one to the plan"):
        lesson_plan_pdf(lesson_plan_of(Plan(), []), [])


def practice(days=12):
    start = date(2026, 1, 6)
    return [
        Practice("QZ", title, start + timedelta(days=7 * n), 10, (3 * n + at) % 11, 1,
                 {"pot": (10 - (3 * n + at) % 11) // 2}, f"note {n}")
        for n in range(days)
        for at, title in enumerate(("Round the black", "Home to baulk & back"))
    ]  # fmt: skip


@pytest.mark.slow
def test_the_report_tells_every_figure():
    lines = practice()
    with pdfplumber.open(io.BytesIO(report_pdf("QZ", lines, made_at=WHEN))) as pdf:
        text = " ".join(" ".join(page.extract_text().split()) for page in pdf.pages)
    for line in lines_of(lines):
        total = line.total
        assert (
            f"{line_name(line)} {len(line.days)} {total.attempts} {total.made} "
            f"{chance(total.share)} {chance(total.low)} to {chance(total.high)}"
        ) in text
        assert " ".join([line_name(line), *map(str, line.misses)]) in text
    for one in lines:
        assert f"{one.day} {one.routine} 1 10 {one.made}" in text
    assert "Of players under 18 keep no more than initials" in text


def test_charts_are_told_to_who_cannot_see_them():
    data = report_pdf("QZ", practice(3), made_at=WHEN)
    root = PdfReader(io.BytesIO(data)).trailer["/Root"]["/StructTreeRoot"]
    told = []

    def walk(element):
        element = element.get_object()
        if "/Alt" in element:
            told.append(str(element["/Alt"]))
        kids = element.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            if hasattr(kid.get_object(), "get"):
                walk(kid)

    walk(root)
    assert any("Round the black: made of attempts by day" in one for one in told)
    assert any(one.startswith("How it was missed") for one in told)


@pytest.mark.parametrize(("days", "pages"), [(1, 1), (200, 4)])
@pytest.mark.slow
def test_reports_short_and_long(days, pages):
    found = PdfReader(io.BytesIO(report_pdf("QZ", practice(days), made_at=WHEN)))
    assert len(found.pages) >= pages
    if days > 100:
        assert "The newest 200 of 400 lines" in found.pages[-1].extract_text()


def test_nobody_elses_practice_gets_in():
    others = [*practice(1), Practice("AB", "Blue", date(2026, 1, 1), 5, 5)]
    with pytest.raises(OutOfRangeError, match="of AB too"):
        report_pdf("QZ", others)
    with pytest.raises(OutOfRangeError, match="at least one line"):
        report_pdf("QZ", [])
