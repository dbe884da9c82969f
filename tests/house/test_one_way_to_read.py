"""Files are read in one place, `engine.storage.reading`: elsewhere no call opens one to read it.

That place refuses what is no ordinary file or too large, and tells in plain words why a file
cannot be read. What a program reads of its own (data it comes with, its sources) needs none of it.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]
#: Modules that open files by themselves, and why they may.
ALLOWED = {
    "engine/storage/reading.py": "the one way to read",
    "engine/storage/schemas.py": "schemas the program comes with",
    "engine/storage/writing.py": "compares what stands there with what is to be written",
    "engine/storage/new_files.py": "its own new files; opens a folder, to force names to disk",
    "engine/storage/file_kinds.py": "looks at a file's first bytes before it is written over",
    "engine/storage/databases.py": "makes the file of the records with rights of its own",
    "engine/storage/database_kinds.py": "looks into a database without opening it for writing",
    "engine/tables/load.py": "tables the program comes with",
    "engine/conditions/presets.py": "presets the program comes with",
    "engine/compiled/machine_code.py": "its own sources, for a name, and its own machine code",
    "designer/commands/ending.py": "leads the output nowhere",
    "designer/guide/__init__.py": "pages the program comes with",
    "designer/widgets/icons/__init__.py": "icons the program comes with",
    "designer/setup_here/wants.py": "before set-up there is no engine; its own project file",
    "designer/setup_here/stamp.py": "before set-up there is no engine; its own stamp",
    "designer/setup_here/ready.py": "before set-up there is no engine; its own project file",
}
#: Calls that read a file, by the name before the dot and the name behind it; "" is any.
READING = {
    ("", "read_text"), ("", "read_bytes"), ("", "imread"), ("os", "open"), ("io", "open"),
    ("codecs", "open"), ("json", "load"), ("tomllib", "load"), ("pickle", "load"), ("np", "load"),
    ("np", "loadtxt"), ("np", "genfromtxt"), ("np", "fromfile"), ("Image", "open"),
    ("fileinput", "input"), ("shutil", "copyfile"), ("shutil", "copy"), ("shutil", "copy2"),
}  # fmt: skip
#: Classes of Qt that read the file they are made with.
MADE_FROM_FILES = {"QFile", "QImageReader", "QMovie", "QSvgRenderer"}


def readings(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """The line and the words of every call that opens a file to read it."""
    own = {
        alias.asname or alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.ImportFrom) and node.module == "engine.storage.reading"
        for alias in node.names
    }
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and _reads(node, own):
            yield node.lineno, ast.unparse(node.func)


def _reads(call: ast.Call, own: set[str]) -> bool:
    what, mode = call.func, call.args[0] if call.args else None
    if isinstance(what, ast.Name):
        opens = what.id == "open" and not _writes(call.args[1] if len(call.args) > 1 else None)
        return (opens or what.id in MADE_FROM_FILES) and what.id not in own
    if not isinstance(what, ast.Attribute):
        return False
    holder = what.value.id if isinstance(what.value, ast.Name) else ""
    if (holder, what.attr) in READING or ("", what.attr) in READING:
        return True
    named = isinstance(mode, ast.Constant) and isinstance(mode.value, str)
    made = isinstance(what.value, ast.Call) and ast.unparse(what.value.func) == "Path"
    return what.attr == "open" and (named or made) and not _writes(mode)


def _writes(mode: ast.expr | None) -> bool:
    return isinstance(mode, ast.Constant) and str(mode.value)[:1] in ("w", "x", "a")


def modules() -> list[Path]:
    return sorted(path for name in ("engine", "designer") for path in (HOUSE / name).rglob("*.py"))


def test_files_are_read_in_one_place():
    found = {
        path.relative_to(HOUSE).as_posix(): list(readings(ast.parse(path.read_text("utf-8"))))
        for path in modules()
    }
    others = {name: calls for name, calls in found.items() if calls and name not in ALLOWED}
    assert not others, "read files by engine.storage.reading"
    assert not [name for name in ALLOWED if not found.get(name)], "no longer needed in the list"


@pytest.mark.parametrize(
    "line",
    [
        "open(path)", "open(path, 'rb')", "Path(path).open()", "path.open('r')", "os.open(path, 0)",
        "path.read_text(encoding='utf-8')", "Path(name).read_bytes()", "json.load(file)",
        "Image.open(path)", "cv2.imread(name)", "QImageReader(name)", "np.load(path)",
    ],
)  # fmt: skip
def test_the_check_finds_a_reading(line):
    assert list(readings(ast.parse(line)))


@pytest.mark.parametrize(
    "line",
    [
        "dialog.open()", "window.files.open(path)", "open(path, 'w')", "fresh.open('xb')",
        "from engine.storage.reading import read_text\nread_text(path)", "json.loads(text)",
    ],
)  # fmt: skip
def test_the_check_lets_other_calls_be(line):
    assert not list(readings(ast.parse(line)))
