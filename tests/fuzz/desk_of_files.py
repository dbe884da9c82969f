"""A folder as a coach has it, with sound files of every kind, some of them spoilt, and traps."""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import random
import shutil
import stat
import struct
import zlib
from functools import cache
from pathlib import Path

from tests.fuzz.damage import damaged, damaged_bytes
from tests.fuzz.readers import DEMOS, OBSERVATIONS, PRACTICE, folder, readers

#: Files by kind, as they lie in the folder.
NAMES = {
    "routine": ("small.json", "in/one.json", "in/one.json", "blue.json", "gaps.json", "keys.json"),
    "plan": ("plan.json",),
    "players": ("players.json",),
    "table": ("table.json",),
    "conditions": ("conditions.json",),
    "marks": ("marks.json", "tiny.photo.json"),
    "picture": ("table.jpg", "tiny.png", "bomb.png"),
    "observations": ("o.csv", "semicolons.csv"),
    "practice": ("p.csv",),
    "records": ("r.sqlite",),
    "index": ("i.sqlite",),
    "folder": (".", "in", "empty"),
}
#: What leads to no file. Every name stays within the folder: commands also write to these names,
#: and whoever runs them may be allowed to write anywhere. A device is a terminal of our own
#: (`device.json`), never one of the system's: those can be overwritten by root.
TRAPS = (
    "pipe.json", "in", "device.json", "none.json", "none/none.json", "small.json/a",
    "ring.json", "caf\udce9.json", "a\0b", "x" * 300, "", "-",
)  # fmt: skip
_ENDINGS = {
    ("diagram",): (".svg", ".png", ".pdf"),
    ("handout",): (".pdf",),
    ("photo", "draw"): (".png", ".jpg"),
    ("plan", "booklet"): (".pdf",),
    ("record", "report"): (".pdf",),
    ("record", "export"): (".csv",),
    ("calibrate",): (".json", ".csv", ".pdf"),
}  # fmt: skip


def name_for(dice: random.Random, words: tuple[str, ...], option: argparse.Action) -> str:
    """The name of a file for an option: mostly of the kind it wants."""
    kind, any_kind = _kind(words, option.dest), dice.random()
    if any_kind < 0.05:
        return dice.choice(TRAPS)
    if option.dest == "out":
        if any_kind < 0.15:
            return dice.choice(dice.choice(list(NAMES.values())))
        ending = dice.choice(_ENDINGS.get(words, (".json",)))
        return dice.choice(
            (f"out{ending}", f"in/new{ending}", f"out{ending}", "in", "caf\udce9.pdf")
        )
    if any_kind < 0.12:
        return dice.choice(dice.choice(list(NAMES.values())))
    if option.dest in ("table", "to") and dice.random() < 0.6:
        return dice.choice(("snooker-12ft", "snooker-9ft", "carom", "pool_9ft", "pool-9ft"))
    return dice.choice(NAMES[kind])


def _kind(words: tuple[str, ...], dest: str) -> str:
    by_dest = {"library": "folder", "to": "table", "onto": "routine", "file": "routine",
               "files": "routine", "out": "routine"}  # fmt: skip
    csv = {("calibrate",): "observations", ("record", "import"): "practice"}
    return csv[words] if words in csv and dest == "file" else by_dest.get(dest, dest)


def lay_out(dice: random.Random, where: Path) -> None:
    """Put every file into an empty folder, and spoil a few of them four times in ten."""
    shutil.copytree(_sound(), where, dirs_exist_ok=True)
    os.mkfifo(where / "pipe.json")
    (where / "ring.json").symlink_to("ring.json")
    (where / "device.json").symlink_to(_terminal())
    if dice.random() < 0.4:
        for _ in range(dice.randint(1, 4)):
            name = dice.choice(dice.choice([one for key, one in NAMES.items() if key != "folder"]))
            _spoil(dice, where / name)


@cache
def _terminal() -> str:
    """A device nobody else uses, in a folder where nothing can be made or taken away."""
    _, terminal = os.openpty()
    return os.ttyname(terminal)


def _spoil(dice: random.Random, file: Path) -> None:
    data = file.read_bytes()
    head = 8_000 if file.suffix == ".sqlite" else 600
    if file.suffix in (".json", ".csv") and dice.random() < 0.8:
        text = data.decode("utf-8", "replace")
        try:
            data = damaged(dice, text, file.suffix == ".json").encode("utf-8", "surrogatepass")
        except (ValueError, RecursionError):  # spoilt before: no JSON any more, or too deep a one
            data = damaged_bytes(dice, data)
    else:
        data = damaged_bytes(dice, data, head)
    file.write_bytes(data)


