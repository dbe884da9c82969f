"""Handouts read back with other libraries: figures, pages, fonts, what a player must not see."""

from __future__ import annotations

import cProfile
import io
import re
from dataclasses import replace
from datetime import UTC, datetime

import pdfplumber
import pypdf
import pytest

from designer.fonts.metrics import MISSING
from designer.handouts import handout_pdf
from designer.words.pots import cut
from engine.balls import Ball
from engine.errors import OutOfRangeError, UnknownNameError
from engine.results import Fact
from engine.routine.values import Routine
from engine.units import inch_text, mm_text
from tests.designer.pdf_pages import page_texts
from tests.designer.samples.invented_answers import HOSTILE, blue_and_back, hostile, ten_balls
from tests.shares import mixed

MADE = datetime(2025, 3, 1, 18, 30, tzinfo=UTC)
SIZES = {"a4": (595.28, 841.89), "letter": (612.0, 792.0)}


def text_of(data: bytes) -> str:
    """All text of a file, lines joined with spaces."""
    return re.sub(r"\s+", " ", " ".join(page_texts(data)))


@pytest.mark.parametrize(
    ("paper", "audience", "sample"),
    mixed(("a4", "letter"), ("coach", "player"), (blue_and_back, ten_balls), usual=3),
)
@pytest.mark.slow
def test_nothing_is_clipped_or_under_seven_points(paper, audience, sample):
    data = handout_pdf([sample()], paper, audience)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        # readings of ten balls leave no room on a player's page for question, strokes and record
        assert len(pdf.pages) == (1 if audience == "player" and sample is blue_and_back else 2)
        for page in pdf.pages:
            assert (float(page.width), float(page.height)) == pytest.approx(SIZES[paper], abs=0.1)
            assert len(page.chars) > 80
            for char in page.chars:
                assert char["x0"] >= 25 and char["x1"] <= page.width - 25, char["text"]
                assert char["top"] >= 25 and char["bottom"] <= page.height - 25, char["text"]
                a, b, *_ = char["matrix"]
                # of a text on its side the reader tells the advance as its size
                em = char["x1"] - char["x0"] if abs(b) > abs(a) else char["size"]
                assert em >= 6.99, (char["text"], em)
            for shape in page.curves + page.rects + page.lines:
                assert shape["x0"] >= 25 and shape["x1"] <= page.width - 25
                assert shape["top"] >= 25 and shape["bottom"] <= page.height - 25
            assert {"DejaVuSans" in char["fontname"] for char in page.chars} == {True}


@pytest.mark.parametrize(
    ("unit", "told", "audience"),
    [("mm", mm_text, "coach"), ("inch", inch_text, "player")],
)
@pytest.mark.slow
def test_every_reading_stands_on_the_sheet_in_drawing_and_table(unit, told, audience):
    routine, answer = ten_balls()
    text = text_of(handout_pdf([(routine, answer)], "a4", audience, unit))
    for place in answer.placements:
        for reading in (place.across, place.along):
            centre = told(reading.centre_mm).removesuffix(" mm")
            edge = told(reading.edge_mm).removesuffix(" mm")
            told_as = rf"{re.escape(centre)} from {reading.cushion}"
            told_as += "" if place.spot else rf" edge {re.escape(edge)}"
            assert re.search(told_as, text), (place.ball, centre, edge)
            if not place.spot:
                assert f"edge {edge}" in text
        assert not place.spot or f"on the {place.spot} spot" in text


def test_coachs_sheet_answers_everything():
    routine, answer = blue_and_back()
    text = text_of(handout_pdf([(routine, answer)]))
    pot = answer.shots[0].pot
    expected = [
        "Blue and back to baulk", "Wren Ashgrove", "Millrace Cue Club", "level 3 of 5",
        routine.shots[0].question, routine.shots[0].answer, routine.shots[0].note, routine.notes,
        cut(pot)[1:], "top right pocket: on.", "full top 13 mm above, pace 5",
        "medium screw 7 mm below", "✗ touches R2 by 6 mm", "usual cloth", "Snooker, full size",
        "first cushion: right cushion", "potting line", "90-degree line",
        "the spin has taken hold", "✓ Between the reds (197 mm wide): C goes through",
        "✗ Red and right cushion", "✓ C clears R1", "club’s permission",
        "nothing adhesive on the cloth", "try them on the table", "engine 0.1.0",
        "page 1 of 2", "page 2 of 2",
    ]  # fmt: skip
    flat = text.replace("'", "’")
    for words in expected:
        assert re.sub(r"\s+", " ", words).replace("'", "’") in flat, words


