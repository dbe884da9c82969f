"""What the keys and the mouse do, and what this program is."""

from __future__ import annotations

from html import escape

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QMessageBox,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from designer.texts import mark, tr
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
    (mark("Delete, Backspace"), mark("take the chosen balls off the table, or the mark away")),
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
    (mark("Ctrl+Page Down, Ctrl+Page Up"), mark("next step (shot) of the routine, step before")),
    (mark("with Shift"), mark("move the step later or earlier in the order")),
    (mark("Ctrl+J"), mark("the list of what to fix; each entry leads to its place")),
    (mark("F12"), mark("lesson: each shot asked on a whole screen; Space plays a stroke")),
    (mark("1 to 9 in the lesson"), mark("note a guess; the same again takes it back")),
    (mark("R, S, H in the lesson"), mark("play again, slowly or at true speed, hold or play on")),
    (mark("W, L in the lesson"), mark("the whole table; letters where the lanes end")),
    (mark("C in the lesson"), mark("the coach’s own window on a second screen")),
    (mark("Ctrl and a digit in the lesson"), mark("play that card")),
    (mark("Alt+1 to Alt+9"), mark("show or hide parts of the drawing")),
    (mark("F4 to F8"), mark("go to the table, balls, shot, gaps, sheet")),
    (mark("Ctrl+M"), mark("the reach map: point to read a strike, click to take it")),
    (mark("F9"), mark("the table alone, or with its panels")),
)


def show_keys(parent: QWidget) -> QDialog:
    """Show the list of keys; the work goes on behind it."""
    dialog = QDialog(parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setWindowTitle(tr("Keys and mouse"))
    rows = "".join(
        f"<tr><td style='padding-right:18px'><b>{tr(key)}</b></td><td>{tr(what)}</td></tr>"
        for key, what in KEYS
    )
    menus = "".join(
        f"<tr><td style='padding-right:18px'><b>{escape(keys)}</b></td><td>{escape(what)}</td></tr>"
        for keys, what in menu_keys(parent)
    )
    heads = (tr("On the table and in the window"), tr("In the menus"))
    table = QLabel(
        f"<h4>{heads[0]}</h4><table cellpadding='3'>{rows}</table>"
        f"<h4>{heads[1]}</h4><table cellpadding='3'>{menus}</table>"
    )
    table.setMargin(6)
    table.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    area = QScrollArea()
    area.setWidget(table)
    area.setAccessibleName(tr("Keys and mouse"))
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setMinimumWidth(table.sizeHint().width() + 24)
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
    buttons.rejected.connect(dialog.reject)
    layout = QVBoxLayout(dialog)
    layout.addWidget(area, 1)
    layout.addWidget(buttons)
    dialog.resize(area.minimumWidth() + 24, 620)
    dialog.open()
    return dialog


def menu_keys(window: QWidget) -> list[tuple[str, str]]:
    """Every key of a window's menus with what it does, in the order they were made."""
    native = QKeySequence.SequenceFormat.NativeText
    found: dict[str, str] = {}
    for action in window.findChildren(QAction):
        # The others are keys few keyboards have, such as one for Undo.
        keys = action.shortcut().toString(native)
        if keys and action.text():
            found.setdefault(keys, action.text().replace("&", "").rstrip("…"))
    return list(found.items())


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
