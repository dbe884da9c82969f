"""What the window asks the coach: which file, and what about work not saved yet."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from PySide6.QtWidgets import QFileDialog, QMessageBox, QPushButton, QWidget

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
        name, _ = QFileDialog.getSaveFileName(
            self._parent, tr("Save routine"), str(start), tr(ROUTINES)
        )
        return with_ending(Path(name), ".json") if name else None

    def diagram_to_write(self, start: Path) -> Path | None:
        """Where to write the diagram; the ending says the kind of file."""
        name, chosen = QFileDialog.getSaveFileName(
            self._parent, tr("Export diagram"), str(start), _kinds(DIAGRAMS)
        )
        ending = next((end for end, words in DIAGRAMS.items() if tr(words) == chosen), ".svg")
        path = Path(name)
        return (
            (path if path.suffix.lower() in DIAGRAMS else with_ending(path, ending))
            if name
            else None
        )

    def film_to_write(self, start: Path) -> Path | None:
        """Where to write the film of a shot; the ending says the kind of file."""
        name, chosen = QFileDialog.getSaveFileName(
            self._parent, tr("Export film of the shot"), str(start), _kinds(FILMS)
        )
        ending = next((end for end, words in FILMS.items() if tr(words) == chosen), ".gif")
        path = Path(name)
        return (
            (path if path.suffix.lower() in FILMS else with_ending(path, ending)) if name else None
        )

    def handout_to_write(self, start: Path) -> Path | None:
        """Where to write the handout."""
        name, _ = QFileDialog.getSaveFileName(
            self._parent, tr("Make handout"), str(start), tr("PDF (*.pdf)")
        )
        return with_ending(Path(name), ".pdf") if name else None


def with_ending(path: Path, ending: str) -> Path:
    """The path, with that ending if it had none of its kind.

    >>> with_ending(Path("round the black"), ".json").name
    'round the black.json'
    >>> with_ending(Path("level 2.5"), ".pdf").name
    'level 2.5.pdf'
    """
    return path if path.suffix.lower() == ending else path.with_name(path.name + ending)


def _kinds(endings: dict[str, str]) -> str:
    return ";;".join(tr(words) for words in endings.values())


def _button(button: object) -> QPushButton:
    assert isinstance(button, QPushButton)
    return button
