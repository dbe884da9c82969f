"""No two entries of the window share keys, and each window beside the table opens by its own."""

from collections import Counter

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAction

from designer.answers.advice import AdviceDialog
from designer.answers.reach import ReachWindow
from designer.answers.report import ReportDialog
from designer.tables.table_window import TableDialog

CTRL_SHIFT = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier


def test_no_key_means_two_things(window):
    # an action may be listed by several menus and bars: it counts once
    actions = {id(action): action for action in window.findChildren(QAction)}
    keys = Counter(key.toString() for action in actions.values() for key in set(action.shortcuts()))
    assert {key: count for key, count in keys.items() if count > 1} == {}


@pytest.mark.parametrize(
    ("key", "kind"),
    [
        (Qt.Key.Key_G, ReportDialog),
        (Qt.Key.Key_A, AdviceDialog),
        (Qt.Key.Key_B, TableDialog),
    ],
)
def test_keys_open_the_windows_beside_the_table(qtbot, window, key, kind):
    qtbot.keyClick(window, key, CTRL_SHIFT)
    (dialog,) = [one for one in window.findChildren(kind) if one.isVisible()]
    assert not dialog.isModal()
    qtbot.keyClick(dialog, Qt.Key.Key_Escape)
    qtbot.waitUntil(lambda: not any(one.isVisible() for one in window.findChildren(kind)))


def test_ctrl_m_shows_the_reach_map(qtbot, window):
    qtbot.keyClick(window, Qt.Key.Key_M, Qt.KeyboardModifier.ControlModifier)
    assert any(one.isVisible() for one in window.findChildren(ReachWindow))


def test_the_sheet_of_keys_names_every_key_of_the_menus(qtbot, window):
    from designer.window.help import plain, show_keys

    dialog = show_keys(window)
    told = dialog.page.toPlainText()
    for action in window.findChildren(QAction):
        assert action.shortcut().toString() in told, action.text()
        if not action.shortcut().isEmpty():
            assert plain(action.text()) in told
    assert "Elsewhere" not in told, "an entry with a key stands in no menu"
    dialog.close()