@cache
def _sound() -> Path:
    """The folder with everything sound, made once."""
    where = folder() / "sound"
    (where / "in").mkdir(parents=True)
    (where / "empty").mkdir()
    text = {reader.name: reader.samples for reader in readers()}
    for name, sample in (
        ("small.json", _small()), ("table.json", text["table"][0]), ("in/one.json", _small()),
        ("conditions.json", text["conditions"][0]), ("players.json", text["players"][0]),
        ("o.csv", _observations()), ("semicolons.csv", OBSERVATIONS[1]), ("p.csv", PRACTICE[0]),
        ("keys.json", '{"format": "baizewright-routine", "version": 1' + ', "a": 1' * 20_000 + "}"),
        ("tiny.photo.json", json.dumps(_tiny_marks())),
        ("plan.json", json.dumps({"format": "baizewright-plan", "version": 1,
            "items": [{"file": "small.json"}, {"file": "blue.json", "minutes": 5}]})),
    ):  # fmt: skip
        (where / name).write_text(sample, encoding="utf-8")
    shutil.copy(DEMOS / "01-three-ways-off-the-blue.json", where / "blue.json")
    shutil.copy(DEMOS / "10-can-it-be-done.json", where / "gaps.json")
    shutil.copy(where / "small.json", where / "caf\udce9.json")
    marks = json.loads((DEMOS / "photograph" / "table.photo.json").read_text(encoding="utf-8"))
    shutil.copy(DEMOS / "photograph" / marks["picture"], where / "table.jpg")
    (where / "marks.json").write_text(json.dumps(marks | {"picture": "table.jpg"}), "utf-8")
    samples = {name: text[name] for name in ("picture", "records", "index")}
    (where / "tiny.png").write_bytes(samples["picture"][3])
    (where / "bomb.png").write_bytes(_bomb())
    (where / "r.sqlite").write_bytes(samples["records"][0])
    (where / "i.sqlite").write_bytes(samples["index"][0])
    return where


def _small() -> str:
    """A routine that can be played and takes little time."""
    return json.dumps(
        {
            "format": "baizewright-routine", "version": 1, "title": "Blue", "table": "snooker-12ft",
            "tags": ["a"],
            "balls": [
                {"id": "cue", "kind": "cue", "x_mm": 1100, "y_mm": 2900},
                {"id": "a", "kind": "black", "x_mm": 889, "y_mm": 3245},
                {"id": "r", "kind": "red", "x_mm": 1200, "y_mm": 2500},
            ],
            "shots": [{"id": "s", "object_ball": "a", "pocket": "top-left",
                       "lanes": [{"label": "A", "tip_height": 0.3, "pace": 4}]}],
            "gaps": [{"id": "g", "kind": "ball-cushion", "balls": ["r"], "cushion": "left"}],
            "claims": [{"kind": "pot-on", "shot": "s"}],
        }
    )  # fmt: skip


def _observations() -> str:
    rows = "".join(f"roll,{700 + 300 * n},{1.2 + 0.4 * n:.1f},{200 + 90 * n}\n" for n in range(6))
    return "kind,distance_mm,time_s,then_mm\n" + rows


def _tiny_marks() -> dict[str, object]:
    places = ("corner-bottom-left", "corner-bottom-right", "corner-top-left", "corner-top-right")
    at = ((20, 90), (110, 92), (50, 20), (85, 21))
    return {
        "format": "baizewright-photo", "version": 1, "picture": "tiny.png", "size_px": [110, 140],
        "table": "snooker-12ft",
        "marks": [{"place": p, "x_px": x, "y_px": y} for p, (x, y) in zip(places, at, strict=True)],
        "balls": [{"id": "cue", "kind": "cue", "x_px": 60, "y_px": 60}],
    }  # fmt: skip


def _bomb() -> bytes:
    """A PNG of few bytes that states 14,142 by 14,142 pixels."""
    parts = ((b"IHDR", struct.pack(">IIBBBBB", 14_142, 14_142, 8, 2, 0, 0, 0)),
             (b"IDAT", zlib.compress(bytes(100_000))), (b"IEND", b""))  # fmt: skip
    return b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        for kind, data in parts
    )


def fingerprints(where: Path) -> dict[str, tuple[str, str]]:
    """What lies below a folder: by path its kind (`kind_of`) and what tells its content."""
    found = {}
    for here, folders, files in os.walk(where):
        for name in (*folders, *files):
            path = os.path.join(here, name)
            about = os.lstat(path)
            if stat.S_ISREG(about.st_mode):
                data = Path(path).read_bytes()
                told = kind_of(data), hashlib.sha256(data).hexdigest()
            else:
                told = "", str(stat.S_IFMT(about.st_mode))
            found[os.path.relpath(path, where)] = told
    return found


def kind_of(data: bytes) -> str:
    """The kind of a file by its content."""
    for head, kind in ((b"SQLite", "sqlite"), (b"%PDF", "pdf"), (b"\x89PNG", "png"),
                       (b"\xff\xd8", "jpeg"), (b"<?xml", "svg"), (b"<svg", "svg")):  # fmt: skip
        if data.startswith(head):
            return kind
    try:
        found = json.loads(data)
        return str(found.get("format", "json")) if isinstance(found, dict) else "json"
    except (ValueError, RecursionError):
        lines = [line for line in data.splitlines() if line and not line.startswith(b"#")]
        return f"text {lines[0][:40]!r}" if lines else "empty"
