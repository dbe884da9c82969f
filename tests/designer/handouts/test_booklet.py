"""Booklets: contents with true page numbers and links, progress, calling off, repeated bytes."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import UTC, datetime

import pdfplumber
import pypdf
import pytest

from designer.handouts import handout_pdf
from designer.handouts.request import HandoutStoppedError
from engine.errors import OutOfRangeError, UnknownNameError
from tests.designer.pdf_pages import page_texts
from tests.designer.samples.invented_answers import blue_and_back, ten_balls
from tests.shares import share

MADE = datetime(2025, 3, 1, 18, 30, tzinfo=UTC)


def pairs(count: int):
    made = [(blue_and_back, ten_balls)[index % 2]() for index in range(count)]
    return [(replace(r, title=f"Routine number {i}"), a) for i, (r, a) in enumerate(made, start=1)]


@pytest.mark.parametrize(("sheet", "audience"), share([
    ("full", "coach"), ("full", "player"), ("steps", "coach"), ("record", "player"),
    ("card", "coach"), ("strip", "coach"),
], 2))  # fmt: skip
@pytest.mark.slow
def test_contents_name_the_pages_where_routines_begin(sheet, audience):
    data = handout_pdf(
        pairs(4), audience=audience, sheet=sheet, booklet=True, booklet_title="A few"
    )
    reader = pypdf.PdfReader(io.BytesIO(data))
    told = [" ".join(text.split()) for text in page_texts(data)]
    assert "A few" in told[0]
    listed = [f"Routine number {i}" for i in range(1, 5)]
    if sheet == "strip":
        listed = listed[1::2]
    contents = _contents(data)
    assert [title for title, _ in contents] == listed
    for title, page in contents:
        assert title in told[page - 1]
        assert all(title not in text for text in told[1 : page - 1])
    links = [note.get_object() for note in reader.pages[0]["/Annots"]]
    goals = [reader.named_destinations[note["/Dest"].lstrip("/")] if isinstance(note["/Dest"], str)
             else note["/Dest"] for note in links]  # fmt: skip
    assert len(goals) == len(listed)
    assert [_page_of(reader, goal) + 1 for goal in goals] == [page for _, page in contents]


def _contents(data: bytes) -> list[tuple[str, int]]:
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        lines = pdf.pages[0].extract_text().splitlines()
    found = [re.search(r"\d+ (Routine number \d+).*?(\d+)$", line) for line in lines]
    return [(match[1], int(match[2])) for match in found if match]


def _page_of(reader, goal) -> int:
    if isinstance(goal, list):
        return reader.get_page_number(goal[0].get_object())
    return reader.get_destination_page_number(goal)


@pytest.mark.slow
def test_long_contents_run_over_several_pages():
    data = handout_pdf(pairs(60), sheet="record", booklet=True)
    reader = pypdf.PdfReader(io.BytesIO(data))
    assert len(reader.pages) == 62
    told = [" ".join(text.split()) for text in page_texts(data)]
    assert "Routine number 60" in told[1] and "page 62 of 62" in told[61]
    assert reader.metadata.title == "60 routines"
    assert reader.outline[0].title == "Contents"


@pytest.mark.slow
def test_progress_is_told_for_every_routine():
    seen: list[tuple[int, int]] = []
    handout_pdf(pairs(3), progress=lambda done, wanted: seen.append((done, wanted)))
    assert seen == [(0, 3), (1, 3), (2, 3), (3, 3)]
    seen.clear()
    handout_pdf(pairs(6), sheet="card", progress=lambda *told: seen.append(told))
    assert seen[0] == (0, 6) and seen[-1] == (6, 6)


def test_calling_it_off_makes_nothing():
    with pytest.raises(HandoutStoppedError, match="stopped after 2 of 5 routines"):
        handout_pdf(pairs(5), progress=lambda done, _: done < 2)


@pytest.mark.parametrize("sheet", ["full", "steps", "record", "card", "strip"])
@pytest.mark.slow
def test_same_input_same_bytes(sheet):
    one = handout_pdf(pairs(2), made_at=MADE, sheet=sheet, booklet=True)
    assert one == handout_pdf(pairs(2), made_at=MADE, sheet=sheet, booklet=True)
    assert pypdf.PdfReader(io.BytesIO(one)).metadata.creation_date == MADE


def test_choices_that_do_not_go_together_are_refused():
    with pytest.raises(OutOfRangeError, match="none but on the player’s full sheet"):
        handout_pdf(pairs(1), answers="last-page")
    with pytest.raises(UnknownNameError, match="full, steps, record, card, strip, poster"):
        handout_pdf(pairs(1), sheet="placard")
    with pytest.raises(UnknownNameError, match="upside-down"):
        handout_pdf(pairs(1), audience="player", answers="whispered")
    with pytest.raises(OutOfRangeError, match="one for each routine"):
        handout_pdf(pairs(2), tolerances=[()])


@pytest.mark.slow
def test_four_cards_to_a_sheet_and_a_lone_card_four_times():
    for count, pages in ((1, 1), (4, 1), (5, 2)):
        reader = pypdf.PdfReader(io.BytesIO(handout_pdf(pairs(count), sheet="card")))
        assert len(reader.pages) == pages
    lone = handout_pdf(pairs(1), sheet="card")
    text = page_texts(lone)[0]
    assert text.count("Routine number 1") == 4
    with pdfplumber.open(io.BytesIO(lone)) as pdf:
        page = pdf.pages[0]
        cuts = [ln for ln in page.lines if abs(ln["linewidth"] - 0.4) < 0.01
                and min(ln["x0"], ln["top"]) < 1.0]  # fmt: skip
        middle = (float(page.width) / 2, float(page.height) / 2)
    assert {(round(c["x0"], 1), round(c["top"], 1)) for c in cuts} == {
        (round(middle[0], 1), 0.0), (0.0, round(middle[1], 1))
    }  # fmt: skip
    assert (middle[0] / 72 * 25.4, middle[1] / 72 * 25.4) == pytest.approx((105, 148.5), abs=0.1)
