"""What PDF pages say and where their ink is, as PDFium reads them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pypdfium2

#: Pixels for a point when ink is looked for.
FINE = 2.0


def page_texts(pdf: bytes | str | Path) -> list[str]:
    """The text of every page of a file or of its bytes, in the order it was drawn."""
    document = pypdfium2.PdfDocument(pdf)
    return [page.get_textpage().get_text_range().replace("\r\n", "\n") for page in document]


def inked_rows(pdf: bytes) -> list[np.ndarray]:
    """For each page, from the top: whether there is ink in a row of `FINE` rows to a point."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        grey = page.render(scale=FINE, grayscale=True).to_numpy()
        found.append((grey.reshape(len(grey), -1) < 250).any(axis=1))
    return found
