"""The coach's sheet of a gap that cannot be reached says why, in one sentence."""

import re
from pathlib import Path

import pytest

from designer.handouts import handout_pdf
from designer.words.gaps import verdict as told
from designer.words.in_short import gap_line
from designer.words.wording import Wording
from engine.answers import answer
from engine.storage import load_routine
from tests.designer.pdf_pages import page_texts

DEMO = Path(__file__).resolve().parents[3] / "layouts_demo"


def text_of(data):
    return re.sub(r"\s+", " ", " ".join(page_texts(data)))


@pytest.fixture(scope="module")
def closed():
    routine = load_routine(next(DEMO.glob("10-*.json")))
    return routine, answer(routine)


def test_the_coach_reads_why_in_one_sentence(closed):
    (verdict,) = closed[1].verdicts
    said = told(Wording(closed[0]), verdict)
    assert said.startswith("Not reachable with plain top or screw: ") and said.count(".") == 1
    short = gap_line(Wording(closed[0]), closed[0].gaps[0], verdict, closed[1].shots[0].passes)
    text = text_of(handout_pdf([closed], "a4", "coach"))
    assert short.told in text and "too exact" in short.told
    # a sliver above pace 8 threads it: what lies beside that is not told as a miss
    assert verdict.slivers and "nearest miss" not in text


def test_the_player_is_not_told(closed):
    text = text_of(handout_pdf([closed], "a4", "player"))
    assert "reachable" not in text.lower() and "nearest miss" not in text