def test_clearances_on_the_sheet_are_the_engines():
    routine, answer = blue_and_back()
    text = text_of(handout_pdf([(routine, answer)]))
    for lane in answer.shots[0].lanes:
        nearest = min(lane.clearances, key=lambda c: c.clearance_mm)
        if nearest.clearance_mm >= 0:
            assert f"{mm_text(nearest.clearance_mm)}" in text


@pytest.mark.slow
def test_players_sheet_asks_and_does_not_answer():
    routine, answer = blue_and_back()
    coach = handout_pdf([(routine, answer)])
    data = handout_pdf([(routine, answer)], audience="player", made_at=MADE)
    text = text_of(data)
    assert routine.shots[0].question in text
    assert all(f"{letter} " in text for letter in "ABCDE")
    for words in ("Date", "made", "missed", "Target", "Practice of", "Set up, in this order",
                  "Strokes to choose from", "Draw your guess"):  # fmt: skip
        assert words in text
    secrets = [
        "full top", "stun", "screw", "threads", "clears", "touches", "✓", "✗", "m/s",
        "°", "cut", "90-degree", "Potting line", "spin", "note", "claim",
        routine.shots[0].answer, routine.shots[0].note, routine.notes, routine.shots[0].title,
    ]  # fmt: skip
    asked = text.replace(routine.shots[0].question, "").replace("top right pocket", "")
    for secret in secrets:
        assert secret.lower() not in asked.lower(), secret
        if secret.strip() not in ("note", "threads", "claim"):
            assert secret.strip().lower() in text_of(coach).lower(), f"{secret}: on no sheet at all"
    info = pypdf.PdfReader(io.BytesIO(data)).metadata
    everything = " ".join(str(value) for value in info.values()).lower()
    assert not any(word in everything for word in ("stun", "screw", "thread", "pocket"))


@pytest.mark.slow
def test_players_drawing_has_no_lane_colour():
    """The colours that tell lanes apart on the coach's sheet are nowhere on the player's."""
    from designer.drawing.look import INK, LANE_PATTERNS

    def colours(data: bytes) -> set[tuple[float, ...]]:
        found = set()
        with pdfplumber.open(io.BytesIO(data)) as pdf:
            for page in pdf.pages:
                for shape in page.curves + page.rects + page.lines:
                    for key in ("stroking_color", "non_stroking_color"):
                        value = shape[key]
                        if isinstance(value, tuple | list) and len(value) == 3:
                            found.add(tuple(round(255 * part) for part in value))
        return found

    lanes = {
        tuple(int(p.colour[i : i + 2], 16) for i in (1, 3, 5))
        for p in LANE_PATTERNS[:5]
        if p.colour != INK
    }
    pair = blue_and_back()
    assert lanes <= colours(handout_pdf([pair]))
    assert not lanes & colours(handout_pdf([pair], audience="player"))


