"""How many pages sheets take, and that pages are full: no page for a few lines left over.

A page is as full as the height from its first ink to its last between head and foot. The last page
of a kind may hold less.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from designer.handouts import handout_pdf
from designer.handouts.papers import paper_of
from engine.answers import answer
from engine.routine.values import Routine
from engine.storage import load_routine
from tests.designer.pdf_pages import FINE, inked_rows
from tests.shares import mixed

DEMOS = sorted((Path(__file__).parents[3] / "layouts_demo").glob("*.json"))[:11]
LEAST = 0.6


@cache
def demos():
    return [(routine, answer(routine)) for routine in map(load_routine, DEMOS)]


@cache
def six_shots() -> Routine:
    """One set-up with six shots of two or three lanes and two gaps, each with all its words."""
    routine = load_routine(DEMOS[10])
    one, other = routine.shots
    shots = [replace(one, id=f"one-{n}") for n in range(3)]
    shots += [replace(other, id=f"other-{n}") for n in range(3)]
    claims = [replace(claim, shot=shot.id) for shot in shots for claim in routine.claims
              if claim.shot == (one.id if shot.id.startswith("one") else other.id)]  # fmt: skip
    return replace(routine, shots=tuple(shots), claims=tuple(claims))


@cache
def answered_six():
    return six_shots(), answer(six_shots())


def fills(data: bytes, paper: str = "a4", landscape: bool = False) -> list[float]:
    """For each page, the height from first to last ink over that between head and foot."""
    sheet = paper_of(paper, landscape)
    body, found = sheet.body, []
    top = sheet.height - body.y - body.height
    for rows in inked_rows(data):
        # hairlines of head and foot lie on the edges
        inside = np.flatnonzero(rows[round((top + 1.0) * FINE) : round((top + body.height) * FINE)])
        found.append((inside[-1] - inside[0] + 1) / FINE / body.height)
    return found


@pytest.mark.parametrize(("audience", "most"), [("coach", 24), ("player", 15)])
@pytest.mark.slow
def test_the_demos_booklet_is_short_and_its_pages_are_full(audience, most):
    data = handout_pdf(demos(), audience=audience, booklet=True)
    _, *pages = fills(data)  # the page of contents is the only one of its kind
    assert len(pages) + 1 <= most
    assert min(pages) >= LEAST, [round(page, 2) for page in pages]


@pytest.mark.parametrize(
    ("audience", "paper"), mixed(("coach", "player"), ("a4", "letter"), usual=1)
)
@pytest.mark.slow
def test_six_shots_take_five_pages(audience, paper):
    pages = fills(handout_pdf([answered_six()], paper, audience), paper)
    assert len(pages) <= 5
    assert min(pages[:-1]) >= LEAST, [round(page, 2) for page in pages]


@pytest.mark.slow
def test_what_is_measured_can_fall_short():
    """A page with one line on it is told as nearly empty."""
    routine, found = demos()[3]
    data = handout_pdf([(routine, found)], audience="player", answers="last-page")
    assert fills(data)[-1] < 0.3
