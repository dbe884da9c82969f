"""Letters measured by the height of their capitals, so that they can be read from afar."""

from __future__ import annotations

import math

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QFontMetricsF
from PySide6.QtWidgets import QLabel

_TRIED_PX = 100


def letters(font: QFont, capital_px: float, *, bold: bool = False) -> QFont:
    """A font whose capitals are at least that high, px."""
    sized = QFont(font)
    sized.setBold(bold)
    sized.setPixelSize(_TRIED_PX)
    wanted = capital_px * _TRIED_PX / QFontMetricsF(sized).capHeight()
    sized.setPixelSize(max(math.ceil(wanted), 1))
    return sized


def words(name: str, *, wrap: bool = True) -> QLabel:
    """A label for words of the lesson: plain, at the left, read out by that name."""
    label = QLabel()
    label.setAccessibleName(name)
    label.setWordWrap(wrap)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
    return label


def height_of(label: QLabel, text: str, width_px: int) -> int:
    """Height of a text in a label's font at that width; 0 for none."""
    if not text:
        return 0
    flags = Qt.TextFlag.TextWordWrap.value if label.wordWrap() else 0
    return label.fontMetrics().boundingRect(0, 0, width_px, 100_000, flags, text).height()


def fit_line(label: QLabel, capital_px: float, width: int) -> None:
    """Capitals of that height, smaller only where the label's one line would not fit."""
    font = letters(label.font(), capital_px)
    label.setFont(font)
    while label.sizeHint().width() > width and font.pixelSize() > 1:
        font.setPixelSize(font.pixelSize() - 1)
        label.setFont(font)


def fit(label: QLabel, most_px: float, least_px: float, width: int, height: int) -> None:
    """The largest capitals, `least_px` or more, with which the label's text has room."""
    bold, capital = label.font().bold(), most_px
    while True:
        label.setFont(letters(label.font(), capital, bold=bold))
        metrics = label.fontMetrics()
        wide = label.wordWrap() or metrics.horizontalAdvance(label.text()) <= width
        if capital <= least_px or (wide and height_of(label, label.text(), width) <= height):
            return
        capital -= 0.5