def test_the_answer_does_not_change_the_players_sheet_but_for_the_letters_places(monkeypatch):
    # a digest of the question, which says nothing but that the question is another one
    monkeypatch.setattr("designer.handouts.heads.revision_of", lambda _: "0123abcd")
    routine, answer = blue_and_back()
    shot, ask = answer.shots[0], routine.shots[0]
    other = replace(
        answer,
        verdicts=(),
        claims=(),
        shots=(replace(shot, passes=(), pot=replace(shot.pot, on=False, cut_deg=77.0)),),
    )
    strikes = [(lane.tip_height, lane.pace) for lane in shot.lanes]
    turned = zip(shot.lanes, strikes[1:] + strikes[:1], strict=True)
    hidden = [replace(lane, strike_name="x", tip_height=tip, pace=pace)
              for lane, (tip, pace) in turned]  # fmt: skip
    other = replace(other, shots=(replace(other.shots[0], lanes=tuple(hidden)),))
    next_ones = zip(ask.lanes, ask.lanes[1:] + ask.lanes[:1], strict=True)
    asked = [replace(one, label=lane.label) for lane, one in next_ones]
    turned = replace(routine, shots=(replace(ask, lanes=tuple(asked)),))
    one = handout_pdf([(routine, answer)], audience="player", made_at=MADE)
    assert one == handout_pdf([(turned, other)], audience="player", made_at=MADE)


@pytest.mark.slow
def test_same_input_same_bytes_and_honest_metadata():
    pairs = [blue_and_back(), ten_balls()]
    one = handout_pdf(pairs, made_at=MADE)
    assert one == handout_pdf(pairs, made_at=MADE)
    assert one != handout_pdf(pairs, made_at=MADE.replace(year=2024))
    reader = pypdf.PdfReader(io.BytesIO(one))
    assert reader.metadata.title == "2 routines"
    assert reader.metadata.author == "Wren Ashgrove"
    assert reader.metadata.creation_date == MADE
    lone = pypdf.PdfReader(io.BytesIO(handout_pdf([blue_and_back()])))
    assert lone.metadata.title == "Blue and back to baulk"


@pytest.mark.slow
def test_many_routines_have_bookmarks_on_their_first_pages():
    data = handout_pdf([blue_and_back(), ten_balls()])
    reader = pypdf.PdfReader(io.BytesIO(data))
    marks = [
        (mark.title, reader.get_destination_page_number(mark))
        for mark in reader.outline
        if not isinstance(mark, list)
    ]
    assert marks == [("Blue and back to baulk", 0), ("Black with the pack open", 2)]
    inside = [[mark.title for mark in part] for part in reader.outline if isinstance(part, list)]
    assert inside == [["Shot 1: Blue to the top right pocket"], ["Shot 1"]]
    assert "page 4 of 4" in text_of(data)


@pytest.mark.parametrize(
    ("sheet", "audience"), mixed(("full", "steps", "record", "card"), ("coach", "player"), usual=4)
)
@pytest.mark.slow
def test_hostile_text_comes_out_as_text(audience, sheet):
    data = handout_pdf([hostile()], audience=audience, sheet=sheet, booklet_title=HOSTILE)
    text = text_of(data)
    assert "<script>alert(1)</script>" in text
    assert MISSING in text
    assert not re.search(r"[\x00-\x08\u202e\u200b]", text)
    raw = b"".join(
        page.get_contents().get_data() for page in pypdf.PdfReader(io.BytesIO(data)).pages
    )
    assert HOSTILE.encode("utf-8", "replace") not in raw


@pytest.mark.slow
def test_very_long_texts_flow_on_and_titles_are_shortened():
    routine, answer = blue_and_back("W" * 400)
    shot = replace(routine.shots[0], question="Where does it go? " * 400, note="x" * 3000)
    data = handout_pdf([(replace(routine, shots=(shot,)), answer)])
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert len(pdf.pages) >= 3
        assert all(
            char["x1"] <= page.width - 25 and char["bottom"] <= page.height - 25
            for page in pdf.pages
            for char in page.chars
        )
    assert text_of(data).count("Where does it go?") == 400


LONG = "Long words go on and on. " * 120
#: Fitting such words to a page takes under a third of this.
MOST_CALLS = 20_000_000


