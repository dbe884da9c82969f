"""The wheel scrolls and zooms; it never changes a field it happens to pass over."""

import re
from pathlib import Path

from PySide6 import QtWidgets
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractItemView,
    QAbstractSlider,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QDateTimeEdit,
    QDoubleSpinBox,
    QFrame,
    QScrollArea,
    QScrollBar,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

import designer
from designer.widgets.fields import ChoiceField, CountField, DayField, NumberField, SlideField
from tests.designer.every_window import every_window

FIELDS = (QAbstractSpinBox, QComboBox, QAbstractSlider)
FIELD_KINDS = (ChoiceField, CountField, DayField, NumberField, SlideField)
OURS = {kind.__name__: kind for kind in FIELD_KINDS}


def wheel(widget, notches=-1):
    """Turn the wheel over the middle of a widget, as a mouse does, and as finely as a pad.

    It comes by the window, as from the system: only so does Qt give focus by it and offer to the
    parents what a widget lets pass.
    """
    window = widget.window()
    at = QPointF(widget.mapTo(window, widget.rect().center()))
    for pixels, angle in ((QPoint(), QPoint(0, 120 * notches)), (QPoint(0, 40 * notches),) * 2):
        QTest.wheelEvent(window.windowHandle(), at, angle, pixels)
        QApplication.processEvents()


def bring_in_sight(field):
    """Scroll a field into view as a coach would; False when it cannot be seen."""
    area = field.parentWidget()
    while area is not None and not isinstance(area, QScrollArea):
        area = area.parentWidget()
    if area is not None:
        area.ensureWidgetVisible(field)
    window = field.window()
    under = window.childAt(field.mapTo(window, field.rect().center()))
    return under is field or field.isAncestorOf(under)


def fields_of(root):
    """Every field in sight, but for scroll bars and what a field or a list is made of."""
    for field in root.findChildren(QWidget):
        inner = isinstance(field.parent(), QAbstractSpinBox | QComboBox | QAbstractItemView)
        if isinstance(field, FIELDS) and not isinstance(field, QScrollBar) and not inner:
            yield field


def state(field):
    match field:
        case QComboBox():
            return field.currentIndex(), field.currentText()
        case QDateTimeEdit():
            return field.dateTime()
        case QSpinBox() | QDoubleSpinBox() | QAbstractSlider():
            return field.value()
    return field.text()


def test_no_field_of_any_window_changes_by_a_wheel_passing_over(window, settings, tmp_path):
    session, seen = window.session, {}
    for shown in every_window(window, settings, tmp_path):
        before = session.routine
        QApplication.processEvents()
        for field in fields_of(shown):
            name = (type(shown).__name__, type(field).__name__, field.accessibleName())
            if not field.isVisible():
                continue
            assert bring_in_sight(field), name
            for focused in (False, True):
                if focused:
                    field.setFocus()
                # A wheel must not even take the keys away from where something is being typed.
                keys = QApplication.focusWidget()
                for notches in (-1, 1, -3, 3):
                    was = state(field)
                    wheel(field, notches)
                    assert state(field) == was, name
                    assert QApplication.focusWidget() is keys, name
            seen[name] = True
        assert session.routine is before, type(shown).__name__
    kinds = {kind for _, kind, _ in seen}
    assert kinds <= {*OURS, "SignedBox"} and set(OURS) <= kinds
    assert len(seen) > 50, sorted(seen)


def test_the_wheel_over_a_field_scrolls_what_lies_around_it(qtbot):
    area, inside = QScrollArea(), QWidget()
    qtbot.addWidget(area)
    column = QVBoxLayout(inside)
    fields = [kind() for kind in OURS.values()]
    for field in fields:
        if isinstance(field, QComboBox):
            field.addItems(["one", "two", "three"])
            field.setEditable(True)
        column.addWidget(field)
    filler = QFrame()
    filler.setMinimumHeight(2000)
    column.addWidget(filler)
    area.setWidget(inside)
    area.setWidgetResizable(True)
    area.resize(300, 500)
    area.show()
    qtbot.waitExposed(area)
    bar = area.verticalScrollBar()
    for field in fields:
        bar.setValue(0)
        was = state(field)
        wheel(field)
        assert state(field) == was and bar.value() > 0, type(field).__name__
    combo = next(field for field in fields if isinstance(field, QComboBox))
    bar.setValue(0)
    wheel(combo.lineEdit())
    assert combo.currentText() == "one" and bar.value() > 0


def test_no_other_field_is_made():
    """Every field of the program is one of ours: Qt's own would turn."""
    made = [
        f"{path.name}: {name}"
        for path in Path(designer.__file__).parent.rglob("*.py")
        for name in re.findall(r"\b(Q\w+)\(", path.read_text("utf-8"))
        if name not in ("QScrollBar",) and issubclass(getattr(QtWidgets, name, QWidget), FIELDS)
    ]
    assert made == []


def test_lists_and_scroll_bars_still_turn(qtbot):
    combo = ChoiceField()
    qtbot.addWidget(combo)
    combo.addItems([str(number) for number in range(100)])
    combo.setMaxVisibleItems(5)
    combo.setStyleSheet("QComboBox { combobox-popup: 0; }")
    combo.show()
    combo.showPopup()
    bar = combo.view().verticalScrollBar()
    wheel(combo.view().viewport(), -3)
    assert bar.value() > 0
    combo.hidePopup()
    lone = QScrollBar()
    qtbot.addWidget(lone)
    lone.setRange(0, 100)
    lone.show()
    wheel(lone)
    assert lone.value() > 0


def test_a_panel_too_tall_for_the_window_is_scrolled_by_the_wheel_over_its_fields(window):
    window.resize(1400, 420)
    window.show_panel("Words")
    area = window.tabs.currentWidget()
    bar = area.verticalScrollBar()
    assert bar.maximum() > 0
    wheel(window.sheet.table)
    assert bar.value() > 0 and window.session.routine.table == "snooker-12ft"
