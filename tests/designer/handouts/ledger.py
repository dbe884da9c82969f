"""Every number on a sheet accounted for: facts are read off its text one by one and struck out.

A fact is a pattern with figures and the engine's values for them. What is left at the end must
hold no figure.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from fractions import Fraction

import pypdf

#: A length as printed: whole millimetres, or inches with a fraction.
MM = r"(-?\d+)"
INCH = r"(-?(?:\d+ )?\d+/\d+\"|-?\d+\")"
REAL = r"([-+−]?\d+(?:\.\d+)?)"
STRUCK = " ¶ "


def flat(text: str) -> str:
    """One line, single spaces, as the reader's text is compared."""
    return re.sub(r"\s+", " ", text.replace("\xa0", " ")).strip()


def text_of(data: bytes) -> str:
    """All text of a PDF file, as pypdf reads it."""
    pages = pypdf.PdfReader(io.BytesIO(data)).pages
    return flat(" ".join(page.extract_text() for page in pages))


def number(told: str) -> float:
    """A printed figure: inches with fractions, or decimals with either minus sign."""
    told = told.replace("−", "-")
    if not told.endswith('"'):
        return float(told)
    sign = -1.0 if told.startswith("-") else 1.0
    return sign * float(sum(Fraction(part) for part in told.strip('-"').split()))


class Ledger:
    """The text of a sheet, from which known texts and figures are struck out."""

    def __init__(self, data: bytes, unit: str) -> None:
        self.text, self.unit = text_of(data), unit
        made = pypdf.PdfReader(io.BytesIO(data)).metadata.creation_date
        #: The day the sheet was made: year, month, day.
        self.day = (made.year, made.month, made.day)
        self.whole = self.text
        self.read_off = 0
        self.length = INCH if unit == "inch" else MM
        #: Half of what a length is rounded to, in its unit, and mm for one of it.
        self.half, self.mm = (1.0 / 32.0, 25.4) if unit == "inch" else (0.5, 1.0)

    def known(self, *texts: str) -> None:
        """Strike out texts that are on the sheet word for word, wherever they stand."""
        for told in sorted(filter(None, map(flat, texts)), key=len, reverse=True):
            assert told in self.whole, f"not on the sheet: {told!r}"
            self.text = self.text.replace(told, STRUCK)

    def perhaps(self, *texts: str) -> None:
        """Strike out texts that may be there."""
        for told in filter(None, texts):
            self.text = self.text.replace(flat(told), STRUCK)

    def fact(self, pattern: str, *values: tuple[float, float]) -> None:
        """Read the figures of a pattern: (engine's value, half of the last printed place) each."""
        found = re.search(pattern, self.text)
        assert found, f"not on the sheet: {pattern}\n{self.text}"
        figures = [number(group) for group in found.groups()]
        assert len(figures) == len(values), (pattern, figures)
        for figure, (value, half) in zip(figures, values, strict=True):
            assert abs(figure - value) <= half + 1e-9, (pattern, figure, value)
        self.read_off += len(figures)
        self.text = self.text[: found.start()] + STRUCK + self.text[found.end() :]

    def lengths(self, *values_mm: float) -> list[tuple[float, float]]:
        """Lengths in mm as `fact` wants them, in the sheet's unit."""
        return [(value / self.mm, self.half) for value in values_mm]

    def with_unit(self) -> str:
        """The pattern of a length that carries its unit."""
        return INCH if self.unit == "inch" else MM + " mm"

    def rest(
        self,
        *,
        letters: Iterable[str],
        lengths_mm: Iterable[float] = (),
        counts: Iterable[int] = (),
    ) -> None:
        """What is left has no figures but printed letters, all counts, and some of the lengths.

        Each count and each length is there once at most.
        """
        text = self.text
        for letter in sorted(set(letters), key=len, reverse=True):
            if any(char.isdigit() for char in letter):
                text = re.sub(rf"(?<!\w){re.escape(letter)}(?!\w)", STRUCK, text)
        left, numbers = list(lengths_mm), [str(count) for count in counts]
        for told in re.findall(r"-?(?:\d+ )?\d+/\d+\"|\d+(?:\.\d+)?\"?", text):
            if told in numbers:
                numbers.remove(told)
                continue
            value = number(told) * self.mm
            match = min(left, key=lambda each: abs(each - value), default=None)
            assert match is not None and abs(match - value) <= self.half * self.mm + 1e-9, (
                f"{told} on the sheet is no known figure", text
            )  # fmt: skip
            left.remove(match)
            self.read_off += 1
        assert not numbers, f"not on the sheet: {numbers}"
