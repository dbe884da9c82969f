"""What the keys and the mouse do, and what this program is."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QMessageBox, QVBoxLayout, QWidget

from engine.version import VERSION

#: Pairs of what is done with keys or mouse and what that does.
KEYS: tuple[tuple[str, str], ...] = (
    ("Drag a ball", "move it; it stops at what it meets"),
    ("Control while dragging", "keep the ball from being drawn to spots, lines and other balls"),
    ("Figures while dragging", "hold the ball that far from the nearest cushion of its way"),
    ("Return after figures", "keep that, and type the distance from the other cushion"),
    ("Shift+click, or drag a band", "choose several balls; they are moved and nudged together"),
    ("G, then drag edge to edge", "draw a gap; along a cushion it marks a stretch"),
    ("Arrow keys", "nudge the selected ball by 1 mm, with Shift by 10 mm"),
    ("Tab, Shift+Tab", "next ball, ball before"),
    ("Escape while dragging", "put the ball back"),
    ("Double-click a ball or a pocket", "choose it for the shot on show"),
    ("Right-click, or the Menu key", "everything that can be done there"),
    ("Wheel, pinch, + and −", "zoom"),
    ("0", "whole table again"),
    ("Drag the cloth, or the middle button", "move the table while zoomed in"),
    ("Click or drag on the ball face", "tip height of the selected lane"),
    ("Space", "play the selected lane, hold, play on"),
    ("Comma, full stop while playing", "event before, next event"),
    ("Escape while playing", "back to the set-up"),
    ("Ctrl+Page Down, Ctrl+Page Up", "next step (shot) of the routine, step before"),
    ("with Shift", "move the step later or earlier in the order"),
    ("Ctrl+J", "the list of what to see to; each entry leads to its place"),
    ("F12", "lesson: each shot asked on the whole screen; Space shows the answer"),
    ("Alt+1 to Alt+9", "show or hide parts of the drawing"),
    ("F4 to F8", "go to the table, balls, shot, gaps, sheet"),
    ("Ctrl+M", "the reach map: point to read a strike, click to take it"),
    ("F9", "the table alone, or with its panels"),
)


def show_keys(parent: QWidget) -> QDialog:
    """Show the list of keys; the work goes on behind it."""
    dialog = QDialog(parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setWindowTitle("Keys and mouse")
    rows = "".join(
        f"<tr><td style='padding-right:18px'><b>{key}</b></td><td>{what}</td></tr>"
        for key, what in KEYS
    )
    table = QLabel(f"<table cellpadding='3'>{rows}</table>")
    buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
    buttons.rejected.connect(dialog.reject)
    layout = QVBoxLayout(dialog)
    layout.addWidget(table)
    layout.addWidget(buttons)
    dialog.open()
    return dialog


def show_about(parent: QWidget) -> QMessageBox:
    """Say what this program is; the work goes on behind it."""
    box = QMessageBox(parent)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.setWindowTitle("About Baizewright")
    box.setText(f"<b>Baizewright {VERSION}</b>")
    box.setInformativeText(
        "A designer of measured positional routines for snooker. Lanes are predictions from "
        "published figures, to be tried on the table: allow 2 to 3° in direction and 15 % in "
        "distance. MIT licence."
    )
    box.open()
    return box
