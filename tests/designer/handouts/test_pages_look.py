"""Every kind of sheet on every paper: inside the margins, no text under 7 pt, no colour alone.

Figures are read back from the files; what a page looks like in grey is judged by its pixels. Two
papers run by default, with BAIZEWRIGHT_FULL=1 all eight.
"""

from __future__ import annotations

import io

import numpy as np
import pdfplumber
import pypdfium2
import pytest

from designer.handouts import handout_pdf
from tests.designer.samples.invented_answers import blue_and_back, ten_balls
from tests.shares import mixed

KINDS = [
    ("full", "coach", "none"), ("full", "player", "none"), ("full", "player", "upside-down"),
    ("full", "player", "last-page"), ("steps", "coach", "none"), ("steps", "player", "none"),
    ("record", "coach", "none"), ("card", "coach", "none"), ("strip", "coach", "none"),
    ("poster", "player", "none"),
]  # fmt: skip
PAPERS = [("a4", False, "mm"), ("letter", True, "inch"), ("a4", True, "inch"),
          ("letter", False, "mm"), ("a3", False, "inch"), ("a5", False, "mm"), ("a3", True, "mm"),
          ("a5", True, "inch")]  # fmt: skip
#: Room to the paper's edge that office printers leave blank, points (4.2 mm, common practice).
EDGE = 12.0


@pytest.mark.parametrize(("kind", "page"), mixed(KINDS, PAPERS, usual=3))
@pytest.mark.slow
def test_nothing_clipped_and_nothing_too_small(kind, page):
    (sheet, audience, answers), (paper, landscape, unit) = kind, page
    data = handout_pdf(
        [blue_and_back(), ten_balls()], paper, audience, unit, sheet=sheet, answers=answers,
        landscape=landscape, booklet=True,
    )  # fmt: skip
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) >= 2
        for page in pdf.pages:
            assert (page.width > page.height) == landscape
            for char in page.chars:
                assert char["x0"] >= EDGE and char["x1"] <= page.width - EDGE, char["text"]
                assert char["top"] >= EDGE and char["bottom"] <= page.height - EDGE, char["text"]
                a, b, *_ = char["matrix"]
                # of a text on its side the reader tells the advance as its size
                em = char["x1"] - char["x0"] if abs(b) > abs(a) else char["size"]
                assert em >= 6.99, (char["text"], em)
            assert {"DejaVuSans" in char["fontname"] for char in page.chars} == {True}


@pytest.mark.slow
def test_names_of_gaps_too_wide_for_a_small_card_are_cut():
    """They stay readable, and leave the table more than half of the card's width for drawings."""
    data = handout_pdf([blue_and_back()], "a5", "player", sheet="card")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        (page,) = (one for one in pdf.pages if "Five ways" in one.extract_text())
    assert "Red and right …" in page.extract_text()
    assert "Between the reds" in page.extract_text()
    assert min(char["size"] for char in page.chars) >= 6.99
    card = page.crop((0.0, 0.0, page.width / 2.0, page.height / 2.0))
    table = max(card.rects + card.curves, key=lambda one: one["height"])
    assert table["width"] > 0.5 * 0.55 * (card.width - 16.0 * 72.0 / 25.4)


def grey(page) -> np.ndarray:
    return np.asarray(page.render(scale=1.5).to_pil().convert("L"), dtype=float)


@pytest.mark.parametrize("sheet", ["full", "card"])
@pytest.mark.slow
def test_texts_stand_out_in_grey(sheet):
    """Every letter has ink far darker, or on a dark ball far lighter, than what is round it."""
    data = handout_pdf([blue_and_back(), ten_balls()], sheet=sheet)
    document = pypdfium2.PdfDocument(data)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for number, page in enumerate(pdf.pages):
            shade = grey(document[number])
            for char in page.chars[::3]:
                if not char["text"].strip():
                    continue
                x0, x1 = int(char["x0"] * 1.5), int(char["x1"] * 1.5) + 1
                y0, y1 = int(char["top"] * 1.5), int(char["bottom"] * 1.5) + 1
                patch = shade[y0:y1, x0:x1]
                assert patch.max() - patch.min() > 60, (
                    number,
                    char["text"],
                    char["x0"],
                    char["top"],
                )
