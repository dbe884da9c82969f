"""Any text in any field: every export is sound for a second reader, and says what was typed.

Each case stands in every field of a check, a file and a table of practice. The usual run draws
every ninth case and makes handouts with another case in each field, `BAIZEWRIGHT_FULL=1` draws
each and makes all sheets for each alone.
"""

import csv
import io
import json
import re
from dataclasses import replace
from datetime import date

import pypdfium2
import pytest
from lxml import etree
from PIL import Image
from pypdf import PdfReader

from designer.drawing import build_drawing
from designer.drawing.layers import Layers
from designer.fonts.metrics import MISSING, printable
from designer.handouts import handout_pdf
from designer.painters.pdf import pdf_bytes
from designer.painters.png import png_bytes
from designer.painters.svg import svg_bytes
from designer.words.telling import words_of
from designer.words.wording import Wording
from engine.answers import answer, to_json
from engine.errors import BaizewrightError, RoutineFileError
from engine.records.csv_files import parse_practice, practice_csv
from engine.records.values import Practice
from engine.storage import dump_routine, load_routine, parse_routine, save_routine
from tests.designer.hostile.words import CASES
from tests.shares import FULL

SHEETS = (
    ("full", "coach", "none"), ("full", "player", "upside-down"), ("steps", "coach", "none"),
    ("record", "player", "none"), ("card", "coach", "none"), ("strip", "coach", "none"),
)  # fmt: skip
SVG = "{http://www.w3.org/2000/svg}"
DRAWN = {"svg", "title", "desc", "rect", "g", "path", "circle", "polygon", "text"}
ATTRIBUTES = re.compile(r"^(on.*|href|.*script.*|.*}href|style)$", re.I)
FIELDS = 12
SOUND = [case for case in CASES if not re.search("[\ud800-\udfff]", case)]


def shortened(text):
    return " ".join(text.split())[:3] or "?"


@pytest.fixture(scope="module")
def base():
    """A routine with a gap and a shot, and its answer."""
    from pathlib import Path

    demos = Path(__file__).resolve().parents[3] / "layouts_demo"
    routine = load_routine(demos / "04-left-right-or-between.json")
    first, last = routine.ball("red-left"), replace(routine.ball("red-right"))
    # Two reds near each other, so that there is a strip to make.
    beside = replace(last, x_mm=first.x_mm + 60.0, y_mm=first.y_mm)
    routine = replace(
        routine, balls=tuple(beside if one.id == last.id else one for one in routine.balls)
    )
    return routine, answer(routine)


def filled(routine, texts):
    """The routine with twelve texts in its fields."""
    (title, coach, club, notes, tag, ball, gap, shot, question, told, note, lane) = texts
    shots = tuple(
        replace(
            one, title=shot, question=question, answer=told, note=note,
            lanes=tuple(replace(each, title=lane) for each in one.lanes),
        )
        for one in routine.shots
    )  # fmt: skip
    return replace(
        routine, title=title, coach=coach, club=club, notes=notes, tags=(tag,), shots=shots,
        balls=tuple(replace(one, label=shortened(ball)) for one in routine.balls),
        gaps=tuple(replace(one, title=gap) for one in routine.gaps),
    )  # fmt: skip


def test_there_are_more_than_a_hundred_cases():
    assert len(set(CASES)) == len(CASES) >= 120


@pytest.mark.parametrize("number", range(0, len(CASES), 1 if FULL else 9), ids=lambda n: f"{n}")
@pytest.mark.slow
def test_a_drawing_is_sound_for_other_readers(base, number):
    case = CASES[number]
    routine = filled(base[0], [case] * FIELDS)
    layers = Layers(checks=True, rim_letters=True, measurements=True)
    drawing = build_drawing(routine, base[1], layers)
    svg = svg_bytes(drawing)
    root = etree.fromstring(svg, etree.XMLParser(resolve_entities=False, no_network=True))
    for element in root.iter():
        assert isinstance(element.tag, str), "no remark, no instruction, no entity"
        assert element.tag.removeprefix(SVG) in DRAWN
        assert not [name for name in element.attrib if ATTRIBUTES.match(name)]
    assert printable(case) in root.findtext(f"{SVG}title") or not printable(case).strip()
    pdf = pdf_bytes(drawing)
    page = pypdfium2.PdfDocument(pdf)
    assert len(page) == 1 and page[0].get_textpage().get_text_range()
    assert_nothing_acts(pdf)
    if number % 27 == 0 or FULL:
        picture = Image.open(io.BytesIO(png_bytes(drawing, 300)))
        picture.load()
        assert picture.width == 300


