"""The player's sheets hold no answer: not in text, colour, layer, metadata or the file's parts.

The strongest proof is a change: with every answer replaced by another, as long as the lanes first
meet the same cushions at the same places, the file stays the same byte for byte.
"""

from __future__ import annotations

import io
import random
import re
from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pdfplumber
import pypdf
import pytest

from designer.drawing.look import INK, LANE_PATTERNS
from designer.handouts import handout_pdf
from engine.results import Fact, ReachWindow, RoutineAnswer
from engine.routine.values import Claim, Routine
from tests.designer.handouts.ledger import flat, text_of
from tests.designer.pdf_pages import page_texts
from tests.designer.samples.invented_answers import blue_and_back, ten_balls
from tests.shares import mixed, share

MADE = datetime(2025, 3, 1, 18, 30, tzinfo=UTC)
KINDS = ("full", "steps", "record", "card", "poster")
SAMPLES = (blue_and_back, ten_balls)
STRUCK = ("tip_height", "pace", "side")


def sheets(pair, sheet: str = "full", **more) -> bytes:
    return handout_pdf([pair], "a4", "player", made_at=MADE, sheet=sheet, **more)


def other_answers(routine: Routine, answer: RoutineAnswer, seed: int):
    """The same set-up and question with every answer another one."""
    rng = random.Random(seed)
    shots, asked = [], []
    for shot, ask in zip(answer.shots, routine.shots, strict=True):
        lanes = []
        # the strokes to choose from are no secret, but which is whose is
        swapped = list(range(len(shot.lanes)))
        rng.shuffle(swapped)
        asked.append(tuple(
            replace(ask.lanes[at], label=lane.label)
            for lane, at in zip(ask.lanes, swapped, strict=True)
        ))  # fmt: skip
        for lane, at in zip(shot.lanes, swapped, strict=True):
            tip, pace, side = (getattr(shot.lanes[at], name) for name in STRUCK)
            end = lane.first_cushion_mm or lane.stops_mm
            start = np.asarray(lane.path_mm[0])
            # the last heading stays for lanes that meet no cushion: their letter stands ahead
            path = np.array([start, start + rng.uniform(-9, 9), lane.path_mm[-2], end])
            if lane.first_cushion_mm is None:
                path = np.array([start + rng.uniform(-9, 9), *lane.path_mm[-2:]])
            lanes.append(replace(
                lane, path_mm=path, played_mm=path, object_path_mm=path, approach_mm=path,
                tip_height=tip, pace=pace, side=side, strike_name="X",
                is_stun=not lane.is_stun, title="Y", speed_m_s=1.2345, clear=not lane.clear,
                clearances=(), cautions=(Fact("cut-short"),), bend_end_mm=None,
                deflection_deg=rng.random(),
                in_off=True, spin_ratio_on_arrival=rng.random(), first_touched="W",
            ))  # fmt: skip
        pot = shot.pot and replace(
            shot.pot, on=not shot.pot.on, cut_deg=77.0, fullness=0.1,
            reasons=(Fact("cut-past-90", deg=99.0),),
            contact_mm=(1.0, 2.0), potting_line_mm=((1, 2), (3, 4)),
            ninety_line_mm=((1, 2), (3, 4)),
        )  # fmt: skip
        shots.append(replace(shot, lanes=tuple(lanes), pot=pot, passes=(), stun_tip_height=0.3))
    verdicts = tuple(
        replace(v, reachable=not v.reachable, width_mm=1.0,
                windows=(ReachWindow(0.0, 0.1, 1.0, 2.0, 0.0, 1.0, 9.0),))
        for v in answer.verdicts
    )  # fmt: skip
    told = [
        replace(shot, title="T", answer="S", note="R", lanes=lanes)
        for shot, lanes in zip(routine.shots, asked, strict=True)
    ]
    changed = replace(routine, shots=tuple(told), notes="Q", claims=(Claim("pot-on", "P"),))
    return changed, replace(answer, shots=tuple(shots), verdicts=verdicts, claims=(), notes=("O",))


@pytest.mark.parametrize(
    ("kind", "sample", "landscape"), mixed(KINDS, SAMPLES, (False, True), usual=5)
)
@pytest.mark.slow
def test_another_answer_leaves_the_file_as_it_is(kind, sample, landscape, monkeypatch):
    # a digest of the question, which says nothing but that the question is another one
    monkeypatch.setattr("designer.handouts.heads.revision_of", lambda _: "0123abcd")
    routine, answer = sample()
    plain = sheets((routine, answer), kind, landscape=landscape)
    for seed in range(3):
        other = other_answers(routine, answer, seed)
        assert sheets(other, kind, landscape=landscape) == plain


@pytest.mark.slow
def test_the_change_would_be_seen():
    """The coach's sheet, and a lane to another cushion, do change the file."""
    routine, answer = blue_and_back()
    other = other_answers(routine, answer, 0)
    one, two = (handout_pdf([pair], made_at=MADE) for pair in ((routine, answer), other))
    assert one != two
    lanes = [replace(lane, first_cushion_mm=(900.0, 0.0), first_cushion="bottom")
             for lane in answer.shots[0].lanes]  # fmt: skip
    moved = replace(answer, shots=(replace(answer.shots[0], lanes=tuple(lanes)),))
    assert sheets((routine, moved)) != sheets((routine, answer))


