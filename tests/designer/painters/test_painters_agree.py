"""The same drawing by three painters, read back and compared by readers of other makers."""

from __future__ import annotations

import io

import numpy as np
import pypdfium2
import pytest
from PIL import Image
from PySide6.QtCore import QByteArray, QRectF
from PySide6.QtGui import QFontDatabase, QImage, QPainter
from PySide6.QtSvg import QSvgRenderer

from designer.drawing import PLACEMENT_LAYERS, Look, build_drawing, contact_drawing, tip_drawing
from designer.fonts.files import font_path
from designer.painters.pdf import pdf_bytes
from designer.painters.png import ensure_application, png_bytes
from designer.painters.svg import svg_bytes
from engine.routine.context import conditions_of
from tests.designer.samples.invented_answers import blue_and_back, ten_balls
from tests.shares import mixed

WIDE = 900


def from_png(drawing) -> np.ndarray:
    image = Image.open(io.BytesIO(png_bytes(drawing, WIDE))).convert("L")
    return np.asarray(image, dtype=float)


def from_svg(drawing, height: int) -> np.ndarray:
    ensure_application()
    for bold in (False, True):
        QFontDatabase.addApplicationFont(str(font_path(bold)))
    renderer = QSvgRenderer(QByteArray(svg_bytes(drawing)))
    assert renderer.isValid()
    image = QImage(WIDE, height, QImage.Format.Format_RGB32)
    image.fill(0xFFFFFFFF)
    painter = QPainter(image)
    renderer.render(painter, QRectF(0, 0, WIDE, height))
    painter.end()
    data = np.frombuffer(image.constBits(), dtype=np.uint8).reshape(height, WIDE, 4)
    return np.asarray(Image.fromarray(data[..., 2::-1].copy()).convert("L"), dtype=float)


def from_pdf(drawing, height: int) -> np.ndarray:
    page = pypdfium2.PdfDocument(pdf_bytes(drawing, 180.0))[0]
    assert page.get_width() / page.get_height() == pytest.approx(
        drawing.width_mm / drawing.height_mm, rel=1e-3
    ), "the same bounds in every format"
    bitmap = page.render(scale=WIDE / page.get_width())
    image = bitmap.to_pil().convert("L").resize((WIDE, height))
    return np.asarray(image, dtype=float)


def share_that_differs(one: np.ndarray, other: np.ndarray) -> float:
    """Share of pixels that differ by more than a quarter of black to white.

    Each is first averaged over 3 by 3 pixels: painters may place an edge half a pixel apart.
    """

    def calm(a: np.ndarray) -> np.ndarray:
        padded = np.pad(a, 1, mode="edge")
        return (
            sum(padded[i : i + a.shape[0], j : j + a.shape[1]] for i in range(3) for j in range(3))
            / 9
        )

    return float((np.abs(calm(one) - calm(other)) > 64).mean())


@pytest.mark.parametrize(
    ("sample", "turned"), mixed((blue_and_back, ten_balls), (False, True), usual=2)
)
@pytest.mark.slow
def test_png_svg_and_pdf_agree_within_one_percent_of_pixels(qapp, sample, turned):
    routine, answer = sample()
    for layers in (None, PLACEMENT_LAYERS):
        options = {} if layers is None else {"layers": layers}
        drawing = build_drawing(routine, answer, look=Look(turned=turned), **options)
        png = from_png(drawing)
        svg = from_svg(drawing, png.shape[0])
        pdf = from_pdf(drawing, png.shape[0])
        assert (png < 128).mean() > 0.004, "the picture is nearly empty"
        assert share_that_differs(png, svg) < 0.01
        assert share_that_differs(png, pdf) < 0.01


@pytest.mark.parametrize("closeup", ["contact", "tips", "second distances", "measured in inches"])
@pytest.mark.slow
def test_close_ups_and_measured_drawings_agree_too(qapp, closeup):
    routine, answer = ten_balls()
    look = Look().at_scale(1.5)
    drawing = {
        "contact": lambda: contact_drawing(routine, answer.shots[0].pot, look),
        "tips": lambda: tip_drawing(conditions_of(routine), (0.25, -0.1), look),
        "second distances": lambda: build_drawing(
            routine, answer, PLACEMENT_LAYERS, look=Look().at_scale(18.0)
        ),
        "measured in inches": lambda: build_drawing(
            routine, answer, PLACEMENT_LAYERS, "inch", look=Look(turned=True).at_scale(22.0)
        ),
    }[closeup]()
    png = from_png(drawing)
    assert (png < 128).mean() > 0.004, "the picture is nearly empty"
    assert share_that_differs(png, from_svg(drawing, png.shape[0])) < 0.01
    assert share_that_differs(png, from_pdf(drawing, png.shape[0])) < 0.01


@pytest.mark.slow
def test_a_moved_ball_is_a_difference_the_comparison_sees(qapp):
    """The measure of agreement can fail: another routine is far outside one percent."""
    one = from_png(build_drawing(*blue_and_back()))
    other = from_png(build_drawing(*ten_balls()))
    assert share_that_differs(one, other) > 0.01