def assert_nothing_acts(pdf):
    """No action, no script, no link that leaves the file, no file within."""
    reader = PdfReader(io.BytesIO(pdf))
    root = reader.trailer["/Root"]
    assert not {"/OpenAction", "/AA", "/AcroForm"} & set(root)
    assert "/JavaScript" not in root.get("/Names", {}) and not reader.attachments
    for page in reader.pages:
        assert "/AA" not in page
        for annotation in page.get("/Annots", []):
            one = annotation.get_object()
            assert "/A" not in one or one["/A"].get("/S") == "/GoTo"
        page.extract_text()
    return reader


def squeezed(text):
    return re.sub(r"[\s\u00a0]+", "", text)


def assert_reads(pdf, cases):
    """The letters of the cases stand on the pages, as far as the font has them."""
    document = pypdfium2.PdfDocument(pdf)
    text = squeezed("".join(page.get_textpage().get_text_range() for page in document))
    for case in cases:
        first = squeezed(printable(case))[:12]
        # Letters that join, stand on others or run to the left come back in another order.
        if first and re.fullmatch(r"[!-~]+", first) and MISSING not in first:
            assert first in text, case


@pytest.mark.slow
def test_sheets_with_a_case_in_every_field(base):
    """Twelve cases at a time, the kinds of sheet in turn."""
    step = FIELDS
    for turn, begin in enumerate(range(0, len(CASES), step)):
        texts = [CASES[(begin + i) % len(CASES)] for i in range(FIELDS)]
        routine = filled(base[0], texts)
        sheets = SHEETS if FULL else (SHEETS[turn % len(SHEETS)],)
        for sheet, audience, told in sheets:
            pdf = handout_pdf(
                [(routine, base[1])], "a4", audience, "mm", sheet=sheet, answers=told,
                booklet=turn % 2 == 0, booklet_title=texts[0],
            )  # fmt: skip
            reader = assert_nothing_acts(pdf)
            assert len(reader.pages) >= 1
            if sheet == "full" and audience == "coach":
                assert_reads(pdf, texts[:1])


@pytest.mark.skipif(not FULL, reason="some minutes: BAIZEWRIGHT_FULL=1")
@pytest.mark.parametrize("number", range(len(CASES)), ids=lambda n: f"{n}")
def test_all_sheets_with_one_case_everywhere(base, number):
    routine = filled(base[0], [CASES[number]] * FIELDS)
    for sheet, audience, told in SHEETS:
        pdf = handout_pdf(
            [(routine, base[1])], "a4", audience, "mm", sheet=sheet, answers=told, booklet=True,
            booklet_title=CASES[number],
        )  # fmt: skip
        assert_nothing_acts(pdf)
        if (sheet, audience) == ("full", "coach"):
            assert_reads(pdf, [CASES[number]])


@pytest.mark.slow
def test_checks_as_json_hold_the_text_as_it_is(base):
    for case in CASES:
        routine = filled(base[0], [case] * FIELDS)
        text = json.dumps(
            to_json(base[1], routine, words=words_of(Wording(routine))), allow_nan=False
        )
        assert json.loads(text) == json.loads(
            json.dumps(to_json(base[1], routine, words=words_of(Wording(routine))))
        )


@pytest.mark.slow
def test_files_hold_the_text_or_say_why_not(base, tmp_path):
    path = tmp_path / "a.json"
    for case in CASES:
        routine = filled(base[0], [case] * FIELDS)
        if case in SOUND:
            try:
                assert parse_routine(dump_routine(routine)) == routine
            except RoutineFileError as error:
                # Some fields are held to a length or to one line; the fault says which.
                assert error.faults and all(fault.path for fault in error.faults)
            continue
        # Half a character cannot be written; what stands in for it can be read again.
        save_routine(routine, path)
        assert load_routine(path).title == case.encode("utf-8", "replace").decode()


def test_tables_of_practice_hold_the_text():
    day = date(2026, 3, 1)
    kept = 0
    for case in SOUND:
        try:
            rows = (Practice("QZ", case, day, 10, 6, note=case),)
        except BaizewrightError:
            continue
        text = practice_csv(rows)
        (head, row) = list(csv.reader(io.StringIO(text, newline="")))
        assert len(row) == len(head)
        assert parse_practice(text) == rows, repr(case)
        kept += 1
    assert kept > 20