@pytest.mark.parametrize(
    ("sheet", "audience"),
    mixed(("full", "steps", "record", "card"), ("coach", "player"), usual=3),
)
@pytest.mark.slow
def test_no_text_is_too_long_for_a_sheet(sheet, audience):
    """However long a title, a note or a gap's name, the sheets are made, with bounded work."""
    routine, answer = blue_and_back()
    shot = replace(routine.shots[0], title=LONG, question=LONG, answer=LONG, note=LONG)
    gaps = tuple(replace(gap, title=LONG) for gap in routine.gaps)
    routine = replace(
        routine, title=LONG, coach=LONG, club=LONG, notes=LONG, gaps=gaps, shots=(shot,)
    )
    with cProfile.Profile() as work:
        data = handout_pdf([(routine, answer)], audience=audience, sheet=sheet)
    # calls, not seconds: they are the same on a busy machine
    assert sum(part.callcount for part in work.getstats()) < MOST_CALLS
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            flow = [char for char in page.chars if char["tag"] in ("P", "H1", "H2", "H3")]
            assert all(char["x1"] <= page.width - 20 for char in flow)
            assert all(char["bottom"] <= page.height - 20 for char in flow)


@pytest.mark.parametrize("landscape", [False, True])
@pytest.mark.slow
def test_a_whole_frame_of_balls_is_told(landscape):
    """Twenty-two balls, fifteen of them packed: every reading in the table, rows on two pages."""
    from tests.designer.samples.invented_answers import SPOTS, placement

    reds = [
        Ball(f"red-{row}-{i}", "red", 889.0 + (i - row / 2) * 52.6, 2735.0 + row * 45.6)
        for row in range(5)
        for i in range(row + 1)
    ]
    colours = [Ball(kind, kind, *at) for kind, at in SPOTS.items()]
    routine, answer = blue_and_back()
    routine = replace(routine, balls=(routine.balls[0], *colours, *reds), gaps=(), shots=())
    answer = replace(
        answer, shots=(), verdicts=(), claims=(), placements=tuple(map(placement, routine.balls))
    )
    text = text_of(handout_pdf([(routine, answer)], landscape=landscape))
    for number in range(1, 23):
        told = rf"(?<!\S){number} (R\d+|Cue|Y|G|Br|Bl|P|Bk) (on|\d+ from) "
        assert re.search(told, text), number


def test_a_half_made_routine_still_prints():
    _, answer = blue_and_back()
    empty = replace(answer, shots=(), verdicts=(), claims=(), placements=())
    for audience in ("coach", "player"):
        text = text_of(handout_pdf([(Routine(), empty)], audience=audience))
        assert "Routine without a title" in text and "No balls placed yet." in text


def test_a_refused_shot_says_why():
    routine, answer = blue_and_back()
    refused = replace(answer.shots[0], refusals=(Fact("no-cue-ball"),), lanes=(), pot=None)
    text = text_of(handout_pdf([(routine, replace(answer, shots=(refused,)))]))
    assert "There is no cue ball: place one." in text


def test_wrong_choices_are_refused_with_what_is_known():
    pair = blue_and_back()
    with pytest.raises(UnknownNameError, match="a3, a4, a5, letter"):
        handout_pdf([pair], paper="b2")
    with pytest.raises(UnknownNameError, match="coach, player"):
        handout_pdf([pair], audience="referee")
    with pytest.raises(UnknownNameError, match="mm, inch"):
        handout_pdf([pair], unit="cm")
    with pytest.raises(OutOfRangeError, match="at least 1"):
        handout_pdf([])


@pytest.mark.slow
def test_a_pack_of_reds_keeps_its_letters_off_the_balls():
    """Fifteen reds a hair apart: every letter is on the sheet, none under 7 pt."""
    reds = [
        Ball(f"red-{row}-{i}", "red", 889.0 + (i - row / 2) * 52.6, 2735.0 + row * 45.6)
        for row in range(5)
        for i in range(row + 1)
    ]
    from tests.designer.samples.invented_answers import placement

    routine, answer = blue_and_back()
    routine = replace(routine, balls=(*routine.balls[:2], *reds), gaps=(), shots=(), claims=())
    answer = replace(
        answer, shots=(), verdicts=(), claims=(),
        placements=tuple(placement(ball) for ball in routine.balls),
    )  # fmt: skip
    text = text_of(handout_pdf([(routine, answer)]))
    assert all(f"R{number}" in text for number in range(1, 16))
