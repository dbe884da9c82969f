"""The picture of a reach map: tinted and hatched regions, what threads outlined.

Made with numpy at the screen's own pixels, so that hatches stay sharp at any scale.
"""

from __future__ import annotations

import numpy as np
from PySide6.QtGui import QColor, QImage

from designer.answers.reach_kinds import KINDS, NO_ROOM, THREADS
from designer.drawing.look import INK

#: Distance of hatch lines and their width, in pixels of a plain screen.
STEP_PX, PEN_PX = 8.0, 1.1
EDGE_PX, OUTLINE_PX = 1.0, 2.4


def on_pixels(kind: np.ndarray, lowest_share: float, wide: int, high: int) -> np.ndarray:
    """Kinds at every pixel, (high, wide), from kinds on a lattice (tips, paces); pace runs up.

    The lattice spans tip heights from `lowest_share` (0 is the leftmost column, 1 the last) on;
    what lies left of it has no room for the cue.
    """
    across = (np.arange(wide) + 0.5) / wide
    up = 1.0 - (np.arange(high) + 0.5) / high
    share = (across - lowest_share) / (1.0 - lowest_share)
    i = np.clip(np.rint(share * (kind.shape[0] - 1)), 0, kind.shape[0] - 1).astype(int)
    j = np.rint(up * (kind.shape[1] - 1)).astype(int)
    shown = kind[i][:, j].T.copy()
    shown[:, across < lowest_share] = NO_ROOM
    return shown


def picture(shown: np.ndarray, ratio: float) -> QImage:
    """The kinds at every pixel as a picture; `ratio` is the screen's pixels per plain pixel."""
    high, wide = shown.shape
    y, x = np.mgrid[0:high, 0:wide].astype(np.float32)
    rgb = np.empty((high, wide, 3), dtype=np.float32)
    for index, kind in enumerate(KINDS):
        here = shown == index
        if not here.any():
            continue
        rgb[here] = _rgb(kind.ground)
        cover = _hatch(kind.hatch, x[here], y[here], ratio)
        if cover is not None:
            rgb[here] += (_rgb(kind.ink) - rgb[here]) * cover[:, None]
    _line(rgb, shown, max(1, round(EDGE_PX * ratio)), 0.45)
    _line(rgb, shown == THREADS, max(2, round(OUTLINE_PX * ratio)), 1.0)
    pixels = np.empty((high, wide, 4), dtype=np.uint8)
    pixels[..., :3] = np.clip(rgb[..., ::-1], 0.0, 255.0)
    pixels[..., 3] = 255
    image = QImage(pixels.tobytes(), wide, high, 4 * wide, QImage.Format.Format_RGB32)
    image = image.copy()
    image.setDevicePixelRatio(ratio)
    return image


def swatch(index: int, wide: int, high: int, ratio: float) -> QImage:
    """A small field of one kind, for the key."""
    size = (max(2, round(high * ratio)), max(2, round(wide * ratio)))
    return picture(np.full(size, index, dtype=np.int8), ratio)


def label_places(shown: np.ndarray, sizes: dict[int, tuple[int, int]]) -> dict[int, tuple]:
    """Where the word of each kind fits inside its region: middle (x, y) in pixels.

    `sizes` holds the width and height of each kind's word; kinds without room are left out.
    """
    found: dict[int, tuple[float, float]] = {}
    for index, (wide, high) in sizes.items():
        mask = shown == index
        if wide >= mask.shape[1] or high >= mask.shape[0] or not mask.any():
            continue
        table = np.zeros((mask.shape[0] + 1, mask.shape[1] + 1), dtype=np.int32)
        table[1:, 1:] = mask.cumsum(0, dtype=np.int32).cumsum(1, dtype=np.int32)
        inside = table[high:, wide:] - table[:-high, wide:] - table[high:, :-wide]
        rows, columns = np.nonzero(inside + table[:-high, :-wide] == wide * high)
        if not len(rows):
            continue
        at = int(np.argmin((rows - np.median(rows)) ** 2 + (columns - np.median(columns)) ** 2))
        found[index] = (columns[at] + wide / 2.0, rows[at] + high / 2.0)
    return found


def _rgb(colour: str) -> np.ndarray:
    made = QColor(colour)
    return np.array([made.red(), made.green(), made.blue()], dtype=np.float32)


def _hatch(hatch: str, x: np.ndarray, y: np.ndarray, ratio: float) -> np.ndarray | None:
    """How much of the hatch's ink covers each pixel, 0 to 1."""
    step, pen = STEP_PX * ratio, PEN_PX * ratio
    lines = {
        "rising": (x + y,),
        "falling": (x - y,),
        "crossed": (x + y, x - y),
        "upright": (x * 1.4,),
        "level": (y * 1.4,),
    }
    if hatch in lines:
        covers = [_stripe(value, step * 1.414, pen * 1.414) for value in lines[hatch]]
        return np.maximum.reduce(covers)
    if hatch in ("dots", "dense"):
        far = step * (1.25 if hatch == "dots" else 0.6)
        row = np.floor(y / far)
        dx = np.mod(x + (row % 2) * far / 2.0, far) - far / 2.0
        dy = np.mod(y, far) - far / 2.0
        return np.clip(0.95 * ratio + 0.5 - np.hypot(dx, dy), 0.0, 1.0)
    return None


def _stripe(value: np.ndarray, step: float, pen: float) -> np.ndarray:
    away = np.abs(np.mod(value, step) - step / 2.0)
    return np.clip(pen / 2.0 + 0.5 - away, 0.0, 1.0)


def _line(rgb: np.ndarray, areas: np.ndarray, width: int, strength: float) -> None:
    """Draw a line where areas meet."""
    change = np.zeros(areas.shape, dtype=bool)
    change[:, 1:] |= areas[:, 1:] != areas[:, :-1]
    change[1:] |= areas[1:] != areas[:-1]
    grown = change.copy()
    for _ in range(width - 1):
        wider = grown.copy()
        wider[1:] |= grown[:-1]
        wider[:, 1:] |= grown[:, :-1]
        grown = wider
    rgb[grown] += (_rgb(INK) - rgb[grown]) * strength
