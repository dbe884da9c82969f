"""Reading takes as many times longer as there is more to read: every repeated part of every file.

Processor time, best of five, for a thousand and for ten thousand of each part, sound and faulty:
at most twenty times for ten times the input (what compares each with each takes a hundred).
Prints a table; run it alone: `pytest tests/benchmarks/test_readers_speed.py -s`.
"""

from __future__ import annotations

import contextlib
import json
import time
from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path

import pytest

from engine import storage
from engine.calibration import parse_observations
from engine.errors import BaizewrightError
from engine.library import Library, Query, query_of
from engine.records import Practice, Records, parse_practice, practice_csv
from engine.routine.values import Routine
from engine.storage.photo_files import parse_photo_marks

N, TIMES, BEST_OF, MOST = 1_000, 10, 5, 20.0
Make = Callable[[int], object]

BALL = {"id": "a", "kind": "red", "x_mm": 1, "y_mm": 2}


def numbered(one: Callable[[int], object]) -> Callable[[int], list]:
    return lambda n: [one(i) for i in range(n)]


def named(one: Callable[[int], object]) -> Callable[[int], dict]:
    return lambda n: {f"name {i}": one(i) for i in range(n)}


def document(form: str, part: Callable[[int], object], *way: str, **rest: object) -> Make:
    """The text of a file of that form, with the part put where the way leads."""

    def make(n: int) -> str:
        data: dict = {"format": form, "version": 1, **rest}
        holder = data
        for step in way[:-1]:
            holder = holder.setdefault(step, {})
        holder[way[-1]] = part(n)
        return json.dumps(data)

    return make


def same_key(form: str, **rest: object) -> Make:
    head = json.dumps({"format": form, "version": 1, **rest})[:-1]
    return lambda n: head + ', "a": 1' * n + "}"


def routine(part: Callable[[int], object], *way: str, **rest: object) -> Make:
    return document("baizewright-routine", part, *way, **rest)


def gap(**more: object) -> Callable[[int], object]:
    return lambda i: {"id": f"g{i}", "kind": "ball-ball", **more}


def lanes(n: int) -> list:
    return [{"id": "s", "lanes": [{"label": f"L{i}", "pace": 4} for i in range(n)]}]


