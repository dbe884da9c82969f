"""Light or dark: colours of words that stay readable on either ground."""

from __future__ import annotations

from PySide6.QtGui import QColor, QGuiApplication, QPalette

#: Words, not colours, carry a verdict; the colours only help the eye (dark enough on white).
GOOD, BAD, SOFT = "#00604a", "#a03c00", "#59646a"
#: Colours of words on a light ground, and what stands for them on a dark one. Each pair keeps a
#: contrast of 4.5 to 1 or more (WCAG 2.1, success criterion 1.4.3).
ON_DARK = {
    "#00604a": "#5fd0ae",
    "#a03c00": "#ff9d66",
    "#59646a": "#aab4b9",
    "#1b2327": "#eceae4",
    "#7a4a00": "#f0bd62",
    "#a31621": "#ff8f92",
}
#: The same for lines, which need 3 to 1 (success criterion 1.4.11): the lanes' own colours.
LINES_ON_DARK = {
    "#0072b2": "#6fb9ea",
    "#d55e00": "#ff9a57",
    "#00795a": "#4fcfa5",
    "#a8558a": "#dd9ac4",
    "#9a6a00": "#e0b45a",
}
#: Round the table, where dark figures must be read, the ground is never darker than this.
TABLE_GROUND_IN_DARK = "#c6c3ba"


def is_dark() -> bool:
    """Whether the program's look is dark now."""
    return QGuiApplication.palette().color(QPalette.ColorRole.Window).lightness() < 128


def toned(html: str) -> str:
    """Words with their colours made for the present ground."""
    if is_dark():
        for light, dark in (ON_DARK | LINES_ON_DARK).items():
            html = html.replace(light, dark)
    return html


def table_ground(palette: QPalette) -> QColor:
    """The ground on which the table is painted."""
    return QColor(TABLE_GROUND_IN_DARK) if is_dark() else palette.color(QPalette.ColorRole.Window)
