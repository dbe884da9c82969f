"""Files are written in one place: no module does it by itself but those named here, with reasons.

The rooms: `engine/storage/writing.py` for files, `engine/storage/databases.py` for databases,
`designer/files/asking.py` for the question where to write.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]
PACKAGES = ("engine", "designer")

#: Module -> what it does by itself, and why.
ALLOWED = {
    "engine/storage/writing.py": {"os.replace", "unlink", "shutil.copystat", "chmod", "os.chown"},
    "engine/storage/new_files.py": {"os.open", "os.fdopen", "os.replace", "unlink", "open to write",
                                    "shutil.copyfileobj"},
    # a look at a database through a copy, in a folder that goes again
    "engine/storage/database_kinds.py": {"sqlite3.connect", "shutil.copyfile",
                                         "tempfile.TemporaryDirectory"},
    "engine/storage/databases.py": {"sqlite3.connect", "os.open", "unlink", "chmod"},
    # to read, with rules of the system that `open` does not know
    "engine/storage/reading.py": {"os.open"},
    # throws away an index of ours, known by its number
    "engine/library/store.py": {"unlink"},
    # the cache of machine code, made anew at any time, before anything of ours can be read
    "engine/compiled/machine_code.py": {"tempfile.mkstemp", "os.fdopen", "os.replace", "os.chmod",
                                        "shutil.rmtree", "unlink"},
    # runs before any package is there: its notes in the program's own folder
    "designer/setup_here/stamp.py": {"write_text", "os.replace", "unlink"},
    "designer/setup_here/installing.py": {"open to write", "unlink"},
    # a settings file for one picture, in a folder that goes again
    "designer/window/start.py": {"tempfile.TemporaryDirectory"},
    # what is printed once nobody reads any more
    "designer/commands/ending.py": {"os.open"},
    "designer/files/asking.py": {"getSaveFileName"},
    # pictures into memory
    "engine/photo/picture.py": {"save as"},
    "designer/painters/png.py": {"save as"},
    "designer/exporting/film.py": {"save as"},
}  # fmt: skip

_METHODS = {"write_text", "write_bytes", "unlink", "chmod", "hardlink_to", "symlink_to", "lchmod",
            "rmdir", "imwrite", "tofile", "savetxt", "savez", "getSaveFileName"}  # fmt: skip
_OS = {"replace", "rename", "renames", "remove", "unlink", "rmdir", "removedirs", "open", "fdopen",
       "link", "symlink", "truncate", "mkfifo", "mknod", "chmod", "chown", "lchown"}  # fmt: skip
_QT_FILES = {"QFile", "QSaveFile", "QTemporaryFile", "QTemporaryDir", "QPdfWriter", "QImageWriter",
             "QSvgGenerator"}  # fmt: skip
_WHOLE_MODULES = {"shutil", "tempfile"}
#: Questions about files and programs, no writing.
_HARMLESS = {"shutil.which", "shutil.disk_usage"}


def writings(source: str) -> Iterator[tuple[int, str]]:
    """Every call in a module that writes, moves or removes a file: its line, and what it is."""
    tree = ast.parse(source)
    names = dict(_imported(tree))
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            told = _told(node, names)
            if told and told not in _HARMLESS:
                yield node.lineno, told


def _imported(tree: ast.AST) -> Iterator[tuple[str, str]]:
    """The names a module uses for what it imports, with the whole name of each."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((one.asname or one.name, one.name) for one in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            for one in node.names:
                yield one.asname or one.name, f"{node.module}.{one.name}"


def _told(call: ast.Call, names: dict[str, str]) -> str:
    name = _name(call.func, names)
    room, _, last = name.rpartition(".")
    if room in _WHOLE_MODULES or (room == "os" and last in _OS) or name == "sqlite3.connect":
        return name
    if last in _QT_FILES:
        return last
    if last in _METHODS and isinstance(call.func, ast.Attribute):
        return last
    if name in ("open", "io.open") or (last == "open" and isinstance(call.func, ast.Attribute)):
        return "open to write" if _opens_to_write(call, name) else ""
    # PIL and Qt: save(where, "PNG"); a save of our own has one argument, or none called a format
    if last == "save" and _saves_as(call):
        return "save as"
    # text.replace takes two, a path's replace and rename one; a document is no path
    is_method = isinstance(call.func, ast.Attribute) and not room.endswith("document")
    if last in ("replace", "rename") and is_method:
        return "rename" if len(call.args) == 1 and not call.keywords else ""
    return ""


