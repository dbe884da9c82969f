"""A photograph as upright pixels in plain colours, and without what it says of place and device.

Pillow reads and writes; what is written holds pixels alone: no EXIF, XMP, IPTC, comments,
thumbnails or colour profile (colours are turned into sRGB when the picture is read).
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

#: What a picture's file may say besides its pixels.
HELD: tuple[str, ...] = ("place", "device", "camera-notes", "program-notes")
_STRIP_PX = 1 << 20


@dataclass(frozen=True, eq=False)
class Picture:
    """Upright pixels (high, wide, 3), 8 bits of red, green and blue.

    `focal_35mm` is what the file says of the lens, 0 when it does not (or was cropped); `held`
    names what it says besides (of `HELD`), which is dropped when the picture is written. A picture
    too large to work with was opened with 1 pixel for `shrunk` each way.
    """

    pixels: np.ndarray
    focal_35mm: float = 0.0
    held: tuple[str, ...] = ()
    shrunk: int = 1

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height."""
        return (int(self.pixels.shape[1]), int(self.pixels.shape[0]))


def png_of(pixels: np.ndarray) -> bytes:
    """Pixels (high, wide, 3 or 4) as a PNG file that holds nothing else."""
    from PIL import Image

    store = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(pixels)).save(store, "PNG", compress_level=6)
    return store.getvalue()


def jpeg_of(pixels: np.ndarray, quality: int = 93) -> bytes:
    """Pixels (high, wide, 3) as a JPEG file that holds nothing else."""
    from PIL import Image

    store = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(pixels[..., :3])).save(store, "JPEG", quality=quality)
    return store.getvalue()


def laid_over(pixels: np.ndarray, overlay: np.ndarray) -> np.ndarray:
    """An overlay (high, wide, 4) over a picture (high, wide, 3) of the same size."""
    from PIL import Image

    both = np.empty_like(pixels)
    for rows in strips(*pixels.shape[:2]):
        below = Image.fromarray(np.ascontiguousarray(pixels[rows])).convert("RGBA")
        above = Image.fromarray(np.ascontiguousarray(overlay[rows]))
        both[rows] = np.asarray(Image.alpha_composite(below, above).convert("RGB"))
    return both


def strips(high: int, wide: int) -> Iterator[slice]:
    """The rows of a picture in parts: what is worked out of one part needs little memory."""
    step = max(1, _STRIP_PX // max(wide, 1))
    return (slice(top, min(top + step, high)) for top in range(0, high, step))
