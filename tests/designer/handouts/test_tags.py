"""Tagged sheets: every text belongs to an element or an artifact, figures have words."""

from __future__ import annotations

import io

import pdfplumber
import pypdf
import pytest

from designer.drawing import build_drawing
from designer.handouts import handout_pdf
from designer.painters.pdf import pdf_bytes
from tests.designer.samples.invented_answers import blue_and_back, ten_balls
from tests.shares import share

KINDS = [("full", "coach"), ("full", "player"), ("steps", "coach"), ("record", "coach"),
         ("card", "coach"), ("strip", "coach"), ("poster", "player")]  # fmt: skip


def elements(data: bytes):
    """All structure elements of a file, as pypdf reads them, in reading order."""
    root = pypdf.PdfReader(io.BytesIO(data)).trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"]

    def walk(part):
        part = part.get_object()
        yield part
        kids = part.get("/K", [])
        for kid in kids if isinstance(kids, list) else [kids]:
            if not isinstance(kid, int):
                yield from walk(kid)

    return [e for top in root["/StructTreeRoot"]["/K"] for e in walk(top)]


@pytest.mark.parametrize(("sheet", "audience"), share(KINDS, 2))
@pytest.mark.slow
def test_every_text_is_marked_and_the_marks_are_known(sheet, audience):
    pairs = [blue_and_back(), ten_balls()]
    data = handout_pdf(pairs, audience=audience, sheet=sheet, booklet=True)
    reader = pypdf.PdfReader(io.BytesIO(data))
    assert reader.trailer["/Root"]["/Lang"] == "en-GB"
    known = {page.indirect_reference.idnum: set() for page in reader.pages}
    for element in elements(data):
        if "/Pg" in element:
            marks = known[element.raw_get("/Pg").idnum]
            assert element["/K"] not in marks
            marks.add(element["/K"])
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page, source in zip(pdf.pages, reader.pages, strict=True):
            code = source.get_contents().get_data()
            assert code.count(b"BDC") + code.count(b"BMC") == code.count(b"EMC") > 0
            marks = known[source.indirect_reference.idnum]
            for char in page.chars:
                assert char["tag"] is not None, char["text"]
                assert char["mcid"] in marks if char["tag"] != "Artifact" else True
            used = {char["mcid"] for char in page.chars} - {None}
            assert used, "the page says something"


@pytest.mark.parametrize(("sheet", "audience"), KINDS)
def test_figures_have_words(sheet, audience):
    routine, answer = ten_balls()
    data = handout_pdf([(routine, answer)], audience=audience, sheet=sheet)
    figures = [e for e in elements(data) if e["/S"] == "/Figure"]
    if sheet == "record":
        assert not figures
        return
    assert figures and all(len(e["/Alt"]) > 20 for e in figures)


@pytest.mark.slow
def test_parts_stand_in_their_places():
    data = handout_pdf([blue_and_back(), ten_balls()])
    found = elements(data)
    kinds = [e["/S"] for e in found]
    assert kinds[0] == "/Document" and kinds.count("/Sect") == 2 and kinds.count("/H1") == 2
    for kind in ("/H2", "/H3", "/P", "/Figure", "/Table", "/TR", "/TD"):
        assert kind in kinds
    parents = {"/TR": "/Table", "/TD": "/TR", "/H1": "/Sect"}
    for element in found:
        if element["/S"] in parents:
            assert element["/P"].get_object()["/S"] == parents[element["/S"]]
    # the head of a page is drawn last and read first
    section = next(e for e in found if e["/S"] == "/Sect")
    assert section["/K"][0].get_object()["/S"] == "/H1"


@pytest.mark.parametrize(("sheet", "audience"), share(KINDS, 3))
@pytest.mark.slow
def test_every_font_named_is_in_the_file(sheet, audience):
    pairs = [blue_and_back(), ten_balls()]
    data = handout_pdf(pairs, audience=audience, sheet=sheet, booklet=True)
    names = set()
    for page in pypdf.PdfReader(io.BytesIO(data)).pages:
        for font in page["/Resources"].get("/Font", {}).values():
            font = font.get_object()
            names.add(font["/BaseFont"].split("+")[-1])
            assert "/FontFile2" in font["/FontDescriptor"], font["/BaseFont"]
    assert names <= {"DejaVuSans", "DejaVuSans-Bold"} and names


def test_the_parent_tree_leads_back_to_the_elements():
    data = handout_pdf([blue_and_back()])
    reader = pypdf.PdfReader(io.BytesIO(data))
    numbers = reader.trailer["/Root"]["/StructTreeRoot"]["/ParentTree"]["/Nums"]
    lists = dict(zip(numbers[::2], numbers[1::2], strict=True))
    for page in reader.pages:
        row = lists[page["/StructParents"]].get_object()
        for mark, element in enumerate(row):
            assert element.get_object()["/K"] == mark


def test_a_diagram_on_its_own_page_has_words_too():
    drawing = build_drawing(*blue_and_back())
    figure = next(e for e in elements(pdf_bytes(drawing)) if e["/S"] == "/Figure")
    assert figure["/Alt"] == drawing.description
