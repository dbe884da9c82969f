"""From the bytes of a picture's file to upright pixels, within a bound of memory.

A file of some kilobytes can say it is a picture of gigabytes: what it says of its size is looked
at before anything is decoded. Pillow decodes; whatever fault it meets becomes one sentence.
"""

from __future__ import annotations

import contextlib
import io
import warnings
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np

from engine.errors import OutOfRangeError
from engine.photo.picture import Picture, strips

if TYPE_CHECKING:
    from PIL import Image

#: Fewer pixels than this show no table.
LEAST_SIDE_PX = 100
#: Drawing over a picture takes up to 15 bytes a pixel (the picture, what is drawn, both, and what
#: writes them): 600 MB, and less than 1 GB with all the program needs itself.
MOST_PIXELS = 40_000_000
#: JPEG can be decoded at a half, a quarter or an eighth; no camera takes larger ones than this.
MOST_JPEG_PIXELS = 400_000_000
#: A JPEG in several scans is held whole while it is decoded, two bytes a colour and pixel.
MOST_HELD_BYTES = 600_000_000

_JPEG, _PNG = b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n"
_ORIENTATION, _EXIF_IFD, _GPS_IFD = 0x0112, 0x8769, 0x8825
_FOCAL_35MM, _WIDE, _HIGH = 0xA405, 0xA002, 0xA003
_DEVICE = (0x010F, 0x0110, 0x0131, 0xA433, 0xA434, 0xA431)
#: First bytes of pictures that are known but not read, and what they are.
_OTHERS = (
    (b"ftypheic", "a HEIC picture"), (b"ftypheix", "a HEIC picture"), (b"ftypmif1", "a HEIF one"),
    (b"ftypavif", "an AVIF picture"), (b"WEBP", "a WebP picture"), (b"GIF8", "a GIF picture"),
    (b"II*\0", "a TIFF or raw picture"), (b"MM\0*", "a TIFF or raw picture"),
    (b"%PDF", "a PDF"), (b"BM", "a BMP picture"),
)  # fmt: skip
#: How pixels are turned upright for each stated orientation (EXIF 2.3, tag 0x0112).
_UPRIGHT: dict[int, Callable[[np.ndarray], np.ndarray]] = {
    2: lambda pixels: pixels[:, ::-1],
    3: lambda pixels: pixels[::-1, ::-1],
    4: lambda pixels: pixels[::-1],
    5: lambda pixels: pixels.transpose(1, 0, 2),
    6: lambda pixels: np.rot90(pixels, -1),
    7: lambda pixels: pixels[::-1, ::-1].transpose(1, 0, 2),
    8: lambda pixels: np.rot90(pixels, 1),
}


