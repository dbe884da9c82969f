"""Pictures and sheets in every format by command: sizes, shapes and what moves."""

from __future__ import annotations

import io
from pathlib import Path

import pdfplumber
import pytest
from PIL import Image

from designer.commands.main import main
from tests.shares import share

DEMO = str(next((Path(__file__).parents[3] / "layouts_demo").glob("11-*.json")))
POINTS = {"a3": (841.9, 1190.6), "a4": (595.3, 841.9), "a5": (419.5, 595.3),
          "letter": (612.0, 792.0)}  # fmt: skip


def made(tmp_path, name: str, *options: str) -> bytes:
    out = tmp_path / name
    command = "handout" if "--paper" in options else "diagram"
    assert main([command, DEMO, "-o", str(out), *options]) == 0
    return out.read_bytes()


@pytest.mark.parametrize("width", [1280, 1920, 3840])
def test_the_projectors_picture_is_exactly_16_to_9(tmp_path, width):
    image = Image.open(io.BytesIO(made(tmp_path, "x.png", "--projector", "--width", str(width))))
    assert image.size == (width, width * 9 // 16)


def test_the_pdf_diagram_has_the_bounds_of_the_svg(tmp_path):
    import xml.etree.ElementTree as ET

    svg = ET.fromstring(made(tmp_path, "x.svg"))
    with pdfplumber.open(io.BytesIO(made(tmp_path, "x.pdf"))) as pdf:
        page = pdf.pages[0]
        size = [float(svg.attrib[side].removesuffix("mm")) for side in ("width", "height")]
        assert [page.width / 72 * 25.4, page.height / 72 * 25.4] == pytest.approx(size, abs=0.01)


@pytest.mark.slow
def test_a_film_by_command(tmp_path, qapp):
    data = made(tmp_path, "x.gif", "--shot", "which-pace", "--lane", "E", "--speed", "2",
                "--width", "200")  # fmt: skip
    image = Image.open(io.BytesIO(data))
    assert image.format == "GIF" and image.is_animated and image.n_frames > 10
    assert image.width == 200
    other = made(tmp_path, "y.gif", "--shot", "which-pace", "--speed", "2", "--width", "200")
    assert other != data, "the first lane is another"


def test_a_lane_there_is_none_of_is_refused(tmp_path, capsys, qapp):
    assert main(["diagram", DEMO, "-o", str(tmp_path / "x.gif"), "--lane", "Z"]) == 2
    assert "Z" in capsys.readouterr().err and not (tmp_path / "x.gif").exists()


@pytest.mark.parametrize("paper", share(POINTS, 2))
@pytest.mark.slow
def test_sheets_on_every_paper(tmp_path, paper):
    data = made(tmp_path, "x.pdf", "--paper", paper, "--for", "player")
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            assert (page.width, page.height) == pytest.approx(POINTS[paper], abs=0.1)
            assert all(char["x0"] > 0 and char["x1"] < page.width for char in page.chars)
            assert all(char["size"] >= 6.99 for char in page.chars if char["upright"])