ROUTINE: dict[str, Make] = {
    "balls": routine(numbered(lambda i: BALL | {"id": f"b{i}"}), "balls"),
    "balls of one name": routine(numbered(lambda i: BALL), "balls"),
    "balls faulty": routine(numbered(lambda i: {"id": ""}), "balls"),
    "shots": routine(numbered(lambda i: {"id": f"s{i}"}), "shots"),
    "shots of one name": routine(numbered(lambda i: {"id": "s"}), "shots"),
    "shots faulty": routine(numbered(lambda i: {"id": ""}), "shots"),
    "shots at no ball": routine(
        numbered(lambda i: {"id": f"s{i}", "object_ball": f"x{i}", "pocket": "y"}), "shots",
        balls=[BALL],
    ),
    "lanes": routine(lanes, "shots"),
    "lanes of one letter": routine(
        lambda n: [{"id": "s", "lanes": [{"label": "A"}] * n}], "shots"
    ),
    "lanes miscued": routine(
        lambda n: [{"id": "s", "lanes": [{"label": "A", "tip_height": 3, "side": 2}] * n}], "shots"
    ),
    "gaps": routine(numbered(gap()), "gaps"),
    "gaps faulty": routine(numbered(lambda i: {"id": "g", "kind": "hole"}), "gaps"),
    "gaps of no ball": routine(numbered(gap(balls=["x", "y"])), "gaps", balls=[BALL]),
    "gaps of each other": routine(
        numbered(lambda i: {"id": f"g{i}", "kind": "in-order", "gaps": [f"g{i + 1}"]}), "gaps"
    ),
    "parts of a gap": routine(
        lambda n: [{"id": "g", "kind": "in-order", "gaps": [f"x{i}" for i in range(n)]}], "gaps"
    ),
    "balls of a gap": routine(
        lambda n: [{"id": "g", "kind": "cannon", "balls": [f"x{i}" for i in range(n)]}], "gaps"
    ),
    "points of a gap": routine(
        lambda n: [{"id": "g", "kind": "cloth-area", "points_mm": [[1, 2]] * n}], "gaps"
    ),
    "points faulty": routine(
        lambda n: [{"id": "g", "kind": "cloth-area", "points_mm": [["x", 2, 3]] * n}], "gaps"
    ),
    "claims": routine(
        numbered(lambda i: {"kind": "pot-on", "shot": "s", "lane": "A"}), "claims",
        shots=[{"id": "s", "lanes": [{"label": "A"}]}],
    ),
    "claims faulty": routine(numbered(lambda i: {"kind": "wins", "shot": 3}), "claims"),
    "claims of nothing": routine(
        numbered(lambda i: {"kind": "pot-on", "shot": f"s{i}", "ball": "x", "gap": "y"}), "claims",
        shots=[{"id": "s"}], balls=[BALL], gaps=[{"id": "g", "kind": "cannon"}],
    ),
    "claims and as many shots": lambda n: json.dumps(
        {
            "format": "baizewright-routine", "version": 1,
            "shots": [{"id": f"s{i}", "lanes": [{"label": "A"}]} for i in range(n // 2)],
            "claims": [{"kind": "pot-on", "shot": f"s{i}", "lane": "B"} for i in range(n // 2)],
        }
    ),
    "cloth marks": routine(
        numbered(lambda i: {"id": f"m{i}", "kind": "dot", "x_mm": 1, "y_mm": 2}), "cloth_marks"
    ),
    "cloth marks faulty": routine(
        numbered(lambda i: {"id": "m", "kind": "line", "x_mm": 1, "y_mm": 2}), "cloth_marks"
    ),
    "tags": routine(numbered(lambda i: f"tag {i}"), "tags"),
    "tags faulty": routine(numbered(lambda i: 1), "tags"),
    "conditions unknown": routine(named(lambda i: 1.0), "conditions"),
    "conditions as remarks": routine(named(str), "conditions"),
    "speeds of paces": routine(numbered(lambda i: i + 1), "conditions", "pace_speeds_m_s"),
    "pocket openings": routine(named(lambda i: 85), "pocket_openings_mm"),
    "measured sizes": routine(named(lambda i: 85), "measured_table", "values"),
    "measured spots": routine(named(lambda i: [1, 2]), "measured_table", "spots_mm"),
    "measured openings": routine(named(lambda i: 85), "measured_table", "pocket_openings_mm"),
    "unknown keys": lambda n: json.dumps(
        {"format": "baizewright-routine", "version": 1} | {f"own {i}": i for i in range(n)}
    ),
    "values of an unknown key": routine(named(lambda i: [i, {"deep": i}]), "own"),
    "one key again and again": same_key("baizewright-routine"),
    "keys twice each": lambda n: (
        '{"format": "baizewright-routine", "version": 1'
        + "".join(f', "k{i}": 1, "k{i}": 2' for i in range(n)) + "}"
    ),
    "values that are none": routine(numbered(lambda i: float("nan")), "own"),
    "broken letters": routine(numbered(lambda i: "\ud800"), "own"),
    "title": routine(lambda n: "long " * (n * 20), "title"),
    "nesting": lambda n: '{"format": "baizewright-routine", "version": 1, "own": ' + "[" * n,
    "text that is no JSON": lambda n: '{"format": "baizewright-routine", ' + '"a" ' * n,
}  # fmt: skip
TABLE = {"table": "snooker-12ft"}
OTHERS: dict[str, tuple[Callable[[str], object], dict[str, Make]]] = {
    "plan": (storage.parse_plan, {
        "items": document("baizewright-plan", numbered(lambda i: {"file": f"{i}.json"}), "items"),
        "items faulty": document("baizewright-plan", numbered(lambda i: {"minutes": -1}), "items"),
        "one key again and again": same_key("baizewright-plan"),
    }),
    "table": (storage.parse_measured_table, {
        "sizes": document("baizewright-table", named(lambda i: 85), "values", **TABLE),
        "sizes faulty": document("baizewright-table", named(str), "values", **TABLE),
        "spots": document("baizewright-table", named(lambda i: [1, 2]), "spots_mm", **TABLE),
        "openings": document(
            "baizewright-table", named(lambda i: 1), "pocket_openings_mm", **TABLE
        ),
        "one key again and again": same_key("baizewright-table", **TABLE),
    }),
    "conditions": (storage.parse_conditions, {
        "conditions": document("baizewright-conditions", named(str), "conditions"),
        "conditions unknown": document("baizewright-conditions", named(lambda i: 1), "conditions"),
        "findings": document(
            "baizewright-conditions", named(lambda i: {"value": 1}), "found", conditions={}
        ),
        "findings faulty": document(
            "baizewright-conditions", named(lambda i: {"value": "x"}), "found", conditions={}
        ),
        "notes": document("baizewright-conditions", numbered(str), "notes", conditions={}),
        "notes faulty": document(
            "baizewright-conditions", numbered(lambda i: i), "notes", conditions={}
        ),
    }),
    "players": (storage.parse_players, {
        "players": document("baizewright-players", numbered(
            lambda i: {"name": f"p{i}", "aim_deg": 1, "tip_height_ratio": 0.1, "side_ratio": 0.1,
                       "pace": 1}), "players"),
        "players faulty": document("baizewright-players", numbered(lambda i: {}), "players"),
    }),
    "photo marks": (parse_photo_marks, {
        "marks": document("baizewright-photo", numbered(
            lambda i: {"place": "spot-blue", "x_px": 1, "y_px": 2}), "marks", size_px=[400, 300]),
        "marks faulty": document(
            "baizewright-photo", numbered(lambda i: {"x_px": "x"}), "marks", size_px=[400, 300]
        ),
        "balls": document("baizewright-photo", numbered(
            lambda i: {"id": "a", "kind": "red", "x_px": 1, "y_px": 2}), "balls",
            size_px=[400, 300]),
        "sizes": document("baizewright-photo", numbered(lambda i: i), "size_px"),
    }),
    "observations": (parse_observations, {
        "rows": lambda n: "kind,distance_mm,time_s\n" + "roll,1500,2.9\n" * (n // 25),
        "rows too many": lambda n: "kind,distance_mm,time_s\n" + "roll,1500,2.9\n" * n,
        "rows faulty": lambda n: "kind,distance_mm,time_s\n" + "rol,x,y\n" * (n // 25),
        "columns": lambda n: "kind" + "".join(f",column {i}" for i in range(n)) + "\nroll\n",
        "one column again": lambda n: "kind" + ",note" * n + "\nroll\n",
        "cells": lambda n: "kind,note\nroll" + ",x" * n + "\n",
        "quotes": lambda n: 'kind,note\nroll,"' + '""' * n + '"\n',
    }),
    "practice": (parse_practice, {
        "rows": lambda n: "player,routine,date,attempts,made\n" + "Q,B,2026-03-01,9,6\n" * n,
        "rows faulty": lambda n: "player,routine,date,attempts,made\n" + "Q,,1,x,y\n" * n,
        "remarks": lambda n: "player,routine,date,attempts,made\n" + "# x\n" * n,
        "columns": lambda n: "player" + "".join(f",column {i}" for i in range(n)) + "\nQ\n",
    }),
    "search": (query_of, {
        "words": lambda n: "blue " * n,
        "conditions": lambda n: "skill:screw " * n,
        "one word": lambda n: "a" * (n * 50),
        "a quoted value": lambda n: 'tag:"' + "a " * (n * 50) + '"',
    }),
}  # fmt: skip

CASES = [("routine", part, storage.parse_routine, make) for part, make in ROUTINE.items()]
CASES += [
    (kind, part, read, make)
    for kind, (read, parts) in OTHERS.items()
    for part, make in parts.items()
]


def seconds(work: Callable[[], object]) -> float:
    """Processor time, the least of five."""
    found = []
    for _ in range(BEST_OF):
        start = time.process_time()
        with contextlib.suppress(BaizewrightError):
            work()
        found.append(time.process_time() - start)
    return min(found)


@pytest.fixture(scope="module", autouse=True)
def table():
    """Prints every line at the end, the dearest growth first."""
    lines: list[tuple[float, str]] = []
    yield lines
    print("\n   few s   many s  ratio  part")
    for _, line in sorted(lines, reverse=True):
        print(line)


def compared(lines: list, what: str, few: Callable[[], object], many: Callable[[], object]) -> None:
    short, long = seconds(few), seconds(many)
    ratio = long / max(short, 1e-4)
    lines.append((ratio, f"{short:8.4f} {long:8.4f} {ratio:6.1f}  {what}"))
    assert ratio <= MOST, f"{what}: {ratio:.0f} times as long for {TIMES} times as much"


@pytest.mark.parametrize(
    ("kind", "part", "read", "make"), CASES, ids=[f"{case[0]}: {case[1]}" for case in CASES]
)
def test_a_part_of_a_file(table, kind, part, read, make):
    few, many = make(N), make(TIMES * N)
    compared(table, f"{kind}: {part}", lambda: read(few), lambda: read(many))


def test_lines_of_the_records(table, tmp_path):
    stores = []
    for count in (N // 10, N):
        lines = [Practice("QZ", f"Routine {i % 40}", _day(i), 10, 5) for i in range(count)]
        store = Records(tmp_path / f"{count}.sqlite")
        store.take_in(lines)
        stores.append(store)
    few, many = stores
    compared(table, "records: lines", few.practice, many.practice)
    compared(
        table, "records: export", lambda: practice_csv(one.practice for one in few.practice()),
        lambda: practice_csv(one.practice for one in many.practice()),
    )  # fmt: skip
    for store in stores:
        store.close()


def _day(index: int) -> date:
    return date(2026, 1, 1) + timedelta(days=index % 300)


@pytest.mark.parametrize("faulty", [False, True], ids=["sound", "faulty"])
def test_files_of_a_library(table, tmp_path, faulty):
    shots = '{"format": "baizewright-routine", "version": 1, "shots": [%s]}'
    text = shots % ", ".join(['{"id": ""}'] * 200) if faulty else storage.dump_routine(Routine("B"))
    libraries = []
    for count in (N // 20, N // 2):
        folder = tmp_path / str(count)
        folder.mkdir()
        for index in range(count):
            (folder / f"{index}.json").write_text(text, encoding="utf-8")
        libraries.append(Library([folder], Path(f"{folder}.sqlite")))
    few, many = libraries
    query = Query(faulty=faulty)
    word = "faulty" if faulty else "sound"
    compared(table, f"library: {word} files scanned", few.rebuild, many.rebuild)
    compared(
        table, f"library: {word} files found", lambda: few.search(query), lambda: many.search(query)
    )
    for library in libraries:
        library.close()