def picture_of(data: bytes, name: str) -> Picture:
    """The picture in the bytes of a file, turned upright; `name` is the file's, for messages.

    `OutOfRangeError` for what is no JPEG or PNG picture, is broken, or is too small or too large.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of Pillow, about odd notes in a file
            return _decoded(data, name)
    except OutOfRangeError:
        raise
    except MemoryError:
        raise OutOfRangeError(
            name, "a picture that does not fit into this computer’s memory", "a smaller one",
            "Close other programs, or save it at half its size.",
        ) from None  # fmt: skip
    except Exception:  # decoders meet damage with errors of every kind
        raise OutOfRangeError(
            name, "a broken picture: a part of it is missing or damaged",
            "a whole JPEG or PNG file",
            "Copy it from the camera once more.",
        ) from None  # fmt: skip


def _decoded(data: bytes, name: str) -> Picture:
    from PIL import JpegImagePlugin, PngImagePlugin

    # By their own classes: what `Image.open` would refuse by its size is refused here, by our
    # bound, and a second picture behind the first, as some phones write it, is left alone.
    image: Image.Image
    if data.startswith(_JPEG):
        image = JpegImagePlugin.JpegImageFile(io.BytesIO(data))
        shrunk = _shrink(image, data, name)
    elif data.startswith(_PNG):
        image = PngImagePlugin.PngImageFile(io.BytesIO(data))
        shrunk = 1
        _must_fit(image, name, MOST_PIXELS, "Save it at half its size, or as JPEG.")
    else:
        raise OutOfRangeError(
            name, _kind_of(data), "a JPEG or PNG picture",
            "Save the photograph as JPEG, and choose that file.",
        )  # fmt: skip
    image.load()
    focal, held = _told_by(image)
    turned = _UPRIGHT.get(_orientation(image), lambda pixels: pixels)
    pixels = _plain_pixels(image)
    image.close()
    del image  # as large again as its pixels
    return Picture(np.ascontiguousarray(turned(pixels)), focal, held, shrunk)


def _must_fit(image: Image.Image, name: str, most: int, advice: str) -> None:
    wide, high = image.size
    if min(wide, high) < LEAST_SIDE_PX or wide * high > most:
        raise OutOfRangeError(
            f"the size of {name}", f"{wide} by {high} px",
            f"at least {LEAST_SIDE_PX} px each way, {most // 1_000_000} million in all",
            advice if wide * high > most else "",
        )  # fmt: skip


def _shrink(image: Image.Image, data: bytes, name: str) -> int:
    """Have a JPEG decoded at the size it can be worked with at: 1, or 2, 4 or 8 times smaller."""
    _must_fit(image, name, MOST_JPEG_PIXELS, "Save it at half its size.")
    wide, high = image.size
    held = 2 * len(image.getbands()) * wide * high
    if held > MOST_HELD_BYTES and _in_several_scans(data, len(image.getbands())):
        raise OutOfRangeError(
            name, f"a JPEG of {wide} by {high} px in several scans", "one in a single scan",
            'Save it without "progressive".',
        )  # fmt: skip
    for shrunk in (1, 2, 4, 8):
        if -(-wide // shrunk) * -(-high // shrunk) <= MOST_PIXELS:
            break
    if shrunk > 1:
        image.draft(None, (wide // shrunk, high // shrunk))
    return shrunk


def _in_several_scans(data: bytes, bands: int) -> bool:
    """Whether the first scan of a JPEG does not hold the whole picture (ITU-T T.81, annex B)."""
    at = 2
    while at + 4 < len(data) and data[at] == 0xFF:
        kind, length = data[at + 1], int.from_bytes(data[at + 2 : at + 4], "big")
        if kind == 0xC2:  # progressive
            return True
        if kind == 0xDA:  # the scan
            return data[at + 4] < bands
        at += 2 + length
    return True


def _plain_pixels(image: Image.Image) -> np.ndarray:
    """The picture (high, wide, 3) in eight bits of sRGB, made strip by strip."""
    wide, high = image.size
    found = np.empty((high, wide, 3), np.uint8)
    plain = _plain(image)
    for rows in strips(high, wide):
        found[rows] = np.asarray(plain(image.crop((0, rows.start, wide, rows.stop))))
    return found


def _plain(image: Image.Image) -> Callable[[Image.Image], Image.Image]:
    """What makes a part of the picture plain; what was see-through is laid on white."""
    from PIL import Image

    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        return _on_white
    if image.mode.startswith("I") or image.mode == "F":
        scale = 255.0 / max(float(image.getextrema()[1]), 255.0)  # type: ignore[arg-type]
        return lambda part: Image.fromarray(
            (np.asarray(part, dtype=float) * scale).astype(np.uint8)
        ).convert("RGB")
    if image.mode == "RGB" and image.info.get("icc_profile"):
        return _to_srgb(image.info["icc_profile"])
    return lambda part: part.convert("RGB")


def _on_white(part: Image.Image) -> Image.Image:
    from PIL import Image

    solid = part.convert("RGBA")
    return Image.alpha_composite(Image.new("RGBA", solid.size, "white"), solid).convert("RGB")


def _to_srgb(profile: bytes) -> Callable[[Image.Image], Image.Image]:
    """What turns colours of that profile into sRGB; a broken profile changes nothing."""
    from PIL import ImageCms

    with contextlib.suppress(ImageCms.PyCMSError, OSError):
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        if "srgb" not in ImageCms.getProfileDescription(source).lower():
            wanted = ImageCms.createProfile("sRGB")
            turn = ImageCms.buildTransform(source, wanted, "RGB", "RGB")
            return lambda part: ImageCms.applyTransform(part, turn) or part
    return lambda part: part


def _orientation(image: Image.Image) -> int:
    with contextlib.suppress(Exception):  # EXIF is written by cameras of every kind, often wrongly
        return int(image.getexif().get(_ORIENTATION, 1))
    return 1


def _told_by(image: Any) -> tuple[float, tuple[str, ...]]:
    """The focal length on 35 mm film, and what else the file says that is not for others."""
    held, focal = [], 0.0
    with contextlib.suppress(Exception):  # EXIF is written by cameras of every kind, often wrongly
        exif = image.getexif()
        inner = exif.get_ifd(_EXIF_IFD)
        if exif.get_ifd(_GPS_IFD):
            held.append("place")
        if any(tag in exif or tag in inner for tag in _DEVICE):
            held.append("device")
        if len(exif) > (1 if _ORIENTATION in exif else 0) and not held:
            held.append("camera-notes")
        focal = _stated_focal(inner, image.size)
    if any(key in image.info for key in ("xmp", "XML:com.adobe.xmp", "comment", "photoshop")):
        held.append("program-notes")
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


def _kind_of(data: bytes) -> str:
    if not data:
        return "empty"
    return next((kind for sign, kind in _OTHERS if sign in data[:32]), "no picture")
