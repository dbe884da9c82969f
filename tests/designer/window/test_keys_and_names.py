"""Every key means one thing; every control has a name to be read out; the sheet tells the keys."""

from collections import Counter

from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSlider,
    QAbstractSpinBox,
    QComboBox,
    QHeaderView,
    QLineEdit,
    QPlainTextEdit,
    QScrollBar,
    QWidget,
)

from designer.window.help import KEYS
from designer.window.names import PANELS

CONTROLS = (
    QAbstractButton, QAbstractItemView, QAbstractSlider, QAbstractSpinBox, QComboBox, QLineEdit,
    QPlainTextEdit,
)  # fmt: skip


def test_no_key_leads_to_two_actions(window):
    from PySide6.QtGui import QAction

    keys = Counter(
        key.toString()
        for made in set(window.findChildren(QAction))
        for key in made.shortcuts()
        if not key.isEmpty()
    )
    assert len(keys) > 25
    assert {key: count for key, count in keys.items() if count > 1} == {}


def test_every_control_can_be_named_by_a_screen_reader(window):
    nameless = []
    for panel in PANELS:
        window.show_panel(panel)
        for control in window.findChildren(QWidget):
            if not isinstance(control, CONTROLS):
                continue
            inner = isinstance(control.parent(), QAbstractSpinBox | QComboBox) or (
                control.objectName().startswith("qt_")
                or isinstance(control, QScrollBar | QHeaderView)
            )
            if inner or not control.isVisible():
                continue
            words = getattr(control, "text", lambda: "")()
            if not (control.accessibleName() or (isinstance(control, QAbstractButton) and words)):
                nameless.append((panel, type(control).__name__, control.objectName()))
    assert nameless == []


def test_the_sheet_of_keys_tells_of_what_the_keys_do(window):
    told = " ".join(key for key, _ in KEYS)
    for key in ("Space", "G, then drag", "Figures while dragging"):
        assert key in told


def test_no_tab_has_to_be_scrolled_sideways(qtbot, window):
    window.resize(1400, 900)
    for panel in PANELS:
        window.show_panel(panel)
        qtbot.wait(20)
        area = window.tabs.currentWidget()
        assert area.horizontalScrollBar().maximum() == 0, panel
