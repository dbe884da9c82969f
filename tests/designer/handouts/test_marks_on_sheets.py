"""Marks on the cloth on every sheet that sets the table, read back by another library."""

from dataclasses import replace
from pathlib import Path

import pytest

from designer.handouts import handout_pdf
from engine.answers import answer
from engine.routine.values import ClothMark
from engine.storage import load_routine
from tests.designer.pdf_pages import page_texts

DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"
MARKS = (
    ClothMark("mark-1", "cross", 300.0, 3000.0, note="Put the chalk here"),
    ClothMark("mark-2", "line", 211.0, 901.0, 511.0, 1001.0, note="Stop short of this"),
)


def text_of(routine, audience, unit="mm"):
    data = handout_pdf([(routine, answer(routine))], "a4", audience, unit)
    return "\n".join(page_texts(data))


@pytest.mark.parametrize("audience", ["coach", "player"])
@pytest.mark.slow
def test_marks_are_listed_and_drawn(audience):
    routine = load_routine(next(DEMO.glob("01-*.json")))
    plain = text_of(routine, audience)
    assert "Marks on the cloth" not in plain
    text = text_of(replace(routine, cloth_marks=MARKS), audience)
    assert "Marks on the cloth" in text and "nothing adhesive" in text
    assert "Put the chalk here" in text and "Stop short of this" in text
    for figure in ("300", "569", "211", "901", "511", "1001"):
        assert figure in text, figure
    assert "mark 1" in text and "mark 2" in text, "the drawing numbers them as the table does"
    assert "mark-1" not in text, "a file's id is no name for a reader"


@pytest.mark.slow
def test_marks_in_inches():
    routine = load_routine(next(DEMO.glob("01-*.json")))
    text = text_of(replace(routine, cloth_marks=MARKS), "coach", "inch")
    assert '11 13/16"' in text
