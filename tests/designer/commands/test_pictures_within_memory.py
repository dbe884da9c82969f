"""Pictures are opened by the size they state, and every fault in one is told in one sentence."""

import io
import random
import struct
import zlib

import numpy as np
import pytest
from PIL import Image, JpegImagePlugin

from designer.commands.main import main
from engine.errors import OutOfRangeError
from engine.photo import laid_over, opening, picture, picture_of


def png_stating(wide, high):
    """A PNG that says it is so large and holds nothing."""

    def chunk(kind, data):
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b""))
        + chunk(b"IEND", b"")
    )  # fmt: skip


def jpeg(wide=240, high=160, **options):
    store = io.BytesIO()
    Image.effect_noise((wide, high), 60).convert("RGB").save(store, "JPEG", **options)
    return store.getvalue()


def stating(data, wide, high):
    """A JPEG whose frame says another size."""
    at = next(data.index(mark) for mark in (b"\xff\xc0", b"\xff\xc2") if mark in data)
    return data[: at + 5] + struct.pack(">HH", high, wide) + data[at + 9 :]


def refused(data):
    with pytest.raises(OutOfRangeError) as told:
        picture_of(data, "x")
    return str(told.value)


@pytest.fixture
def never_decoded(monkeypatch):
    def load(_self):
        raise AssertionError("decoded")

    monkeypatch.setattr("PIL.ImageFile.ImageFile.load", load)


@pytest.mark.usefixtures("never_decoded")
def test_a_picture_that_states_too_large_a_size_is_not_decoded():
    assert refused(png_stating(14_142, 14_142)) == (
        "the size of x is 14142 by 14142 px; wanted at least 100 px each way, 40 million in all. "
        "Save it at half its size, or as JPEG."
    )
    assert "60000 by 40000 px" in refused(png_stating(60_000, 40_000))
    assert "400 million in all" in refused(stating(jpeg(), 65_000, 65_000))
    assert 'several scans; wanted one in a single scan. Save it without "progressive"' in refused(
        stating(jpeg(progressive=True), 20_000, 15_000)
    )


def test_a_command_refuses_such_a_picture(tmp_path, capsys):
    (tmp_path / "big.png").write_bytes(png_stating(14_142, 14_142))
    marks = tmp_path / "m.json"
    assert main(["photo", "begin", str(tmp_path / "big.png"), "-o", str(marks)]) == 2
    assert "14142 by 14142 px; wanted" in capsys.readouterr().err and not marks.exists()


@pytest.mark.parametrize(
    ("most", "shrunk", "size"),
    [(150_000, 1, (480, 300)), (40_000, 2, (240, 150)), (10_000, 4, (120, 75))],
)
def test_a_large_jpeg_is_opened_at_a_part_of_its_size(monkeypatch, most, shrunk, size):
    monkeypatch.setattr(opening, "MOST_PIXELS", most)
    found = picture_of(jpeg(480, 300), "x")
    assert (found.size_px, found.shrunk) == (size, shrunk)


def test_that_a_picture_is_opened_smaller_is_told(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(opening, "MOST_PIXELS", 40_000)
    (tmp_path / "table.jpg").write_bytes(jpeg(480, 300))
    out = str(tmp_path / "m.json")
    assert main(["photo", "begin", str(tmp_path / "table.jpg"), "-o", out]) == 0
    told = capsys.readouterr().out
    assert "240 by 150 px upright" in told and "opened at 1/2 of its size" in told


def test_strips_give_the_same_pixels_as_the_whole(monkeypatch):
    rng = np.random.default_rng(5)
    pixels = rng.integers(0, 256, (160, 240, 4), dtype=np.uint8)
    store = io.BytesIO()
    Image.fromarray(pixels).save(store, "PNG")
    whole = picture_of(store.getvalue(), "x").pixels
    over = laid_over(whole, pixels)
    monkeypatch.setattr(picture, "_STRIP_PX", 7 * 240)
    assert np.array_equal(picture_of(store.getvalue(), "x").pixels, whole)
    assert np.array_equal(laid_over(whole, pixels), over)


@pytest.mark.parametrize(
    "fault",
    [TypeError, SyntaxError, struct.error, EOFError, OSError, ValueError, IndexError, KeyError,
     ZeroDivisionError, Image.DecompressionBombError, RuntimeError],
)  # fmt: skip
def test_a_decoder_may_fail_in_any_way(monkeypatch, fault):
    def load(_self):
        raise fault("what a decoder says")

    monkeypatch.setattr(JpegImagePlugin.JpegImageFile, "load", load)
    assert refused(jpeg()) == (
        "x is a broken picture: a part of it is missing or damaged; wanted a whole JPEG or PNG "
        "file. Copy it from the camera once more."
    )


def test_no_memory_is_told_as_that(monkeypatch):
    def load(_self):
        raise MemoryError

    monkeypatch.setattr(JpegImagePlugin.JpegImageFile, "load", load)
    assert "does not fit into this computer’s memory" in refused(jpeg())


@pytest.mark.slow
def test_damaged_pictures_are_opened_or_refused():
    exif = Image.Exif()
    exif[0x0112], exif[0x010F] = 6, "Larkspur Optics"
    exif.get_ifd(0x8769)[0xA405] = 26
    sound = jpeg(exif=exif.tobytes(), comment=b"x")
    store = io.BytesIO()
    Image.open(io.BytesIO(sound)).save(store, "PNG", exif=exif.tobytes())
    opened = 0
    for number in range(600):
        dice = random.Random(number)
        data = bytearray(sound if number % 2 else store.getvalue())
        for _ in range(dice.randint(1, 4)):
            data[dice.randrange(2, 700)] = dice.randrange(256)
        if number % 5 == 0:
            del data[dice.randrange(len(data)) :]
        try:
            opened += picture_of(bytes(data), "x").pixels.shape[2] == 3
        except OutOfRangeError as error:
            assert "\n" not in str(error)
    assert 50 < opened < 550
