"""What the keys and the mouse do, and what this program is."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QMainWindow,
    QMenu,
    QMessageBox,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from designer.texts import mark, tr
from designer.widgets.side_window import SideWindow
from designer.window.names import PROGRAM
from engine.version import VERSION

#: Pairs of what is done with keys or mouse and what that does.
KEYS: tuple[tuple[str, str], ...] = (
    (mark("Drag a ball"), mark("move it; it stops at what it meets")),
    (
        mark("Control while dragging"),
        mark("keep the ball from being drawn to spots, lines and other balls"),
    ),
    (
        mark("Figures while dragging"),
        mark("hold the ball that far from the nearest cushion of its way"),
    ),
    (mark("Return after figures"), mark("keep that, and type the distance from the other cushion")),
    (
        mark("Shift+click, or drag a band"),
        mark("choose several balls; they are moved and nudged together"),
    ),
    (mark("G, then drag edge to edge"), mark("draw a gap; along a cushion it marks a stretch")),
    (
        mark("Drag a mark on the cloth, or an end of a line"),
        mark("move it; right-click it to say what it is for"),
    ),
    (mark("Arrow keys"), mark("nudge the selected ball or mark by 1 mm, with Shift by 10 mm")),
    (mark("Delete, Backspace"), mark("remove the chosen balls or the mark")),
    (mark("Tab, Shift+Tab"), mark("next ball or mark, the one before")),
    (mark("Escape while dragging"), mark("put the ball back")),
    (mark("Double-click a ball or a pocket"), mark("choose it for the shot on show")),
    (mark("Right-click, or the Menu key"), mark("everything that can be done there")),
    (mark("Wheel, pinch, + and −"), mark("zoom")),
    (mark("0 (nought)"), mark("whole table again")),
    (mark("Drag the cloth, or the middle button"), mark("move the table while zoomed in")),
    (mark("Click or drag on the ball face"), mark("tip height of the selected lane")),
    (mark("Space"), mark("play the selected lane, hold, play on")),
    (mark("Comma, full stop while playing"), mark("event before, next event")),
    (mark("Escape while playing"), mark("back to the set-up")),
    (mark("1 to 9 in the lesson"), mark("note a guess; the same again takes it back")),
    (mark("R, S, H in the lesson"), mark("play again, slowly or at true speed, hold or play on")),
    (mark("W, L in the lesson"), mark("the whole table; letters where the lanes end")),
    (mark("C in the lesson"), mark("the coach’s own window on a second screen")),
    (mark("Ctrl and a digit in the lesson"), mark("play that card")),
    (
        mark("Escape in a window beside the table"),
        mark("close it; you are asked where something would be lost"),
    ),
    (
        mark("Open, save, undo, redo, zoom in such a window"),
        mark("by the same keys as in the menus, where it has them"),
    ),
)


class KeysWindow(SideWindow):
    """Every key of a window: of hands and table first, then its menus one by one."""

    def __init__(self, window: QMainWindow) -> None:
        super().__init__(tr("Keys and mouse"), window)
        self.resize(720, 620)
        parts = [
            (tr("On the table and in the window"), [(tr(key), tr(what)) for key, what in KEYS])
        ]
        self.page = QTextBrowser()
        self.page.setAccessibleName(tr("Keys and mouse"))
        self.page.setHtml("".join(_table(*part) for part in parts + menu_keys(window)))
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        layout = QVBoxLayout(self)
        layout.addWidget(self.page, 1)
        layout.addWidget(buttons)


def show_keys(window: QMainWindow) -> KeysWindow:
    """Show the page of keys; the work goes on behind it."""
    made = KeysWindow(window)
    made.show()
    return made


def menu_keys(window: QMainWindow) -> list[tuple[str, list[tuple[str, str]]]]:
    """The name of each menu with its keys and what they do; last what stands in no menu."""
    menus = [one.menu() for one in window.menuBar().actions()]
    found = [
        (plain(menu.title()), list(_actions(menu))) for menu in menus if isinstance(menu, QMenu)
    ]
    told = {action for _, actions in found for action in actions}
    rest = [one for one in window.findChildren(QAction) if one not in told]
    parts = [(name, _with_keys(actions)) for name, actions in (*found, (tr("Elsewhere"), rest))]
    return [part for part in parts if part[1]]


def plain(text: str) -> str:
    """What a menu's entry says, without the mark of its letter and the dots."""
    return text.replace("&", "").rstrip("…")


def _actions(menu: QMenu) -> Iterator[QAction]:
    for action in menu.actions():
        inner = action.menu()
        if isinstance(inner, QMenu):
            yield from _actions(inner)
        else:
            yield action


def _with_keys(actions: list[QAction]) -> list[tuple[str, str]]:
    # The others are keys few keyboards have, such as one for Undo.
    native = QKeySequence.SequenceFormat.NativeText
    return [
        (action.shortcut().toString(native), plain(action.text()))
        for action in actions
        if action.text() and not action.shortcut().isEmpty()
    ]


def _table(head: str, rows: list[tuple[str, str]]) -> str:
    cells = "".join(
        f"<tr><td width='34%'><b>{escape(keys)}</b></td><td>{escape(what)}</td></tr>"
        for keys, what in rows
    )
    return f"<h4>{escape(head)}</h4><table width='100%' cellpadding='3'>{cells}</table>"


def show_about(parent: QWidget) -> QMessageBox:
    """Say what this program is; the work goes on behind it."""
    box = QMessageBox(parent)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.setWindowTitle(tr("About {program}", program=PROGRAM))
    box.setText(f"<b>{PROGRAM} {VERSION}</b>")
    box.setInformativeText(
        tr(
            "A designer of measured positional routines for snooker. Lanes are predictions from "
            "published figures, to be tried on the table. MIT licence."
        )
    )
    box.open()
    return box
