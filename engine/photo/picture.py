"""A photograph as upright pixels in plain colours, and without what it says of place and device.

Pillow reads and writes; what is written holds pixels alone: no EXIF, XMP, IPTC, comments,
thumbnails or colour profile (colours are turned into sRGB when the picture is read).
"""

from __future__ import annotations

import contextlib
import io
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from engine.errors import OutOfRangeError

if TYPE_CHECKING:
    from PIL import Image

#: What a photograph may be; MPO is a JPEG with a second picture behind it, as some phones write.
READ = ("JPEG", "MPO", "PNG")
#: Fewer pixels than this show no table, more than this are no photograph.
LEAST_SIDE_PX, MOST_PIXELS = 100, 200_000_000
PEOPLE = "People may be in the picture: ask them, or crop it, before you hand it on."

_ORIENTATION, _EXIF_IFD, _GPS_IFD = 0x0112, 0x8769, 0x8825
_FOCAL_35MM, _WIDE, _HIGH = 0xA405, 0xA002, 0xA003
_DEVICE = (0x010F, 0x0110, 0x0131, 0xA433, 0xA434, 0xA431)
#: First bytes of pictures that are known but not read, and what to do with them.
_OTHERS = (
    (b"ftypheic", "a HEIC picture"), (b"ftypheix", "a HEIC picture"), (b"ftypmif1", "a HEIF one"),
    (b"ftypavif", "an AVIF picture"), (b"WEBP", "a WebP picture"), (b"GIF8", "a GIF picture"),
    (b"II*\0", "a TIFF or raw picture"), (b"MM\0*", "a TIFF or raw picture"),
    (b"%PDF", "a PDF"), (b"BM", "a BMP picture"),
)  # fmt: skip


@dataclass(frozen=True, eq=False)
class Picture:
    """Upright pixels (high, wide, 3), 8 bits of red, green and blue.

    `focal_35mm` is what the file says of the lens, 0 when it does not (or was cropped); `held`
    names what it says besides, which is dropped when the picture is written.
    """

    pixels: np.ndarray
    focal_35mm: float = 0.0
    held: tuple[str, ...] = ()

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height."""
        return (int(self.pixels.shape[1]), int(self.pixels.shape[0]))


def picture_of(data: bytes, name: str) -> Picture:
    """The picture in the bytes of a file, turned upright; `name` is the file's, for messages.

    `OutOfRangeError` for what is no JPEG or PNG picture, is broken, or is too small or too large.
    """
    from PIL import Image, ImageOps, UnidentifiedImageError

    limit = Image.MAX_IMAGE_PIXELS
    Image.MAX_IMAGE_PIXELS = None  # the limit is ours, below, with a message of its own
    try:
        image = Image.open(io.BytesIO(data))
        if image.format not in READ:
            raise _refused(name, _kind_of(data, str(image.format)))
        wide, high = image.size
        if min(wide, high) < LEAST_SIDE_PX or wide * high > MOST_PIXELS:
            raise OutOfRangeError(
                f"the size of {name}", f"{wide} by {high} px",
                f"at least {LEAST_SIDE_PX} px each way, {MOST_PIXELS // 1_000_000} million in all",
            )  # fmt: skip
        focal, held = _told_by(image)
        image.load()
        upright = ImageOps.exif_transpose(image)
        return Picture(np.asarray(_plain(upright)), focal, held)
    except UnidentifiedImageError:
        raise _refused(name, _kind_of(data, "")) from None
    except (OSError, SyntaxError, ValueError, EOFError) as error:
        if isinstance(error, OutOfRangeError):
            raise
        raise OutOfRangeError(
            name, "a broken picture: a part of it is missing or damaged",
            "a whole JPEG or PNG file",
            "Copy it from the camera once more.",
        ) from None  # fmt: skip
    finally:
        Image.MAX_IMAGE_PIXELS = limit


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

    below = Image.fromarray(np.ascontiguousarray(pixels)).convert("RGBA")
    above = Image.fromarray(np.ascontiguousarray(overlay))
    return np.asarray(Image.alpha_composite(below, above).convert("RGB"))


def _plain(image: Image.Image) -> Image.Image:
    """In eight bits of sRGB; what was see-through is laid on white."""
    from PIL import Image, ImageCms

    profile = image.info.get("icc_profile")
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        solid = image.convert("RGBA")
        image = Image.alpha_composite(Image.new("RGBA", solid.size, "white"), solid)
    elif image.mode.startswith("I") or image.mode == "F":
        deep = np.asarray(image, dtype=float)
        image = Image.fromarray((deep / max(deep.max(), 255.0) * 255.0).astype(np.uint8))
    if profile and image.mode == "RGB":
        with contextlib.suppress(ImageCms.PyCMSError, OSError):
            source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            if "srgb" not in ImageCms.getProfileDescription(source).lower():
                wanted = ImageCms.createProfile("sRGB")
                turned = ImageCms.profileToProfile(image, source, wanted, outputMode="RGB")
                image = turned if turned is not None else image
    return image.convert("RGB")


def _told_by(image: Any) -> tuple[float, tuple[str, ...]]:
    """The focal length on 35 mm film, and what else the file says that is not for others."""
    held, focal = [], 0.0
    with contextlib.suppress(Exception):  # EXIF is written by cameras of every kind, often wrongly
        exif = image.getexif()
        inner = exif.get_ifd(_EXIF_IFD)
        if exif.get_ifd(_GPS_IFD):
            held.append("where it was taken")
        if any(tag in exif or tag in inner for tag in _DEVICE):
            held.append("which device took it")
        if len(exif) > (1 if _ORIENTATION in exif else 0) and not held:
            held.append("notes of the camera")
        focal = _stated_focal(inner, image.size)
    if any(key in image.info for key in ("xmp", "XML:com.adobe.xmp", "comment", "photoshop")):
        held.append("notes of programs")
    return focal, tuple(held)


def _stated_focal(inner: Any, size: tuple[int, int]) -> float:
    """The stated focal length, unless the picture was cropped since (it has another shape)."""
    stated = float(inner.get(_FOCAL_35MM, 0) or 0)
    if not 5.0 <= stated <= 1200.0:
        return 0.0
    wide, high = float(inner.get(_WIDE, 0) or 0), float(inner.get(_HIGH, 0) or 0)
    if wide > 0 and high > 0:
        before, now = max(wide, high) / min(wide, high), max(size) / min(size)
        if abs(before / now - 1.0) > 0.01:
            return 0.0
    return stated


def _kind_of(data: bytes, known: str) -> str:
    head = data[:32]
    if not data:
        return "empty"
    for sign, kind in _OTHERS:
        if sign in head:
            return kind
    return f"a picture of the kind {known}" if known else "no picture"


def _refused(name: str, kind: str) -> OutOfRangeError:
    return OutOfRangeError(
        name, kind, "a JPEG or PNG picture",
        "Save the photograph as JPEG, and choose that file.",
    )  # fmt: skip
