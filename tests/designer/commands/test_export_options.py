"""Options of `diagram` and `handout`: layers, width, sheets, time of making, stopping."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pypdf
import pytest
from lxml import etree
from PIL import Image

from designer.commands import exports
from designer.commands.exit_codes import STOPPED
from designer.commands.main import main
from designer.commands.progress import Told
from designer.drawing import layer_names
from engine.storage import write_file
from tests.designer.pdf_pages import page_texts

SVG = "{http://www.w3.org/2000/svg}"
ROUTINE = {
    "format": "baizewright-routine",
    "version": 1,
    "title": "Round the black",
    "coach": "Wren Ashgrove",
    "table": "snooker-12ft",
    "balls": [
        {"id": "cue", "kind": "cue", "x_mm": 1100, "y_mm": 2900},
        {"id": "black", "kind": "black", "x_mm": 889, "y_mm": 3245},
        {"id": "r1", "kind": "red", "x_mm": 1200, "y_mm": 2500},
        {"id": "r2", "kind": "red", "x_mm": 1250, "y_mm": 2550},
    ],
    "shots": [
        {
            "id": "s",
            "object_ball": "black",
            "pocket": "top-left",
            "question": "Which one goes round?",
            "answer": "Top goes round.",
            "lanes": [
                {"label": "A", "tip_height": 0.5, "pace": 4},
                {"label": "B", "tip_height": "stun", "pace": 4},
            ],
        }
    ],
}


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "good.json"
    path.write_text(json.dumps(ROUTINE), encoding="utf-8")
    return str(path)


def roles_in(path: Path) -> set[str]:
    return {g.get("class") for g in etree.parse(path).iter(f"{SVG}g")} - {None}


@pytest.mark.parametrize(
    ("options", "there", "gone"),
    [
        ((), {"lane", "ball", "letter", "corridor"}, {"measure", "check"}),
        (("--show", "measurements,checks"), {"measure", "check", "lane"}, set()),
        (("--hide", "lanes,corridors,letters"), {"ball", "potting-line"}, {"lane", "corridor"}),
        (("--hide", "90-degree-line"), {"potting-line"}, {"ninety-line"}),
        (("--only", "table,balls,ball-letters,measurements"), {"bed", "ball", "measure"},
         {"lane", "potting-line", "marks"}),
        (("--only", "balls", "--show", "letters"), {"ball", "letter"}, {"bed", "lane"}),
    ],
)  # fmt: skip
def test_layers_are_switched(file, tmp_path, options, there, gone):
    out = tmp_path / "a.svg"
    assert main(["diagram", file, "-o", str(out), *options]) == 0
    found = roles_in(out)
    assert there <= found and not gone & found


def test_help_names_every_layer(capsys):
    assert main(["diagram", "--help"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert all(name in told for name in layer_names())


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--show", "lains"), "no layer called 'lains'"),
        (("--hide", "balls", "--only", "balls"), "shown and hidden"),
        (("--shot", "t"), "no shot called 't'"),
        (("--made-at", "soon"), "--made-at is 'soon'"),
        (("--width", "0"), "width is 0"),
    ],
)
def test_a_wrong_choice_is_told_and_nothing_written(file, tmp_path, capsys, options, told):
    out = tmp_path / "a.pdf"
    assert main(["diagram", file, "-o", str(out), *options]) == 2
    err = capsys.readouterr().err
    assert told in err and len(err.splitlines()) == 1 and not out.exists()


@pytest.mark.slow
def test_without_lanes_no_shot_is_played(file, tmp_path):
    """Where the balls stand is drawn without loading the engine of the shots."""
    code = (
        "import sys; from designer.commands.main import main; "
        f"code = main(['diagram', {file!r}, '-o', {str(tmp_path / 'a.svg')!r}, "
        "'--only', 'table,balls,measurements']); "
        "sys.exit(code or int('numba' in sys.modules))"
    )
    run = subprocess.run([sys.executable, "-c", code], check=False, capture_output=True)
    assert run.returncode == 0, run.stderr


def test_png_width_and_transparent_background(file, tmp_path):
    out = tmp_path / "a.png"
    options = ["--width", "700", "--transparent", "--hide", "table"]
    assert main(["diagram", file, "-o", str(out), *options]) == 0
    image = Image.open(out).convert("RGBA")
    assert image.size[0] == 700 and image.getpixel((1, 1))[3] == 0
    assert main(["diagram", file, "-o", str(out), "--landscape"]) == 0
    wide, high = Image.open(out).size
    assert wide > high


def test_seen_from_the_other_end_the_table_is_turned_by_half(file, tmp_path):
    """The same places of the cloth, opposite each other in the two pictures."""
    one, other = tmp_path / "near.png", tmp_path / "far.png"
    bare = ["--only", "table,marks,balls,corridors", "--width", "600"]
    assert main(["diagram", file, "-o", str(one), *bare]) == 0
    assert main(["diagram", file, "-o", str(other), *bare, "--other-end"]) == 0
    near = np.asarray(Image.open(one).convert("L"), dtype=float)
    far = np.asarray(Image.open(other).convert("L"), dtype=float)
    assert near.shape == far.shape
    turned, kept = np.abs(near[::-1, ::-1] - far).mean(), np.abs(near - far).mean()
    assert turned < 0.5 and kept > 3.0 * turned
    assert main(["diagram", file, "-o", str(other), *bare, "--other-end", "--landscape"]) == 0
    wide, high = Image.open(other).size
    assert wide > high


def test_made_at_and_the_open_convention_give_the_same_bytes(file, tmp_path, monkeypatch):
    one, two = tmp_path / "1.pdf", tmp_path / "2.pdf"
    for command in (["diagram", file], ["handout", file, "--sheet", "record"]):
        assert main([*command, "-o", str(one), "--made-at", "2025-03-01T18:30Z"]) == 0
        monkeypatch.setenv("SOURCE_DATE_EPOCH", "1740853800")
        assert main([*command, "-o", str(two)]) == 0
        monkeypatch.delenv("SOURCE_DATE_EPOCH")
        assert one.read_bytes() == two.read_bytes()
        made = pypdf.PdfReader(one).metadata.creation_date
        assert made.isoformat() == "2025-03-01T18:30:00+00:00"


def test_a_convention_that_is_no_time_is_told(file, tmp_path, monkeypatch, capsys):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    assert main(["handout", file, "-o", str(tmp_path / "a.pdf")]) == 2
    assert "SOURCE_DATE_EPOCH in the environment is 'yesterday'" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("options", "told"),
    [
        (("--sheet", "steps"), "1. The pot alone"),
        (("--sheet", "record"), "Practice of (initials)"),
        (("--sheet", "card"), "Initials ______"),
        (("--sheet", "strip"), "Full-size strip"),
        (("--for", "player", "--answer", "last-page"), "Top goes round."),
        (("--booklet", "--title", "Two evenings"), "Contents"),
        (("--landscape",), "Set up, in this order"),
        (("--tolerance",), "Set up, in this order"),
    ],
)
@pytest.mark.slow
def test_sheets(file, tmp_path, options, told):
    out = tmp_path / "a.pdf"
    assert main(["handout", file, "-o", str(out), *options]) == 0
    text = " ".join(page_texts(out))
    assert told in " ".join(text.split())


def test_a_coachs_sheet_has_no_answer_to_hide(file, tmp_path, capsys):
    assert main(["handout", file, "-o", str(tmp_path / "a.pdf"), "--answer", "last-page"]) == 2
    assert "none but on the player’s full sheet" in capsys.readouterr().err


def test_stopped_from_the_keyboard_leaves_the_old_file(file, tmp_path, monkeypatch, capsys):
    out = tmp_path / "a.pdf"
    out.write_bytes(b"%PDF-old")

    def stop(*_args, **_more):
        raise KeyboardInterrupt

    monkeypatch.setattr(exports, "_answered", stop)
    assert main(["handout", file, "-o", str(out)]) == STOPPED
    assert "no file was written" in capsys.readouterr().err
    assert out.read_bytes() == b"%PDF-old" and sorted(p.name for p in tmp_path.iterdir()) == [
        "a.pdf", "good.json",
    ]  # fmt: skip


def test_stopped_while_writing_leaves_no_half_file(tmp_path, monkeypatch):
    def stop(*_args):
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "fsync", stop)
    with pytest.raises(KeyboardInterrupt):
        write_file(tmp_path / "a.pdf", b"new", "pdf")
    assert list(tmp_path.iterdir()) == []


class Watched(io.StringIO):
    def isatty(self) -> bool:
        return True


def test_progress_is_told_now_and_then_and_wiped_at_the_end(monkeypatch):
    stream, clock = Watched(), [0.0]
    monkeypatch.setattr(sys, "stderr", stream)
    monkeypatch.setattr("time.monotonic", lambda: clock[0])
    told = Told("answering")
    for done in range(1, 101):
        clock[0] += 0.1
        assert told(done, 100) is True
    lines = [line for line in stream.getvalue().split("\r") if line.strip()]
    assert lines[0] == "answering: 11 of 100 routines" and 10 < len(lines) < 40
    assert stream.getvalue().endswith("\r")


def test_nothing_is_told_where_no_one_watches(monkeypatch):
    stream = io.StringIO()
    monkeypatch.setattr(sys, "stderr", stream)
    told = Told("answering")
    told.began -= 60
    for done in range(1, 5):
        told(done, 4)
    assert stream.getvalue() == ""
