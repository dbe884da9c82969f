"""Every reader of what a coach's disk may hold: sound samples, how to read, how to write again."""

from __future__ import annotations

import atexit
import contextlib
import io
import random
import shutil
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache, partial
from pathlib import Path
from typing import Any

from tests.fuzz.arguments import any_arguments
from tests.fuzz.damage import damaged, damaged_bytes

DEMOS = Path(__file__).resolve().parents[2] / "layouts_demo"

values = partial(damaged, is_json=True)
cells = partial(damaged, is_json=False)


@dataclass(frozen=True, slots=True)
class Reader:
    """One reader. `spoil` makes an input of one of the samples, which are sound.

    `again` writes what was read; reading that must give the same. One that `rounds` (to
    thousandths of a pixel) may give what is written the same again. Of a thousand inputs
    `share` are this reader's.
    """

    name: str
    samples: tuple[Any, ...]
    read: Callable[[Any], Any]
    again: Callable[[Any], Any] | None = None
    spoil: Callable[[random.Random, Any], Any] = values
    rounds: bool = False
    share: int = 100


ROUTINE = """{"format": "baizewright-routine", "version": 1, "title": "t", "level": 2,
"tags": ["a"], "table": "snooker-12ft", "pocket_openings_mm": {"top-left": 90.0},
"conditions": {"ball_restitution": 0.9, "pace_speeds_m_s": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]},
"balls": [{"id": "cue", "kind": "cue", "x_mm": 1.0, "y_mm": 2.0},
 {"id": "a", "kind": "red", "x_mm": 300, "y_mm": 400, "label": "1", "locked": true}],
"shots": [{"id": "s", "object_ball": "a", "pocket": "top-left", "cut_limit_deg": 5.0,
 "lanes": [{"label": "A", "tip_height": 0.1, "side": 0.1, "pace": 4, "speed_m_s": 2.0},
           {"label": "B", "tip_height": "stun", "pace": 3}]}],
"gaps": [{"id": "g", "kind": "ball-cushion", "balls": ["a"], "cushion": "left"},
 {"id": "h", "kind": "in-order", "gaps": ["g"]},
 {"id": "i", "kind": "cloth-area", "points_mm": [[1, 2], [300, 2], [300, 400]]}],
"cloth_marks": [{"id": "m", "kind": "line", "x_mm": 1, "y_mm": 2, "to_x_mm": 3, "to_y_mm": 4}],
"claims": [{"kind": "lane-threads", "shot": "s", "lane": "A", "gap": "g", "margin_mm": 1.0}]}"""
OBSERVATIONS = (
    "kind,pace,tip,distance_mm,time_s,then_mm,error_mm,note\n"
    "roll,,,1400,1.9,900,,\nstun,5,-0.2,800,,,5,\n# a remark\npace-time,3,,2833,2.1,,,good\n",
    'kind;distance_mm;time_s;then_mm\nroll;1400;1,9;900\nroll;"1400";2.2;0\n',
)
PRACTICE = (
    "player,routine,step,date,attempts,made,missed_pot,note\n"
    'QZ,Blue,1,2026-03-01,10,6,2,"said ""well"""\nQZ,Black,,2026-03-02,5,5,,\'=1+1\n',
    "player;routine;date;attempts;made\nQZ;Blue;2026-03-01;10;6\n",
)
QUERIES = (
    'blue balls<=3 pace<=4 pocket:middle skill:"run-through" tag:warm-up level>=2 table:carom',
    "skill:screw gap:cannon contact:fine pocket:top-left the last red",
)


@cache
def readers() -> tuple[Reader, ...]:
    """All readers there are."""
    from engine import storage
    from engine.calibration import parse_observations
    from engine.players import PLAYERS
    from engine.records.csv_files import parse_practice, practice_csv
    from engine.storage.photo_files import dump_photo_marks, parse_photo_marks
    from engine.storage.reading import decode
    from engine.tables.measured import MeasuredTable

    own = storage.dump_conditions(
        storage.OwnConditions(
            {"sliding_friction": 0.2, "pace_speeds_m_s": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]},
            "club",
            "snooker-12ft",
            found={"sliding_friction": {"value": 0.2, "decided": True}},
            notes=("one",),
        )
    )
    table = storage.dump_measured_table(
        "snooker-12ft",
        MeasuredTable("club", {"width_mm": 1780.0}, {"blue": (889.0, 1785.0)}, {"top-left": 90.0}),
    )
    items = (storage.PlanItem("a.json", minutes=10.0, aim="b"), storage.PlanItem("b.json"))
    marks = [
        one.read_text(encoding="utf-8") for one in sorted((DEMOS / "photograph").glob("*.json"))
    ]
    plan = storage.dump_plan(storage.Plan("t", "2026-03-01", "c", "d", items))
    return (
        Reader("routine", (ROUTINE,), storage.parse_routine, storage.dump_routine, share=300),
        Reader(
            "bytes", (ROUTINE.encode(), plan.encode("utf-16")), _routine_of(decode),
            spoil=partial(damaged_bytes, head=60),
        ),
        Reader(
            "table", (table,), storage.parse_measured_table,
            lambda found: storage.dump_measured_table(*found), share=80,
        ),
        Reader("conditions", (own,), storage.parse_conditions, storage.dump_conditions, share=80),
        Reader(
            "players", (storage.dump_players(PLAYERS),), storage.parse_players,
            storage.dump_players, share=60,
        ),
        Reader("plan", (plan,), storage.parse_plan, storage.dump_plan, share=80),
        Reader(
            "photo", tuple(marks), parse_photo_marks, dump_photo_marks, rounds=True, share=40
        ),
        Reader("observations", OBSERVATIONS, parse_observations, None, cells, share=60),
        Reader("practice", PRACTICE, parse_practice, practice_csv, cells, share=60),
        Reader("query", QUERIES, _search, None, cells, share=50),
        Reader("arguments", ((),), _parse, None, lambda dice, _: any_arguments(dice), share=69),
        Reader(
            "picture", tuple(_pictures()), _picture, None, partial(damaged_bytes, head=600),
            share=15,
        ),
        Reader(
            "records", (_records(),), _practice, None, partial(damaged_bytes, head=4200), share=4
        ),
        Reader(
            "index", (_index(),), _indexed, None, partial(damaged_bytes, head=30_000), share=2
        ),
    )  # fmt: skip


