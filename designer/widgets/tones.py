"""Light or dark: colours of words that stay readable on either ground."""

from __future__ import annotations

from PySide6.QtGui import QColor, QGuiApplication, QPalette

from designer.drawing.dark import on_dark
from designer.drawing.look import INK, SOFT_INK

#: Words, not colours, carry a verdict; the colours only help the eye (dark enough on white).
GOOD, BAD, SOFT = "#00604a", "#a03c00", SOFT_INK
#: Colours of words on a light ground, and what stands for them on a dark one. Each pair keeps a
#: contrast of 4.5 to 1 or more (WCAG 2.1, success criterion 1.4.3).
ON_DARK = {
    GOOD: "#5fd0ae",
    BAD: "#ff9d66",
    SOFT: on_dark(SOFT),
    INK: on_dark(INK),
    "#7a4a00": "#f0bd62",
    "#a31621": "#ff8f92",
}


def is_dark() -> bool:
    """Whether the program's look is dark now."""
    return QGuiApplication.palette().color(QPalette.ColorRole.Window).lightness() < 128


def toned(html: str) -> str:
    """Words with their colours made for the present ground."""
    if is_dark():
        for light, dark in ON_DARK.items():
            html = html.replace(light, dark)
    return html


def on_screen(colour: str) -> QColor:
    """A colour of the drawing as it stands on screen now: on dark cloth another than on light."""
    return QColor(on_dark(colour) if is_dark() else colour)
