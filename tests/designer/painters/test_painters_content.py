"""What the painters write, read back: text, layers, fonts, sizes, and text nobody should trust."""

from __future__ import annotations

import io
import re
from datetime import UTC, datetime
from importlib.metadata import version

import pdfplumber
import pypdf
import pytest
from lxml import etree
from PIL import Image

from designer.drawing import Layers, Look, build_drawing
from designer.drawing.model import Drawing, Fill, Text
from designer.fonts.metrics import MISSING, printable, text_width
from designer.painters.pdf import pdf_bytes
from designer.painters.png import png_bytes
from designer.painters.svg import svg_bytes
from engine.errors import OutOfRangeError
from tests.designer.samples.invented_answers import blue_and_back, hostile, ten_balls

SVG = "{http://www.w3.org/2000/svg}"


def measured(sample=blue_and_back):
    return build_drawing(*sample(), Layers(measurements=True))


def test_svg_has_title_description_size_and_every_text():
    drawing = measured()
    root = etree.fromstring(svg_bytes(drawing, width_mm=200.0))
    assert root.find(f"{SVG}title").text == "Blue and back to baulk"
    assert "889 mm from the left cushion face" in root.find(f"{SVG}desc").text
    assert root.get("width") == "200mm"
    ratio = float(root.get("height").removesuffix("mm")) / 200.0
    assert ratio == pytest.approx(drawing.height_mm / drawing.width_mm, rel=1e-4)
    told = [node.text for node in root.iter(f"{SVG}text")]
    assert told == [item.text for item in drawing.items if isinstance(item, Text)]


def test_svg_groups_carry_the_roles():
    root = etree.fromstring(svg_bytes(measured()))
    classes = {node.get("class") for node in root.iter(f"{SVG}g")} - {None}
    assert {"bed", "lane", "corridor", "ball", "measure", "letter", "gap"} <= classes


def test_svg_holds_no_script_and_no_link_whatever_the_texts_say():
    data = svg_bytes(build_drawing(*hostile()))
    root = etree.fromstring(data)
    kinds = {etree.QName(node).localname for node in root.iter()}
    assert kinds <= {"svg", "title", "desc", "g", "path", "circle", "polygon", "rect", "text"}
    assert "<script>alert(1)</script>" in root.find(f"{SVG}title").text
    assert MISSING in root.find(f"{SVG}title").text
    assert not re.search(r"[\x00-\x08\x0b-\x1f\u202e\u200b]", data.decode("utf-8"))


def test_pdf_embeds_the_font_and_holds_every_text():
    drawing = measured(ten_balls)
    data = pdf_bytes(drawing, width_mm=190.0)
    page = pypdf.PdfReader(io.BytesIO(data)).pages[0]
    told = page.extract_text()
    for item in drawing.items:
        if isinstance(item, Text):
            assert item.text in told
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        fonts = {char["fontname"] for char in pdf.pages[0].chars}
    assert fonts and all("DejaVuSans" in font for font in fonts)
    for font in page["/Resources"]["/Font"].values():
        font = font.get_object()
        if "DejaVu" in font["/BaseFont"]:
            assert "/FontFile2" in font["/FontDescriptor"]
    assert "/XObject" not in page["/Resources"], "the drawing is vectors, not a picture"


def test_pdf_scale_is_true():
    """A bar of 100 table mm drawn at 1:2 is 50 mm long in the file."""
    bar = Fill("scale-bar", ((0, 0), (100, 0), (100, 10), (0, 10)), "#000000")
    data = pdf_bytes(Drawing((bar,), (0.0, 0.0, 100.0, 40.0)), width_mm=50.0)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        found = pdf.pages[0].curves + pdf.pages[0].rects
        x0 = min(shape["x0"] for shape in found)
        x1 = max(shape["x1"] for shape in found)
    assert (x1 - x0) / 72 * 25.4 == pytest.approx(50.0, abs=0.01)


def test_pdf_metadata_and_repeatable_bytes():
    drawing = build_drawing(*hostile())
    made = datetime(2025, 3, 1, 18, 30, tzinfo=UTC)
    one, other = pdf_bytes(drawing, made_at=made), pdf_bytes(drawing, made_at=made)
    assert one == other
    info = pypdf.PdfReader(io.BytesIO(one)).metadata
    assert info.title == printable(drawing.title)
    assert info.creation_date == made


def test_png_size_transparency_and_greyscale_contrast(qapp):
    drawing = build_drawing(*blue_and_back())
    image = Image.open(io.BytesIO(png_bytes(drawing, 640)))
    assert image.size[0] == 640
    assert image.size[1] == pytest.approx(640 * drawing.height_mm / drawing.width_mm, abs=1)
    assert image.info["Title"] == drawing.title
    bare = build_drawing(*blue_and_back(), Layers(table=False))
    clear = Image.open(io.BytesIO(png_bytes(bare, 640, transparent=True))).convert("RGBA")
    assert clear.getpixel((2, 2))[3] == 0
    assert clear.getchannel("A").getextrema() == (0, 255)
    solid = Image.open(io.BytesIO(png_bytes(bare, 640))).convert("RGBA")
    assert solid.getchannel("A").getextrema() == (255, 255)


def test_png_paints_hostile_text_without_complaint(qapp):
    assert png_bytes(build_drawing(*hostile()), 300).startswith(b"\x89PNG")


@pytest.mark.parametrize("width", [0, -5, 30_000])
def test_a_picture_no_one_can_have_is_refused(width):
    drawing = build_drawing(*blue_and_back())
    with pytest.raises(OutOfRangeError, match="wanted 1 to 20000 px"):
        png_bytes(drawing, width)
    with pytest.raises(OutOfRangeError):
        svg_bytes(drawing, -1.0 if width >= 0 else 0.0)
    with pytest.raises(OutOfRangeError):
        pdf_bytes(drawing, 0.0)


def test_widths_agree_with_the_font_file_as_qt_reads_it(qapp):
    from PySide6.QtGui import QRawFont

    from designer.fonts.files import font_path

    for bold in (False, True):
        font = QRawFont(str(font_path(bold)), 1000.0)
        for char in "A8½”é✓✗ßWi ":
            glyph = font.glyphIndexesForString(char)
            advance = font.advancesForGlyphIndexes(glyph)[0].x()
            assert text_width(char, 1000.0, bold) == pytest.approx(advance, abs=1.5), char


def test_turned_drawing_reads_upright_in_svg():
    """Texts are turned back by as much as the page is turned: the two transforms cancel."""
    root = etree.fromstring(svg_bytes(build_drawing(*blue_and_back(), look=Look(turned=True))))
    outer = next(root.iter(f"{SVG}g")).get("transform")
    a, b, c, d, *_ = map(float, re.findall(r"-?[\d.]+", outer))
    assert (a, d) == (0, 0) and b * c > 0
    rotations = {re.search(r"rotate\(([^)]*)\)", t.get("transform")).group(1)
                 for t in root.iter(f"{SVG}text")}  # fmt: skip
    assert rotations == {"90"}


def test_the_qt_in_use_keeps_count_of_its_references(qapp):
    """PySide6 6.12.0 drops a reference to None on every call under Python 3.11."""
    import sys

    from PySide6.QtCore import QObject

    thing = QObject()
    before = sys.getrefcount(None)
    for _ in range(1000):
        thing.setObjectName("a")
    assert sys.getrefcount(None) > before - 500, f"PySide6 {version('PySide6-Essentials')}"
