"""Light and dark: every colour of words stands out on its ground, and all windows follow."""

import pytest
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication

from designer.drawing.look import (
    CLOTH,
    INK,
    LANE_PATTERNS,
    PAPER,
    POINTER,
    RIM,
    RIM_INK,
    SOFT_INK,
)
from designer.widgets.tones import ON_DARK, is_dark, on_screen, toned
from designer.window.look import put_on

LEAST = 4.5  # WCAG 2.1, success criterion 1.4.3


def luminance(colour):
    """Relative luminance (WCAG 2.1)."""
    parts = [
        v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4
        for v in (colour.redF(), colour.greenF(), colour.blueF())
    ]
    return 0.2126 * parts[0] + 0.7152 * parts[1] + 0.0722 * parts[2]


def contrast(one, other):
    low, high = sorted((luminance(QColor(one)), luminance(QColor(other))))
    return (high + 0.05) / (low + 0.05)


@pytest.fixture(params=["light", "dark"])
def look(request, one_application):
    put_on(QApplication.instance(), request.param)
    yield request.param
    put_on(QApplication.instance(), "light")


def test_words_stand_out_on_their_ground(look):
    palette, roles = QApplication.palette(), QPalette.ColorRole
    assert is_dark() == (look == "dark")
    for ink, ground in (
        (roles.WindowText, roles.Window), (roles.Text, roles.Base),
        (roles.ButtonText, roles.Button), (roles.ToolTipText, roles.ToolTipBase),
        (roles.HighlightedText, roles.Highlight), (roles.PlaceholderText, roles.Base),
        (roles.Link, roles.Base),
    ):  # fmt: skip
        for group in (QPalette.ColorGroup.Active, QPalette.ColorGroup.Disabled):
            inks = palette.color(group, ink), palette.color(group, ground)
            assert contrast(*inks) >= LEAST, (group, ink)
    for colour in ON_DARK:
        for ground in (roles.Window, roles.Base):
            assert contrast(toned(colour), palette.color(ground)) >= LEAST, colour


def test_what_is_painted_over_the_table_stands_out(look):
    """Words 4.5 to 1 on cloth, rim and paper; lines of lanes and pointer 3 to 1 (1.4.11)."""
    cloth, rim, paper = (on_screen(colour) for colour in (CLOTH, RIM, PAPER))
    for ink, ground in ((INK, cloth), (INK, paper), (SOFT_INK, paper), (RIM_INK, rim)):
        assert contrast(on_screen(ink), ground) >= LEAST, (ink, ground.name())
    for line in (*(one.colour for one in LANE_PATTERNS), POINTER):
        assert contrast(on_screen(line), cloth) >= 3.0, line


def test_dark_is_dark(window, look):
    """Cloth, cushions and the ground round the table as well."""
    picture = window.canvas.grab().toImage()
    step = [
        picture.pixelColor(x, y)
        for x in range(0, picture.width(), 7)
        for y in range(0, picture.height(), 7)
    ]
    light = sum(one.lightness() > 128 for one in step) / len(step)
    assert light < 0.1 if look == "dark" else light > 0.8


def test_a_choice_in_the_menu_changes_all_and_is_remembered(qtbot, window, session):
    window.show_panel("Shot")
    names = {made.text(): made for made in window.menus.looks.actions()}
    try:
        names["Dark"].trigger()
        assert is_dark() and window.settings.look == "dark"
        qtbot.waitUntil(lambda: "#5fd0ae" in window.shot.pot.text())
        assert window.grab().toImage().pixelColor(5, 5).lightness() < 128
    finally:
        names["Light"].trigger()
    assert not is_dark() and "#00604a" in window.shot.pot.text()


def test_a_pace_is_told_in_table_lengths_as_well(window, session):
    window.show_panel("Shot")
    window.shot.catch_up_now()
    assert window.shot.strike.lengths.text().endswith("table lengths")
