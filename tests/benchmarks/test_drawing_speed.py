"""How long a drawing takes to build and to paint: what a drag pays for on every frame."""

from __future__ import annotations

import pytest

from designer.drawing import build_drawing
from designer.handouts import handout_pdf
from tests.designer.samples.invented_answers import blue_and_back, ten_balls


def test_building_with_five_lanes(benchmark):
    routine, answer = blue_and_back()
    drawing = benchmark(build_drawing, routine, answer)
    assert len(drawing.items) > 80


def test_painting_on_a_screen_sized_image(benchmark):
    from PySide6.QtGui import QImage, QPainter

    from designer.painters.png import ensure_application
    from designer.painters.qt import paint, world_transform

    ensure_application()
    drawing = build_drawing(*blue_and_back())
    image = QImage(480, 900, QImage.Format.Format_ARGB32_Premultiplied)

    def once():
        painter = QPainter(image)
        painter.setTransform(world_transform(drawing, 480))
        paint(drawing, painter)
        painter.end()

    benchmark(once)


@pytest.mark.parametrize("count", [10, 50])
def test_a_booklet(benchmark, count):
    pairs = [blue_and_back(), ten_balls()] * (count // 2)
    data = benchmark.pedantic(handout_pdf, args=(pairs,), rounds=1)
    assert data.startswith(b"%PDF")
