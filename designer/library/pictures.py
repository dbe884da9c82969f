"""Small pictures of routines as PNG, painted on any thread.

They carry no texts: letters must not be painted on other threads than the first (Qt's raw fonts
belong to the thread that made them).
"""

from __future__ import annotations

from PySide6.QtGui import QPixmap

from designer.drawing.small import set_up_drawing
from designer.painters.png import png_bytes
from engine.routine.values import Routine
from engine.version import VERSION

WIDTH_PX = 320
#: Names this way of painting: pictures of another are made anew.
MAKER = f"{VERSION} {WIDTH_PX} set-up 4"


def picture(routine: Routine, width_px: int = WIDTH_PX) -> bytes:
    """The set-up lying on its side, as PNG; no shot is played for it."""
    return png_bytes(set_up_drawing(routine), width_px, transparent=True)


def pixmap_of(routine: Routine, width_px: int, ratio: float) -> QPixmap:
    """The same so many logical pixels wide, as sharp as a screen of that ratio shows it."""
    pixmap = QPixmap()
    pixmap.loadFromData(picture(routine, round(width_px * ratio)))
    pixmap.setDevicePixelRatio(ratio)
    return pixmap