def _saves_as(call: ast.Call) -> bool:
    where = call.args[0] if call.args else None
    made = isinstance(where, ast.Call) and _name(where.func, {}) == "str"
    named = isinstance(where, ast.JoinedStr) or (
        isinstance(where, ast.Constant) and isinstance(where.value, str)
    )
    return made or named or (len(call.args) >= 2 and isinstance(call.args[1], ast.Constant))


def _name(node: ast.expr, names: dict[str, str]) -> str:
    if isinstance(node, ast.Name):
        return names.get(node.id, node.id)
    if isinstance(node, ast.Attribute):
        return f"{_name(node.value, names)}.{node.attr}"
    return "?"


def _opens_to_write(call: ast.Call, name: str) -> bool:
    """Whether a mode is given that writes, or one that cannot be told."""
    given = call.args[1:] if name in ("open", "io.open") else call.args
    modes = [*given[:1], *(one.value for one in call.keywords if one.arg == "mode")]
    for mode in modes:
        if not isinstance(mode, ast.Constant):
            # a window's open(path), a Qt device's open(flag)
            if name in ("open", "io.open"):
                return True
        elif isinstance(mode.value, str) and set(mode.value) & set("wax+"):
            return True
    return False


def modules() -> list[Path]:
    return sorted(path for package in PACKAGES for path in (HOUSE / package).rglob("*.py"))


def test_only_the_rooms_named_write_files():
    found = [
        f"{path.relative_to(HOUSE)}:{line}: {told}"
        for path in modules()
        for line, told in writings(path.read_text(encoding="utf-8"))
        if told not in ALLOWED.get(path.relative_to(HOUSE).as_posix(), ())
    ]
    assert not found, "write through engine.storage (write_file, save_text, connect):\n" + (
        "\n".join(found)
    )


def test_every_exception_named_is_still_needed():
    for name, allowed in ALLOWED.items():
        told = {what for _, what in writings((HOUSE / name).read_text(encoding="utf-8"))}
        assert allowed == told, name


@pytest.mark.parametrize(
    ("source", "told"),
    [
        ("open('a', 'w')", "open to write"),
        ("open('a', mode='ab')", "open to write"),
        ("open('a', how)", "open to write"),
        ("from pathlib import Path\nPath('a').open('x')", "open to write"),
        ("path.open(mode='r+b')", "open to write"),
        ("path.write_text('a')", "write_text"),
        ("path.write_bytes(b'a')", "write_bytes"),
        ("path.unlink()", "unlink"),
        ("import os\nos.replace('a', 'b')", "os.replace"),
        ("import os as system\nsystem.rename('a', 'b')", "os.rename"),
        ("from os import replace as put\nput('a', 'b')", "os.replace"),
        ("import os\nos.open('a', 1)", "os.open"),
        ("import shutil\nshutil.copy('a', 'b')", "shutil.copy"),
        ("from shutil import move\nmove('a', 'b')", "shutil.move"),
        ("import tempfile\ntempfile.mkstemp()", "tempfile.mkstemp"),
        ("import sqlite3\nsqlite3.connect('a')", "sqlite3.connect"),
        ("from sqlite3 import connect\nconnect('a')", "sqlite3.connect"),
        ("image.save('a.png', 'PNG')", "save as"),
        ("pixmap.save(str(path))", "save as"),
        ("pixmap.save(f'{name}.png')", "save as"),
        ("path.replace(other)", "rename"),
        ("path.rename(other)", "rename"),
        ("cv2.imwrite('a.png', pixels)", "imwrite"),
        ("from PySide6.QtCore import QSaveFile\nQSaveFile('a')", "QSaveFile"),
        ("QFileDialog.getSaveFileName(self)", "getSaveFileName"),
    ],
)
def test_the_check_sees_every_way_of_writing(source, told):
    assert [what for _, what in writings(source)] == [told]


@pytest.mark.parametrize(
    "source",
    [
        "open('a')", "open('a', 'rb')", "path.open('r')", "path.open()", "window.open(path)",
        "painter.save()", "session.save(path)", "text.replace('a', 'b')", "path.read_text()",
        "day.replace(year=3)", "session.document.replace(routine)",
        "import shutil\nshutil.which('a')", "buffer.open(QIODevice.OpenModeFlag.WriteOnly)",
    ],
)  # fmt: skip
def test_the_check_lets_reading_be(source):
    assert list(writings(source)) == []
