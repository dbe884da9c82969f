"""Routines by picture and title, for menus and the welcome; what cannot be read is left out."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from PySide6.QtGui import QIcon, QPixmap

from designer.library.pictures import picture
from engine.errors import BaizewrightError
from engine.storage import load_routine

#: Width of a picture, px: twice what is shown, for screens of high density.
WIDTH_PX = 240


def tile(path: Path) -> tuple[str, QIcon] | None:
    """Title (else the file's name) and picture of a routine's file; None when it is not one."""
    try:
        return _tile(path, path.stat().st_mtime_ns)
    except (BaizewrightError, OSError):
        return None


@lru_cache(maxsize=64)
def _tile(path: Path, _changed_ns: int) -> tuple[str, QIcon]:
    routine = load_routine(path)
    pixmap = QPixmap()
    pixmap.loadFromData(picture(routine, WIDTH_PX))
    return routine.title or path.stem, QIcon(pixmap)
