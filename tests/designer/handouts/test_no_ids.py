"""No sheet and no panel calls a thing by the id it has in the file."""

import re

import pytest

from designer.answers.gaps import claims_told
from designer.answers.report import detail_html
from designer.handouts import handout_pdf
from designer.open_routine.todo import todo_of
from designer.words.facts import fact
from designer.words.in_short import gap_line, lane_verdict, pot_verdict
from designer.words.pots import pot_head, pot_lines
from designer.words.wording import Wording
from engine.answers import answer
from engine.balls import Ball
from engine.results import Fact
from engine.routine.values import STUN, Claim, Gap, LaneAsk, Routine, Shot
from tests.designer.pdf_pages import page_texts

LANES = (LaneAsk("A", 0.5, 4.0), LaneAsk("B", STUN, 4.0))
ROUTINE = Routine(
    title="Untidy",
    balls=(
        Ball("cue", "cue", 640.0, 1420.0),
        Ball("blue", "blue", 889.0, 1784.5),
        Ball("red-1", "red", 1180.0, 1250.0),
        Ball("red-2", "red", 1420.0, 1180.0),
        Ball("red-3", "red", 1430.0, 1190.0),
    ),
    shots=(
        Shot("shot-1", "blue", "top-right", lanes=LANES),
        Shot("shot-2", "red-1", "top-left", lanes=LANES, title="The far red"),
        Shot("shot-3"),
    ),
    gaps=(
        Gap("gap-1", "ball-ball", ("red-1", "red-2")),
        Gap("gap-2", "in-order", gaps=("gap-1",)),
        Gap("gap-3", "cloth-area", points_mm=((100, 100), (500, 100), (500, 500))),
    ),
    claims=(
        Claim("pot-on", "shot-1"),
        Claim("lane-clears", "shot-1", lane="A", ball="red-1", margin_mm=20.0),
        Claim("lane-contacts", "shot-1", lane="B", ball="red-2"),
        Claim("lane-threads", "shot-1", lane="A", gap="gap-1"),
        Claim("gap-reachable", "shot-1", gap="gap-2"),
        Claim("pot-on", "shot-3"),
    ),
)
IDS = re.compile(r"\b(shot|gap|red|mark)-\d")


@pytest.fixture(scope="module")
def found():
    return answer(ROUTINE)


@pytest.mark.parametrize("sheet", ["full", "steps", "card"])
@pytest.mark.slow
def test_sheets_name_things(found, sheet):
    text = "\n".join(page_texts(handout_pdf([(ROUTINE, found)], sheet=sheet)))
    # The coach's key to the file is there to name ids.
    text = re.sub(r"In the routine file .*", "", text)
    assert not IDS.findall(text), [line for line in text.splitlines() if IDS.search(line)]


def test_panels_name_things(found):
    wording = Wording(ROUTINE)
    told = [
        *(" ".join(row) for row in claims_told(wording, found)),
        *(detail_html(wording, one) for one in found.verdicts),
        *(one.words for one in todo_of(wording, found)),
    ]
    verdicts = {(one.shot, one.gap): one for one in found.verdicts}
    for shot in found.shots:
        short = [lane_verdict(wording, lane, shot.passes) for lane in shot.lanes]
        short += [
            gap_line(wording, gap, verdicts.get((shot.shot, gap.id)), shot.passes)
            for gap in ROUTINE.gaps
        ]
        if shot.pot is not None:
            short.append(pot_verdict(wording, shot.pot))
            told += [pot_head(wording, shot.pot), *pot_lines(wording, shot.pot)]
        told += [f"{one.told} {one.beside}" for one in short]
    assert "shot 3" in "".join(told).lower() and "red R2 and red R3" in "".join(told).replace(
        "Red R2", "red R2"
    )
    for words in told:
        assert not IDS.search(words), words


def test_ids_that_are_figures_break_no_sentence():
    """Balls called "1" and "47" once had their names put into "passes 47 mm clear of ball 1"."""
    reds = (Ball("1", "red", 300.0, 300.0), Ball("47", "red", 500.0, 500.0))
    wording = Wording(Routine(balls=reds))
    assert fact(wording, Fact("passes-ball", ball="1", mm=47.0)) == "passes 47 mm clear of red R1"
    assert fact(wording, Fact("widest-room", mm=61.1)) == (
        "the widest room at these paces is 61 mm"
    )
