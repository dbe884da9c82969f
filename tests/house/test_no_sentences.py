"""The engine answers with kinds and figures: it makes no sentence, and no field of it holds one.

Errors speak for themselves, so what is given to an exception's constructor may be a sentence, and
so may what only ends in one (`ERRORS`, `REFUSING`).
"""

from __future__ import annotations

import ast
import dataclasses
import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator
from pathlib import Path

import engine

HOUSE = Path(__file__).resolve().parents[2]
#: What reads, writes and checks files, and says in errors alone what is wrong with them.
ERRORS = (
    "engine/errors.py",
    "engine/storage/",
    "engine/routine/rules/",
    "engine/calibration/reading.py",
    "engine/records/csv_files.py",
)
#: Functions that give back nothing: they refuse, by an error, or let pass.
REFUSING = re.compile(r"_check(_\w+)?|_must_\w+|__post_init__")
#: Data: names with their sources, words that a file or a script knows; and code to be compiled.
DATA = {
    "engine/answers/check_json.py": "words of `limit` that scripts know",
    "engine/calibration/kinds.py": "what each column of an observation file wants",
    "engine/compiled/": "code to be compiled, and how far that is, on the error stream",
    "engine/conditions/model.py": "names and sources of conditions",
    "engine/tables/load.py": "the source of what a coach measured",
}
SQL = re.compile(r"\b(SELECT|INSERT|DELETE|CREATE|PRAGMA|JOIN|MATCH|LIKE)\b")
WORD = re.compile(r"[(“‘\"]?[A-Za-z][a-z’']+[)”’\",.:;!?]*")

#: Fields whose texts are ids or kinds, of a closed list or given by the routine.
IDS_AND_KINDS = {
    "ball", "balls", "beside", "by", "columns", "contacts", "cue", "cushion", "cut_side", "digest",
    "either", "engine_version", "file", "first_cushion", "first_touched", "folder",
    "fullness_name", "gap", "gap_kinds", "gaps", "grade", "held", "hit", "id", "ids", "instead",
    "kind", "kinds", "label", "lane", "letter", "measured", "merge", "met_instead", "mirrored",
    "misses", "movable", "moves", "name", "names", "needs", "object_ball", "one",
    "optional", "other", "parts", "path", "picture", "place", "player", "pocket",
    "pocket_openings_mm", "pockets", "preset", "refusals", "rests", "result", "role", "routine",
    "shot", "side", "skills", "spot", "spots_mm", "stamp", "strike_name", "strikes", "table",
    "tables", "to", "traits", "two", "unreadable", "values", "verdict", "way", "angles", "chances",
}  # fmt: skip
#: Names: of conditions, presets, tables, players, places of a table, steps that can be undone.
NAMES = {
    "ConditionFact.title", "ConditionFact.unit", "ConditionFact.source",
    "ConditionFact.confidence", "PresetValue.source", "PresetValue.confidence", "Preset.title",
    "Preset.note", "Table.title", "Table.rule", "Spot.title", "Pocket.title", "Sourced.source",
    "Sourced.confidence", "MarkPlace.title", "Player.name", "Change.name", "_Step.name",
    "MoveReport.old_table", "MoveReport.new_table",
}  # fmt: skip
#: Texts that a person typed, or that a file of theirs holds as it came.
TYPED = {
    "Facts.text", "Query.words", "Plan.day",
    *(f"{kind}.title" for kind in ("Entry", "Facts", "Gap", "Lane", "LaneAsk", "MeasuredTable",
                                   "Routine", "Shot")),
    *(f"{kind}.{name}" for kind in ("Entry", "Facts", "Routine") for name in ("coach", "club")),
    *(f"{kind}.tags" for kind in ("Entry", "Query", "Routine")),
    *(f"{kind}.note" for kind in ("ClothMark", "MeasuredTable", "Practice", "Shot")),
    "Shot.question", "Shot.answer", "Routine.notes", "MarkPlacement.mark", "MarkPlacement.note",
    "Plan.title", "Plan.coach", "Plan.aims", "PlanItem.aim", "OwnConditions.title",
    "OwnConditions.notes",
}  # fmt: skip
#: What a file says of itself, kept as it came.
KEPT = {"extra", "conditions", "cells", "found", "rows", "stated"}
#: Parts of what an error says of a file or of a value in it.
FAULTS = {
    "Entry.fault", "Fault.message", "Database.words", "Form.word", "Form.format", "Form.schema",
    "Head.needed", "Head.row_of", "Head.wanted",
    *(f"Breach.{name}" for name in ("got", "hint", "refers", "unknown", "wanted", "what")),
}  # fmt: skip


