"""Texts painted from kept pictures look like their outlines, at any scale, angle and place."""

import numpy as np
import pytest
from PySide6.QtGui import QImage, QPainter, QTransform

from designer.drawing.model import Text
from designer.painters.qt import paint_item
from designer.painters.text_pictures import SHARES, TextPictures


def painted(item, world, ratio, paint):
    image = QImage(int(200 * ratio), int(120 * ratio), QImage.Format.Format_RGB32)
    image.setDevicePixelRatio(ratio)
    image.fill(0xFFE0E8E0)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setTransform(world)
    paint(item, painter)
    assert painter.worldTransform() == world
    painter.end()
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), -1, 4)
    return rows[:, :, :3].astype(float)


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0])
@pytest.mark.parametrize("angle", [0.0, 90.0, 180.0, 270.0])
@pytest.mark.parametrize("turned", [False, True])
def test_a_picture_looks_like_the_outline(qapp, ratio, angle, turned):
    item = Text(
        "measure", (400.0, 300.0), "R10 1649 ½Åg", 60.0, "#10202a", bold=True, angle_deg=angle
    )
    world = QTransform(0.25, 0, 0, -0.25, 0.25 * 20, 130.25)
    if turned:
        world = QTransform(0, -0.25, -0.25, 0, 170.5, 160.0)
    pictures = TextPictures()
    plain = painted(item, world, ratio, paint_item)
    assert np.ptp(plain) > 100.0
    for _ in range(2):
        # the second time it comes from the picture
        kept = painted(item, world, ratio, pictures.paint)
        # at most a share of a pixel aside: a few edges differ a little
        assert np.abs(kept - plain).mean() < 1.5 + 4.0 / SHARES
        assert abs(kept.sum() - plain.sum()) < 0.002 * plain.sum()
    assert len(pictures._kept) == 1


def test_another_size_or_text_is_another_picture(qapp):
    pictures = TextPictures()
    world = QTransform(0.25, 0, 0, -0.25, 10, 110)
    for text, size in (("A", 60.0), ("B", 60.0), ("A", 50.0)):
        item = Text("letter", (300.0, 200.0), text, size, "#000000")
        shown = painted(item, world, 1.0, pictures.paint)
        assert np.abs(shown - painted(item, world, 1.0, paint_item)).mean() < 1.0
    assert len(pictures._kept) == 3
