"""Text measured without a screen: widths and missing characters from the font's own tables."""

from __future__ import annotations

import unicodedata
from functools import cache, lru_cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from designer.fonts.files import BOLD_NAME, REGULAR_NAME, font_path

#: Height of a capital over the em, both weights (DejaVu's OS/2 table: 1493 of 2048).
CAP_HEIGHT = 1493 / 2048

#: Shown where the font has no picture of a character.
MISSING = "\N{REPLACEMENT CHARACTER}"

_SPACES = {"\t": " ", "\n": " ", "\r": " ", "\u2028": " ", "\u2029": " "}


@cache
def pdf_font(bold: bool = False) -> TTFont:
    """The font as reportlab knows it, registered under its PDF name."""
    font = TTFont(BOLD_NAME if bold else REGULAR_NAME, str(font_path(bold)))
    pdfmetrics.registerFont(font)
    return font


@cache
def _character_widths(bold: bool) -> dict[int, float]:
    return pdf_font(bold).face.charWidths


@lru_cache(maxsize=4096)
def printable(text: str) -> str:
    """The text as it can be printed on one line, safe for every painter.

    Line ends and tabs become spaces, control and invisible characters are dropped, and
    characters the font lacks become a visible replacement sign.

    >>> printable("Lane\\x00 A\\nsoft"), printable("\\u202eabc"), printable("\\U0001f3b1")
    ('Lane A soft', 'abc', '\ufffd')
    """
    known = _character_widths(False)
    bold = _character_widths(True)
    out = []
    for char in text:
        char = _SPACES.get(char, char)
        kind = unicodedata.category(char)
        if kind in ("Cc", "Cf"):
            continue
        out.append(char if ord(char) in known and ord(char) in bold else MISSING)
    return "".join(out)


def lacking(text: str) -> bool:
    """Whether some of the text has to be printed as the replacement sign.

    >>> lacking("Überlauf, ΩЖ"), lacking("台球")
    (False, True)
    """
    return MISSING in printable(text)


@lru_cache(maxsize=4096)
def _em_width(text: str, bold: bool) -> float:
    widths = _character_widths(bold)
    return sum(widths[ord(char)] for char in printable(text)) / 1000.0


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of one line of text in the unit of `size` (the em), as printed.

    >>> round(text_width("888", 10.0), 2)
    19.09
    """
    return _em_width(text, bold) * size
