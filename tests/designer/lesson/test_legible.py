"""What can be read from the back of the room, measured from the painted window."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPointF, QRect, Qt
from PySide6.QtWidgets import QApplication, QLabel

from designer.drawing import roles
from designer.drawing.look import BALL_INKS, CLOTH
from designer.drawing.model import Disc, Fill, Text
from designer.drawing.placing import text_box
from designer.window.look import dress
from engine.storage import load_routine
from tests.designer.pixels import pixels_of
from tests.shares import mixed

SIZES = [(1366, 768), (1920, 1080)]
DEMOS = sorted(Path(__file__).parents[3].glob("layouts_demo/*.json"))
#: Shares of the picture's height.
QUESTION, BALL, LETTER = 0.04, 0.025, 0.025
READABLE = 4.5


@pytest.fixture
def routine():
    return load_routine(DEMOS[3])


@pytest.fixture(params=["light", "dark"])
def look(request):
    """The program's look, light again afterwards."""
    dress(QApplication.instance(), request.param)
    yield request.param
    dress(QApplication.instance(), "light")


def is_ink(pixels):
    """Where a picture is not of its commonest colour."""
    flat = pixels.reshape(-1, 3)
    colours, counts = np.unique(flat, axis=0, return_counts=True)
    return np.abs(pixels.astype(int) - colours[counts.argmax()]).max(axis=2) > 60


def first_capital_high(label):
    """Height of the ink of a label's first letter, px: the first columns with ink in its line."""
    line = is_ink(pixels_of(label))[: label.fontMetrics().height()]
    columns = line.any(axis=0)
    begin = int(columns.argmax())
    end = begin + int((~columns[begin:]).argmax())
    rows = np.flatnonzero(line[:, begin:end].any(axis=1))
    return rows[-1] - rows[0] + 1


def ball_high(lesson, ball):
    """Height of a ball as it is painted, px: twice the least way from its middle to the cloth."""
    at = lesson.table.transform().map(QPointF(*ball.centre_mm)).toPoint()
    pixels = pixels_of(lesson.table).astype(int)
    assert np.abs(pixels[at.y(), at.x()] - rgb(BALL_INKS[ball.kind].fill)).max() < 60
    cloth = np.abs(pixels - rgb(CLOTH)).max(axis=2) < 60
    down, up = cloth[at.y() :, at.x()], cloth[at.y() :: -1, at.x()]
    right, left = cloth[at.y(), at.x() :], cloth[at.y(), at.x() :: -1]
    return 2 * min(int(way.argmax()) for way in (down, up, right, left))


def letter_high(lesson, text):
    """Height of a letter on the table, px, from the painted table under its box."""
    matrix = lesson.table.transform()
    x0, y0, x1, y1 = text_box(text, -text.size_mm * 0.02)
    box = QRect(
        matrix.map(QPointF(x0, y0)).toPoint(), matrix.map(QPointF(x1, y1)).toPoint()
    ).normalized()
    assert lesson.table.rect().contains(box), f"{text.text} is not wholly in the picture"
    part = pixels_of(lesson.table)[box.top() : box.bottom(), box.left() : box.right()]
    rows = np.flatnonzero(is_ink(part).any(axis=1))
    return rows[-1] - rows[0] + 1


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.quick
def test_question_balls_and_letters_are_large_enough(make_lesson, routine, size):
    lesson = make_lesson(routine, size)
    assert first_capital_high(lesson.question.asked) >= QUESTION * size[1]
    reds = [ball for ball in routine.balls if ball.kind == "red"]
    assert len(reds) == 2
    assert all(ball_high(lesson, ball) >= BALL * size[1] for ball in reds)


@pytest.mark.parametrize(("path", "size"), mixed(DEMOS, SIZES, usual=4))
@pytest.mark.slow
def test_every_demo_is_legible(qtbot, make_lesson, path, size):
    """Where balls are smaller than asked, each has a letter beside it that is not."""
    lesson = make_lesson(load_routine(path), size)
    session = lesson._session
    for _ in session.routine.shots:
        pixels_of(lesson)
        asked = lesson.question.asked
        assert first_capital_high(asked) >= QUESTION * size[1]
        scale = abs(lesson.table.transform().m11()) or abs(lesson.table.transform().m12())
        small = 2 * session.conditions.ball_radius_mm * scale < BALL * size[1]
        drawing = lesson.table._scenery.drawing(scale)
        letters = drawing.with_roles(roles.BALL_LETTER)
        texts = [one for one in letters if isinstance(one, Text)]
        seen = [
            one
            for one in texts
            if lesson.table.rect().contains(
                lesson.table.transform().map(QPointF(*one.at)).toPoint()
            )
        ]
        assert seen
        if small:
            assert all(letter_high(lesson, one) >= LETTER * size[1] for one in seen)
        for label in lesson.findChildren(QLabel):
            if label.text() and label.isVisible():
                assert lesson.rect().contains(
                    QRect(label.mapTo(lesson, label.rect().topLeft()), label.size())
                )
        qtbot.keyClick(lesson, Qt.Key.Key_Right)


