"""Where the font files are, and the names they go by in documents."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

FAMILY = "DejaVu Sans"
REGULAR_NAME = "DejaVuSans"
BOLD_NAME = "DejaVuSans-Bold"


def font_path(bold: bool = False) -> Path:
    """Path of the font file, regular or bold."""
    return Path(str(files("designer.fonts"))) / f"{BOLD_NAME if bold else REGULAR_NAME}.ttf"
