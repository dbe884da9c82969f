"""Pictures turned upright, in plain colours, and written without what they say of others."""

import io

import numpy as np
import pytest
from PIL import Image, ImageCms

from engine.photo import jpeg_of, laid_over, picture_of, png_of
from engine.photo.picture import HELD

#: A picture whose corners tell which way up it is: red, green, blue, white.
UPRIGHT = np.zeros((160, 240, 3), np.uint8)
UPRIGHT[:80, :120] = (220, 30, 30)
UPRIGHT[:80, 120:] = (30, 200, 30)
UPRIGHT[80:, :120] = (30, 30, 220)
UPRIGHT[80:, 120:] = (240, 240, 240)

#: How a camera lays the picture down for each stated orientation (EXIF 2.3, tag 0x0112).
LAID = {
    1: lambda p: p, 2: lambda p: p[:, ::-1], 3: lambda p: p[::-1, ::-1], 4: lambda p: p[::-1],
    5: lambda p: p.transpose(1, 0, 2), 6: lambda p: np.rot90(p, 1),
    7: lambda p: p[::-1, ::-1].transpose(1, 0, 2), 8: lambda p: np.rot90(p, -1),
}  # fmt: skip
SECRETS = (b"Fernwood 9", b"Larkspur Optics", b"52.1234", b"Kettlebrook", b"GPS")


def written(pixels, kind="JPEG", orientation=0, secret=False, focal=0, crop=False, **options):
    image = Image.fromarray(np.ascontiguousarray(pixels))
    exif = Image.Exif()
    if orientation:
        exif[0x0112] = orientation
    if secret:
        exif[0x010F], exif[0x0110], exif[0x013B] = "Larkspur Optics", "Fernwood 9", "Kettlebrook"
        exif.get_ifd(0x8825)[2] = (52.1234, 7.0, 30.0)
        exif.get_ifd(0x8825)[1] = "N"
    if focal:
        inner = exif.get_ifd(0x8769)
        inner[0xA405] = focal
        inner[0xA002], inner[0xA003] = (4000, 1000) if crop else image.size
    store = io.BytesIO()
    image.save(store, kind, exif=exif.tobytes(), **options)
    return store.getvalue()


@pytest.mark.parametrize("orientation", sorted(LAID))
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_every_stated_orientation_is_turned_upright(orientation, kind):
    data = written(LAID[orientation](UPRIGHT), kind, orientation)
    found = picture_of(data, "x")
    assert found.size_px == (240, 160)
    assert np.abs(found.pixels.astype(int) - UPRIGHT)[10:70, 10:110].max() < 12
    assert np.abs(found.pixels.astype(int) - UPRIGHT).mean() < 4


def test_place_and_device_are_noticed_and_written_nowhere():
    data = written(UPRIGHT, orientation=3, secret=True, focal=26, comment=b"by Kettlebrook")
    assert b"Fernwood 9" in data and b"Kettlebrook" in data
    found = picture_of(data, "x")
    assert "place" in found.held and "device" in found.held and set(found.held) <= set(HELD)
    for out in (png_of(found.pixels), jpeg_of(found.pixels)):
        assert not any(secret in out for secret in SECRETS)
        again = Image.open(io.BytesIO(out))
        again.load()
        assert not again.getexif() and not again.getexif().get_ifd(0x8825)
        assert not {"exif", "comment", "icc_profile", "xmp", "photoshop"} & set(again.info)
    assert b"eXIf" not in png_of(found.pixels) and b"tEXt" not in png_of(found.pixels)
    assert b"Exif" not in jpeg_of(found.pixels)


def test_the_focal_length_is_taken_unless_the_picture_was_cropped():
    assert picture_of(written(UPRIGHT, focal=26), "x").focal_35mm == 26.0
    assert picture_of(written(UPRIGHT, focal=26, crop=True), "x").focal_35mm == 0.0
    assert picture_of(written(UPRIGHT), "x").focal_35mm == 0.0
    unsized = Image.Exif()
    unsized.get_ifd(0x8769)[0xA405] = 26
    store = io.BytesIO()
    Image.fromarray(UPRIGHT).save(store, "JPEG", exif=unsized)
    assert picture_of(store.getvalue(), "x").focal_35mm == 26.0, "nothing says it was cropped"


def test_other_kinds_of_pixels_become_plain_ones():
    grey = Image.fromarray(UPRIGHT).convert("L")
    deep = Image.fromarray(UPRIGHT[..., 0].astype(np.uint16) * 257)
    palette = Image.fromarray(UPRIGHT).quantize(8)
    ink = Image.fromarray(UPRIGHT).convert("CMYK")
    clear = Image.fromarray(np.dstack((UPRIGHT, np.full((160, 240), 255, np.uint8))))
    clear.putpixel((0, 0), (0, 0, 0, 0))
    for image, kind in (
        (grey, "PNG"), (deep, "PNG"), (palette, "PNG"), (ink, "JPEG"), (clear, "PNG"),
    ):  # fmt: skip
        store = io.BytesIO()
        image.save(store, kind)
        found = picture_of(store.getvalue(), "x").pixels
        assert found.shape == (160, 240, 3) and found.dtype == np.uint8
        assert found[20, 20, 0] > 60
        if image is clear:
            assert tuple(found[0, 0]) == (255, 255, 255)


def test_colours_of_another_space_are_turned_into_the_usual_one():
    """A profile with its red and green exchanged: read right, red is green."""
    usual = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    r, g = usual.index(b"rXYZ"), usual.index(b"gXYZ")
    swapped = bytearray(usual)
    swapped[r : r + 4], swapped[g : g + 4] = b"gXYZ", b"rXYZ"
    text = usual.index(b"s\0R\0G\0B") if b"s\0R\0G\0B" in usual else usual.index(b"sRGB")
    swapped[text : text + 1] = b"x"
    data = written(UPRIGHT, "PNG", icc_profile=bytes(swapped))
    assert b"iCCP" in data
    red = picture_of(data, "x").pixels[20, 20].astype(int)
    plain = picture_of(written(UPRIGHT, "PNG", icc_profile=usual), "x").pixels
    assert np.array_equal(plain, UPRIGHT)
    assert red[1] > red[0]


def test_an_overlay_laid_over_is_what_any_program_makes_of_it():
    rng = np.random.default_rng(3)
    overlay = rng.integers(0, 256, (160, 240, 4), dtype=np.uint8)
    overlay[:, :60, 3] = 0
    overlay[:, 60:120, 3] = 255
    mine = laid_over(UPRIGHT, overlay)
    cover = overlay[..., 3:].astype(float) / 255
    theirs = overlay[..., :3] * cover + UPRIGHT * (1 - cover)
    assert np.abs(mine - theirs).max() <= 1.0
    assert np.array_equal(mine[:, :60], UPRIGHT[:, :60])
    assert np.array_equal(mine[:, 60:120], overlay[:, 60:120, :3])


def test_a_colour_profile_that_is_broken_changes_no_colour():
    """Some programs write a profile of nonsense: the pixels are then taken as they stand."""
    store = io.BytesIO()
    Image.new("RGB", (120, 110), (200, 60, 20)).save(store, "PNG", icc_profile=b"no profile at all")
    found = picture_of(store.getvalue(), "table.png")
    assert found.size_px == (120, 110)
    assert (found.pixels == (200, 60, 20)).all()