def _routine_of(decode: Callable[[bytes, str], str]) -> Callable[[bytes], Any]:
    from engine.storage import parse_routine

    return lambda data: parse_routine(decode(data, "x.json"), "x.json")


@cache
def folder() -> Path:
    """A folder for what can only be read from disk; it goes when the program ends."""
    made = Path(tempfile.mkdtemp(prefix="fuzz-"))
    atexit.register(shutil.rmtree, made, ignore_errors=True)
    return made


@cache
def _library() -> Any:
    from engine.library import Library

    there = folder() / "library"
    there.mkdir()
    for file in sorted(DEMOS.glob("*.json"))[:6]:
        shutil.copy(file, there)
    made = Library([there], folder() / "index.sqlite")
    made.refresh()
    return made


def _search(text: str) -> Any:
    from engine.library import query_of

    return [one.title for one in _library().search(query_of(text))]


def _index() -> bytes:
    """An index that holds routines, as the bytes of its file."""
    _library().store.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return (folder() / "index.sqlite").read_bytes()


def _indexed(data: bytes) -> Any:
    from engine.library import Library, Query

    file = folder() / "spoilt.sqlite"
    for ending in ("", "-wal", "-shm", "-journal"):
        Path(f"{file}{ending}").unlink(missing_ok=True)
    file.write_bytes(data)
    library = Library([folder() / "library"], file)
    try:
        library.refresh()
        library.alike(20.0)
        return [one.title for one in library.search(Query("blue"))]
    finally:
        library.close()


@cache
def _records() -> bytes:
    from engine.records import Records, parse_practice

    file = folder() / "records.sqlite"
    with Records(file) as made:
        for text in PRACTICE:
            made.take_in(parse_practice(text))
    return file.read_bytes()


def _practice(data: bytes) -> Any:
    from engine.records import Records, lines_of

    file = folder() / "spoilt-records.sqlite"
    for ending in ("", "-journal"):
        Path(f"{file}{ending}").unlink(missing_ok=True)
    file.write_bytes(data)
    with Records(file) as records:
        records.players()
        return lines_of(one.practice for one in records.practice())


def _pictures() -> list[bytes]:
    """Small pictures of every sort, with the notes cameras write."""
    from PIL import Image

    found = []
    grain = Image.effect_noise((140, 110), 60)
    exif = Image.Exif()
    exif[0x0112], exif[0x010F] = 6, "Larkspur Optics"
    exif.get_ifd(0x8769)[0xA405] = 26
    exif.get_ifd(0x8825)[1] = "N"
    for image, kind, more in (
        (grain.convert("RGB"), "JPEG", {"comment": b"x", "icc_profile": b"no profile"}),
        (grain.convert("RGB"), "JPEG", {"progressive": True}),
        (grain.convert("CMYK"), "JPEG", {}),
        (grain.convert("RGBA"), "PNG", {}), (grain.quantize(8), "PNG", {"transparency": 3}),
        (grain.convert("I;16"), "PNG", {}), (grain.convert("1"), "PNG", {}),
    ):  # fmt: skip
        store = io.BytesIO()
        image.save(store, kind, exif=exif.tobytes(), **more)
        found.append(store.getvalue())
    return found


def _picture(data: bytes) -> Any:
    from engine.photo import picture_of

    return picture_of(data, "x").size_px


def _parse(arguments: tuple[str, ...]) -> Any:
    """The arguments understood; a refusal is one of our own with the words argparse tells."""
    from designer.commands import main
    from engine.errors import BaizewrightError

    told = io.TextIOWrapper(io.BytesIO(), "utf-8", errors="backslashreplace")
    try:
        with contextlib.redirect_stderr(told), contextlib.redirect_stdout(told):
            return main.understood(arguments)
    except SystemExit as stop:
        told.seek(0)
        words = told.read()
        if stop.code not in (0, 2) or not words.strip() or len(words) > 20_000:
            raise ValueError(f"ended with {stop.code}, {len(words)} letters") from stop
        raise BaizewrightError(words) from None