@pytest.mark.parametrize("size", SIZES)
def test_a_question_of_any_length_leaves_the_table_its_room(make_lesson, routine, size):
    (shot,) = routine.shots
    for words in ("Why", "Which stroke, of all these, " * 60):
        long = replace(shot, question=words)
        lesson = make_lesson(replace(routine, shots=(long,)), size)
        assert lesson.table.height() > size[1] * 0.4
        below = lesson.question.geometry().bottom()
        assert below < lesson.table.geometry().top()
        for label in (lesson.question.asked, lesson.question.more):
            needed = label.heightForWidth(label.width()) if label.text() else 0
            assert needed <= label.height() + 1, "nothing is clipped"


def test_the_pocket_of_the_shot_is_ringed(make_lesson, routine):
    (shot,) = routine.shots
    rings = {}
    for pocket in (shot.pocket, ""):
        one = replace(routine, shots=(replace(shot, pocket=pocket),))
        pixels = pixels_of(make_lesson(one).table).astype(int)
        orange = np.abs(pixels - (0xD5, 0x5E, 0x00)).max(axis=2) < 40
        rings[pocket] = int(orange.sum())
    assert rings[shot.pocket] > 300 and rings[""] < 30


def brightness(colour):
    """Relative luminance of a colour, 0 to 1 (WCAG 2.1)."""
    share = np.asarray(colour, dtype=float) / 255.0
    linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
    return float(linear @ (0.2126, 0.7152, 0.0722))


def contrast(one, other):
    """Contrast of two colours, 1 to 21 (WCAG 2.1)."""
    low, high = sorted((brightness(one), brightness(other)))
    return (high + 0.05) / (low + 0.05)


def painted_contrast(pixels):
    """Contrast of the ink to the ground in a picture of a text."""
    flat = pixels.reshape(-1, 3)
    colours, counts = np.unique(flat, axis=0, return_counts=True)
    ground = colours[counts.argmax()]
    return max(contrast(ground, colour) for colour in colours)


def rgb(name):
    return [int(name.lstrip("#")[i : i + 2], 16) for i in (0, 2, 4)]


@pytest.mark.usefixtures("look")
def test_every_text_of_the_lesson_stands_out(qtbot, make_lesson, routine):
    lesson = make_lesson(routine)
    qtbot.keyClick(lesson, "2")
    player = lesson._session.player
    for _ in lesson.cards.cards:
        qtbot.keyClick(lesson, Qt.Key.Key_Space)
        player.advance(player.replay.duration_s)
    labels = [one for one in lesson.findChildren(QLabel) if one.isVisible() and one.text()]
    assert len(labels) >= 6
    for label in labels:
        assert painted_contrast(pixels_of(label)) >= READABLE, label.text()
    for card in lesson.cards.cards:
        right = pixels_of(card)[8:-8, round(card.width() * 0.36) : -10]
        rows = np.array_split(right, 3)
        assert all(painted_contrast(row) >= READABLE for row in rows), card.face


def test_every_text_on_the_table_stands_out(make_lesson, routine, look):
    """Each text of the drawing against what was painted last beneath it."""
    lesson = make_lesson(routine)
    pixels_of(lesson)
    scale = abs(lesson.table.transform().m12())
    drawing = lesson.table._scenery.drawing(scale)
    seen = 0
    for place, item in enumerate(drawing.items):
        if not isinstance(item, Text):
            continue
        under = [one for one in drawing.items[:place] if covers(one, item.at)]
        assert contrast(rgb(item.colour), rgb(under[-1].colour)) >= READABLE, item.text
        seen += 1
    assert seen >= 5
    table = drawing.with_roles(roles.BED, roles.CUSHION, roles.RIM)
    dark = [brightness(rgb(one.colour)) < 0.1 for one in table if isinstance(one, Fill)]
    assert len(dark) > 6 and set(dark) == {look == "dark"}


def covers(item, at):
    if isinstance(item, Disc):
        return float(np.hypot(*np.subtract(at, item.centre))) < item.radius_mm
    if not isinstance(item, Fill) or item.opacity < 0.5:
        return False
    xs, ys = zip(*item.points, strict=True)
    return min(xs) <= at[0] <= max(xs) and min(ys) <= at[1] <= max(ys)


def test_in_dark_everything_is_dark(make_lesson, routine, look):
    """Most of the picture, and all of its paper and cloth."""
    pixels = pixels_of(make_lesson(routine))
    light = (pixels.min(axis=2) > 150).mean()
    assert light < 0.1 if look == "dark" else light > 0.7
