"""What kind of file stands at a path, told by its content and never by its name.

So a command that is to write a sheet can see that a routine, a photograph or a club's records
would be lost, whatever their files are called.
"""

from __future__ import annotations

import re
import stat
from pathlib import Path

from engine.storage.database_kinds import HEADER, store_at
from engine.storage.reading import MAX_BYTES

#: Every kind, with the words for it in a sentence ("holds …").
KINDS: dict[str, str] = {
    "routine": "a routine",
    "plan": "a lesson plan",
    "table": "a table of your own",
    "conditions": "conditions of a table",
    "players": "player levels",
    "photo": "marks in a photograph",
    "observations": "observations on a table",
    "practice": "practice of players",
    "records": "practice records",
    "index": "the index of a library",
    "database": "a database of something else",
    "pdf": "a PDF",
    "svg": "a drawing (SVG)",
    "png": "a picture (PNG)",
    "gif": "a film (GIF)",
    "jpeg": "a photograph (JPEG)",
    "other": "something else",
}
#: Sheets and pictures: made from routines at any time, so a newer one may take their place.
MADE = frozenset({"pdf", "svg", "png", "gif"})
#: Kinds of sheets and pictures by the ending of the name a person gives them.
KIND_OF_ENDING = {
    ".pdf": "pdf", ".svg": "svg", ".png": "png", ".gif": "gif", ".jpg": "jpeg", ".jpeg": "jpeg",
}  # fmt: skip

_BEGINNINGS = (
    (b"%PDF-", "pdf"),
    (b"\x89PNG\r\n\x1a\n", "png"),
    (b"GIF8", "gif"),
    (b"\xff\xd8\xff", "jpeg"),
)
_FORMAT = re.compile(rb'"format"\s*:\s*"baizewright-([a-z-]+)"')


def kind_of(path: Path) -> str:
    """The kind of the file at a path, one of `KINDS`; "" for no file and for an empty one.

    `OSError` where it may not be looked into, and for a folder, a device or a pipe.
    """
    try:
        about = path.stat()
    except FileNotFoundError:
        return ""
    if stat.S_ISDIR(about.st_mode):
        raise IsADirectoryError(f"{path} is a folder")
    if not stat.S_ISREG(about.st_mode):
        raise OSError(0, "it is a device or a pipe; name an ordinary file")
    with path.open("rb") as file:
        head = file.read(MAX_BYTES)
    return store_at(path) if head.startswith(HEADER) else kind_of_bytes(head)


def kind_of_bytes(head: bytes) -> str:
    """The kind of a file that begins with these bytes; "" for none. Databases are told by files.

    >>> kind_of_bytes(b'{"format": "baizewright-plan", "version": 1}')
    'plan'
    >>> kind_of_bytes(b"milk, eggs")
    'other'
    """
    if not head:
        return ""
    for beginning, kind in _BEGINNINGS:
        if head.startswith(beginning):
            return kind
    text = head.removeprefix(b"\xef\xbb\xbf").lstrip()
    if text.startswith(b"{"):
        found = _FORMAT.search(text)
        named = found.group(1).decode("ascii") if found else ""
        return named if named in KINDS else "other"
    if text.startswith(b"<") and b"<svg" in text[:2000]:
        return "svg"
    return _kind_of_table(text)


def _kind_of_table(text: bytes) -> str:
    """A CSV file is known by its head row, the first line that is no remark."""
    for line in text.splitlines():
        if line.strip() and not line.startswith(b"#"):
            cells = {cell.strip().strip(b'"') for cell in re.split(b"[,;]", line)}
            if {b"routine", b"date", b"attempts", b"made"} <= cells:
                return "practice"
            return "observations" if b"kind" in cells else "other"
    return "other"
