"""What is drawn, switched where a coach looks for it; tabs that never scroll away."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication, QToolButton

from designer.open_routine.view import SWITCHES
from designer.window.look import put_on

LEFT = Qt.MouseButton.LeftButton
ROLES = {
    "lanes": "lane",
    "potting_line": "potting-line",
    "ninety_line": "ninety-line",
    "contact": "contact",
    "gaps": "gap",
    "measurements": "measure",
}


@pytest.fixture
def routine(routine_with_gaps):
    return routine_with_gaps


def drawn(window, role):
    window.canvas.grab()
    return window.canvas._scenery.drawing(window.canvas.frame.px_per_mm).with_roles(role)


@pytest.mark.parametrize("name", list(ROLES))
def test_each_part_is_switched_by_its_tick_under_show(window, session, name):
    text = next(switch.text for switch in SWITCHES if switch.names[0] == name)
    tick = next(one for one in window.menus.layers.actions() if one.text() == text)
    button = next(b for b in window.menus.bar.findChildren(QToolButton) if b.text() == "Show")
    assert button.isVisible() and button.menu() is window.menus.layers
    before = bool(drawn(window, ROLES[name]))
    assert before == (name != "measurements") == tick.isChecked()
    tick.trigger()
    assert bool(drawn(window, ROLES[name])) != before
    assert tick.isChecked() != before
    tick.trigger()
    assert bool(drawn(window, ROLES[name])) == before


def test_a_lane_is_left_out_by_its_letter_and_comes_back(qtbot, window, session):
    window.show_panel("Shot")
    panel = window.shot
    panel.catch_up_now()

    def lanes_drawn():
        texts = [getattr(item, "text", "") for item in drawn(window, "letter")]
        return {text for text in texts if text}

    assert lanes_drawn() == {"A", "B", "C"}
    box = panel.lanes.visualItemRect(panel.lanes.item(1))
    at = box.topLeft() + QPoint(12, box.height() // 2)
    qtbot.mouseClick(panel.lanes.viewport(), LEFT, pos=at)
    assert lanes_drawn() == {"A", "C"}
    assert [lane.label for lane in session.shot.lanes] == ["A", "B", "C"], "only the drawing"
    qtbot.mouseClick(panel.lanes.viewport(), LEFT, pos=at)
    assert lanes_drawn() == {"A", "B", "C"}


def test_the_chosen_lane_stands_out(window, session):
    def width_of(label):
        session.point_at_lane(label)
        lines = drawn(window, "lane")
        return [line.width_mm for line in lines]

    first, last = width_of("A"), width_of("C")
    assert len(set(first)) > 1 and first != last and max(first) == max(last)


@pytest.mark.parametrize("playing", [False, True])
@pytest.mark.parametrize("size", [(1000, 560), (1280, 720), (1400, 900)])
def test_every_tab_is_in_sight(qtbot, window, session, size, playing):
    window.resize(*size)
    window.share_room()
    if playing:
        session.player.open()
    QApplication.processEvents()
    bar = window.tabs.tabBar()
    last = bar.tabRect(bar.count() - 1)
    assert bar.rect().contains(last), (bar.rect(), last)
    arrows = [b for b in bar.findChildren(QToolButton) if b.isVisible()]
    assert not arrows
    assert window.canvas.width() >= 0.5 * window.width()
    bar = window.menus.bar
    for button in bar.findChildren(QToolButton):
        if button.objectName() != "qt_toolbar_ext_button":
            assert button.isVisible(), button.text()


@pytest.mark.slow
def test_words_of_the_reach_map_stand_out_in_the_dark(qtbot, window, qapp):
    reach = window.menus.dialogs.reach()
    put_on(qapp, "dark")
    try:
        picture = reach.panel.chart.grab().toImage()
        low, high = picture.height() * 0.86, picture.height()
        lightness = [
            picture.pixelColor(x, y).lightness()
            for x in range(0, picture.width(), 1)
            for y in range(int(low), int(high))
        ]
        assert max(lightness) > 180 > 60 > min(lightness)
    finally:
        put_on(qapp, "light")