def sentences(source: str) -> Iterator[tuple[int, str]]:
    """Line and text of every string of four words or more that is no docstring and no error's."""
    tree = ast.parse(source)
    waiting: list[ast.AST] = [tree]
    while waiting:
        node = waiting.pop()
        text = _text(node)
        if text is not None:
            words = [word for word in text.split() if WORD.fullmatch(word)]
            if len(words) >= 4 and not SQL.search(text):
                yield node.lineno, text
            continue
        if _refuses(node):
            continue
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            continue
        waiting += ast.iter_child_nodes(node)


def _text(node: ast.AST) -> str | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return " ".join(
            part.value if isinstance(part, ast.Constant) else "{}" for part in node.values
        )
    return None


def _refuses(node: ast.AST) -> bool:
    """Whether a part of the source can only end in an error."""
    if isinstance(node, ast.FunctionDef):
        return bool(REFUSING.fullmatch(node.name))
    name = getattr(node.func, "id", "") if isinstance(node, ast.Call) else ""
    return isinstance(node, ast.Raise) or name.endswith("Error") or bool(REFUSING.fullmatch(name))


def text_fields() -> Iterator[tuple[str, str]]:
    """Class and field of every text that a value of the engine holds."""
    for found in pkgutil.walk_packages(engine.__path__, "engine."):
        module = importlib.import_module(found.name)
        for name, kind in vars(module).items():
            own = inspect.isclass(kind) and kind.__module__ == found.name
            if own and dataclasses.is_dataclass(kind):
                for field in dataclasses.fields(kind):
                    if re.search(r"\b(str|Any|object)\b", str(field.type)):
                        yield name, field.name


def test_the_engine_makes_no_sentence():
    wrong = []
    for path in sorted((HOUSE / "engine").rglob("*.py")):
        name = path.relative_to(HOUSE).as_posix()
        if name.startswith((*DATA, *ERRORS)):
            continue
        wrong += [f"{name}:{line}: {text}" for line, text in sentences(path.read_text("utf-8"))]
    assert not wrong, "\n".join(wrong)


def test_data_and_errors_are_where_they_are_said_to_be():
    for name in (*DATA, *ERRORS):
        files = sorted((HOUSE / name).rglob("*.py")) if name.endswith("/") else [HOUSE / name]
        assert any(list(sentences(path.read_text("utf-8"))) for path in files), name


def test_every_text_of_a_value_is_an_id_a_kind_a_name_or_typed():
    found = set(text_fields())
    told = {f"{kind}.{field}" for kind, field in found}
    free = IDS_AND_KINDS | KEPT
    unknown = {one for one in told - NAMES - TYPED - FAULTS if one.split(".")[1] not in free}
    assert len(found) > 150 and not unknown, sorted(unknown)
    gone = (NAMES | TYPED | FAULTS) - told
    gone |= free - {field for _, field in found}
    assert not gone, f"no longer there: {sorted(gone)}"


def test_what_refuses_gives_nothing_back():
    found = 0
    for path in (HOUSE / "engine").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.FunctionDef) and REFUSING.fullmatch(node.name):
                found += 1
                told = [one for one in ast.walk(node) if isinstance(one, ast.Return) and one.value]
                assert not told, f"{path.name}: {node.name}"
    assert found > 10


def test_the_search_finds_what_it_is_for():
    assert [line for line, _ in sentences('a = 1\nnote = "the pot is on"\n')] == [2]
    assert list(sentences('told = f"it runs {far} mm, farther than the table allows"\n'))
    assert list(sentences('yield Note("x", {"what": "four words are enough"})\n'))
    for fine in (
        '"""The pot is on today."""\n',
        'raise ValueError("the pot is not on")\n',
        'error = OutOfRangeError("pace", 12, "two paces within 1 to 10")\n',
        'def _check(one):\n    wanted = "two paces within 1 to 10"\n',
        'kind = "stops-short-of-the-gap"\n',
        'rows = run("SELECT name FROM routines ORDER BY name")\n',
    ):
        assert not list(sentences(fine)), fine