@pytest.mark.parametrize(("kind", "sample"), mixed(KINDS, SAMPLES, usual=3))
@pytest.mark.slow
def test_no_word_of_an_answer(kind, sample):
    routine, answer = sample()
    data = sheets((routine, answer), kind)
    text = text_of(data)
    for shot in routine.shots:
        text = text.replace(flat(shot.question), "")
        for secret in (shot.answer, shot.note, shot.title):
            assert not secret or flat(secret) not in text
    secrets = ["°", "m/s", "threads", "reachable", "✓", "✗", "stun", "screw", "clears",
               "touches", "90-degree", "otting line", "spin", "goes through",
               "forgives"]  # fmt: skip
    assert not [secret for secret in secrets if secret in text.lower()]
    assert ("pace" in text) == (kind in ("full", "poster")), "the cards of strokes alone tell paces"
    coachs = text_of(handout_pdf([(routine, answer)]))
    assert sum(secret in coachs.lower() for secret in secrets) > 8, "the words do occur for coaches"


@pytest.mark.parametrize("kind", share(KINDS, 3))
@pytest.mark.slow
def test_nothing_is_hidden_in_the_file(kind):
    pair = blue_and_back()
    data = sheets(pair, kind)
    reader = pypdf.PdfReader(io.BytesIO(data))
    root = reader.trailer["/Root"]
    for part in ("/OCProperties", "/Names", "/AcroForm", "/Metadata", "/OpenAction", "/AF"):
        assert part not in root, part
    told = " ".join(str(value) for value in reader.metadata.values()).lower()
    tree = " ".join(strings_of(root["/StructTreeRoot"].get_object())).lower()
    for secret in (
        "stun",
        "screw",
        "thread",
        "°",
        "degree",
        "lane",
        pair[0].shots[0].title.lower(),
    ):
        assert secret not in told + tree
    for page in reader.pages:
        assert "/Annots" not in page
        forms = page["/Resources"].get("/XObject", {})
        assert all(form.get_object()["/Subtype"] == "/Form" for form in forms.values())
        assert all("total" in name for name in forms), list(forms)
        code = page.get_contents().get_data()
        modes = set(re.findall(rb"(\d) Tr\b", code))
        assert modes <= {b"0"}, "no invisible or clipping text"
        assert b"/OC " not in code
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        lanes = {tuple(int(p.colour[i : i + 2], 16) for i in (1, 3, 5))
                 for p in LANE_PATTERNS if p.colour != INK}  # fmt: skip
        for page in pdf.pages:
            shapes = page.curves + page.rects + page.lines + page.chars
            for shape in shapes:
                assert shape["x0"] >= 0 and shape["x1"] <= page.width
                for key in ("stroking_color", "non_stroking_color"):
                    colour = shape[key]
                    if isinstance(colour, tuple | list) and len(colour) == 3:
                        assert tuple(round(255 * c) for c in colour) not in lanes


def strings_of(part, seen=None) -> list[str]:
    """Every text in a tree of PDF objects."""
    seen = set() if seen is None else seen
    part = part.get_object() if hasattr(part, "get_object") else part
    if id(part) in seen:
        return []
    seen.add(id(part))
    if isinstance(part, dict):
        return [s for key, value in part.items() if key not in ("/P", "/Pg", "/ParentTree")
                for s in strings_of(value, seen)]  # fmt: skip
    if isinstance(part, list):
        return [s for value in part for s in strings_of(value, seen)]
    return [str(part)]


@pytest.mark.slow
def test_an_answer_asked_for_stands_upside_down():
    routine, answer = blue_and_back()
    data = sheets((routine, answer), answers="upside-down")
    plain = sheets((routine, answer))
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) == 1
        turned = [c for page in pdf.pages for c in page.chars if c["matrix"][0] < 0]
        upright = "".join(c["text"] for p in pdf.pages for c in p.chars if c["matrix"][0] > 0)
        assert {c["page_number"] for c in turned} == {1}
        assert min(c["top"] for c in turned) > 0.8 * float(pdf.pages[0].height) - 60
    told = "".join(c["text"] for c in turned)
    for lane in answer.shots[0].lanes:
        assert lane.strike_name in told
    assert routine.shots[0].answer in told
    assert "stun," not in upright and "m/s" not in upright
    assert "m/s" not in text_of(plain)


@pytest.mark.parametrize("landscape", [False, True])
def test_an_answer_asked_for_stands_on_the_last_page(landscape):
    routine, answer = blue_and_back()
    data = sheets((routine, answer), answers="last-page", landscape=landscape)
    pages = [flat(text) for text in page_texts(data)]
    assert routine.shots[0].answer in pages[-1] and "2.5 m/s" in pages[-1]
    assert len(pages) == (3 if landscape else 2)
    assert not any("m/s" in page or routine.shots[0].answer in page for page in pages[:-1])


@pytest.mark.slow
def test_an_answer_too_long_for_the_foot_goes_to_a_page_of_its_own():
    routine, answer = blue_and_back()
    shot = replace(routine.shots[0], answer="It goes there. " * 300)
    data = sheets((replace(routine, shots=(shot,)), answer), answers="upside-down")
    pages = [flat(text) for text in page_texts(data)]
    assert "It goes there." not in pages[0] and "It goes there." in pages[1]
