"""What every window asks before it writes: which file, and whether what stands there may go."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QMessageBox, QWidget

from designer.texts import mark, tr
from engine.storage.writing import StrPath, WriteRules, in_the_way

#: What another kind of file than the one to be written is, by `engine.storage.file_kinds`.
HOLDS = {
    "routine": mark("“{name}” holds a routine."),
    "plan": mark("“{name}” holds a lesson plan."),
    "table": mark("“{name}” holds a table of your own."),
    "conditions": mark("“{name}” holds the conditions of a table."),
    "players": mark("“{name}” holds player levels."),
    "photo": mark("“{name}” holds marks in a photograph."),
    "observations": mark("“{name}” holds observations on a table."),
    "practice": mark("“{name}” holds practice of players."),
    "records": mark("“{name}” holds the practice records."),
    "index": mark("“{name}” holds the index of a library."),
    "database": mark("“{name}” holds a database of another program."),
    "pdf": mark("“{name}” holds a PDF."),
    "svg": mark("“{name}” holds a drawing (SVG)."),
    "png": mark("“{name}” holds a picture (PNG)."),
    "gif": mark("“{name}” holds a film (GIF)."),
    "jpeg": mark("“{name}” holds a photograph (JPEG)."),
    "other": mark("“{name}” holds something else."),
}


def where_to_write(
    parent: QWidget, title: str, start: Path, kinds: str, endings: Sequence[str]
) -> Path | None:
    """Which file to write, None when it was not said; Qt asks before a file is written over.

    `kinds` are the dialog's, with two semicolons between them, `endings` those they stand for. A
    name of another ending gets the one of the kind chosen; a file of that name is asked about.
    """
    name, chosen = QFileDialog.getSaveFileName(parent, title, str(start), kinds)
    if not name:
        return None
    path = Path(name)
    if path.suffix.lower() in endings:
        return path
    listed = dict(zip(kinds.split(";;"), endings, strict=False))
    path = with_ending(path, listed.get(chosen, endings[0]))
    there = tr("“{name}” is there already.", name=path.name)
    return path if not path.exists() or _agrees(parent, there) else None


def rules_to_write(
    parent: QWidget | None,
    path: Path,
    kind: str,
    inputs: Sequence[StrPath | None] = (),
    *,
    private: bool = False,
) -> WriteRules | None:
    """How a file may be written where somebody has chosen to; None when it is to be left.

    Asks where another kind of file stands there. The inputs are never written over.
    """
    there = in_the_way(path, kind)
    if there and not agrees_to_replace(parent, path, there):
        return None
    read = tuple(one for one in inputs if one is not None)
    return WriteRules(read, "any" if there else "same", private)


def agrees_to_replace(parent: QWidget | None, path: Path, there: str) -> bool:
    """Whether another kind of file may go; no is the default."""
    return _agrees(parent, tr(HOLDS[there], name=path.name))


def with_ending(path: Path, ending: str) -> Path:
    """The path, with that ending if it had none of its kind.

    >>> with_ending(Path("round the black"), ".json").name
    'round the black.json'
    >>> with_ending(Path("level 2.5"), ".pdf").name
    'level 2.5.pdf'
    """
    return path if path.suffix.lower() == ending else path.with_name(path.name + ending)


def _agrees(parent: QWidget | None, there: str) -> bool:
    box = QMessageBox(parent)
    box.setWindowTitle(tr("Write over it?"))
    box.setIcon(QMessageBox.Icon.Warning)
    box.setText(there)
    box.setInformativeText(tr("Write over it? What it holds now would be lost."))
    over = box.addButton(tr("Write over it"), QMessageBox.ButtonRole.DestructiveRole)
    stay = box.addButton(tr("Cancel"), QMessageBox.ButtonRole.RejectRole)
    box.setDefaultButton(stay)
    box.setEscapeButton(stay)
    box.exec()
    return box.clickedButton() is over
