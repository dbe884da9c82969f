"""What the window asks the coach: which file, and what about work not saved yet."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from PySide6.QtWidgets import QFileDialog, QMessageBox, QPushButton, QWidget

from designer.files.asking import where_to_write
from designer.texts import mark, tr

ROUTINES = mark("Routines (*.json);;All files (*)")
#: Endings of diagram files with the words of the file dialog.
DIAGRAMS = {
    ".svg": mark("Drawing for the web and for print (*.svg)"),
    ".png": mark("Picture (*.png)"),
    ".pdf": mark("PDF page (*.pdf)"),
}
FILMS = {
    ".gif": mark("Animated image (*.gif)"),
    ".png": mark("Animated PNG, in full colour (*.png)"),
}
Answer = Literal["save", "drop", "stay"]


class Asker:
    """Asks by dialogs; tests and scripts put another in its place."""

    def __init__(self, parent: QWidget) -> None:
        self._parent = parent

    def about_changes(self, name: str, question: str) -> Answer:
        """Save the changes, drop them, or stay? Asked only when work would be lost."""
        box = QMessageBox(self._parent)
        box.setWindowTitle(tr("Not saved yet"))
        box.setIcon(QMessageBox.Icon.Question)
        box.setText(tr("“{name}” has changes that are not saved.", name=name))
        box.setInformativeText(question)
        save = box.addButton(tr("Save"), QMessageBox.ButtonRole.AcceptRole)
        drop = box.addButton(tr("Do not save"), QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton(tr("Cancel"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(_button(save))
        box.setEscapeButton(_button(stay))
        box.exec()
        clicked = box.clickedButton()
        return "save" if clicked is save else "drop" if clicked is drop else "stay"

    def about_changed_file(self, name: str) -> bool:
        """Write over a file that another program or window has changed meanwhile?"""
        box = QMessageBox(self._parent)
        box.setWindowTitle(tr("Changed elsewhere"))
        box.setIcon(QMessageBox.Icon.Warning)
        box.setText(tr("“{name}” was changed elsewhere since it was opened here.", name=name))
        box.setInformativeText(tr("Write over it? What it holds now is kept as its previous copy."))
        over = box.addButton(tr("Write over it"), QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton(tr("Cancel"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(_button(stay))
        box.setEscapeButton(_button(stay))
        box.exec()
        return box.clickedButton() is over

    def file_to_open(self, folder: Path) -> Path | None:
        """Which routine to open."""
        name, _ = QFileDialog.getOpenFileName(
            self._parent, tr("Open routine"), str(folder), tr(ROUTINES)
        )
        return Path(name) if name else None

    def file_to_save(self, start: Path) -> Path | None:
        """Where to save the routine; asks before another file is written over."""
        return where_to_write(self._parent, tr("Save routine"), start, tr(ROUTINES), (".json",))

    def diagram_to_write(self, start: Path) -> Path | None:
        """Where to write the diagram; the ending says the kind of file."""
        kinds, endings = _kinds(DIAGRAMS), tuple(DIAGRAMS)
        return where_to_write(self._parent, tr("Export diagram"), start, kinds, endings)

    def film_to_write(self, start: Path) -> Path | None:
        """Where to write the film of a shot; the ending says the kind of file."""
        kinds, endings = _kinds(FILMS), tuple(FILMS)
        return where_to_write(self._parent, tr("Export film of the shot"), start, kinds, endings)

    def handout_to_write(self, start: Path) -> Path | None:
        """Where to write the handout."""
        kinds = tr("PDF (*.pdf)")
        return where_to_write(self._parent, tr("Make handout"), start, kinds, (".pdf",))


def _kinds(endings: dict[str, str]) -> str:
    return ";;".join(tr(words) for words in endings.values())


def _button(button: object) -> QPushButton:
    assert isinstance(button, QPushButton)
    return button
