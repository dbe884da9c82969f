"""What the window asks the coach: which file, and what about work not saved yet."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from PySide6.QtWidgets import QFileDialog, QMessageBox, QPushButton, QWidget

ROUTINES = "Routines (*.json);;All files (*)"
#: Endings of diagram files with the words of the file dialog.
DIAGRAMS = {
    ".svg": "Drawing for the web and for print (*.svg)",
    ".png": "Picture (*.png)",
    ".pdf": "PDF page (*.pdf)",
}
FILMS = {
    ".gif": "Animated image (*.gif)",
    ".png": "Animated PNG, in full colour (*.png)",
}
Answer = Literal["save", "drop", "stay"]


class Asker:
    """Asks by dialogs; tests and scripts put another in its place."""

    def __init__(self, parent: QWidget) -> None:
        self._parent = parent

    def about_changes(self, name: str, doing: str) -> Answer:
        """Save the changes, drop them, or stay? Asked only when work would be lost."""
        box = QMessageBox(self._parent)
        box.setWindowTitle("Not saved yet")
        box.setIcon(QMessageBox.Icon.Question)
        box.setText(f"“{name}” has changes that are not saved.")
        box.setInformativeText(f"Save them before {doing}?")
        save = box.addButton("Save", QMessageBox.ButtonRole.AcceptRole)
        drop = box.addButton("Do not save", QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton("Cancel", QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(_button(save))
        box.setEscapeButton(_button(stay))
        box.exec()
        clicked = box.clickedButton()
        return "save" if clicked is save else "drop" if clicked is drop else "stay"

    def file_to_open(self, folder: Path) -> Path | None:
        """Which routine to open."""
        name, _ = QFileDialog.getOpenFileName(self._parent, "Open routine", str(folder), ROUTINES)
        return Path(name) if name else None

    def file_to_save(self, start: Path) -> Path | None:
        """Where to save the routine; asks before another file is written over."""
        name, _ = QFileDialog.getSaveFileName(self._parent, "Save routine", str(start), ROUTINES)
        return with_ending(Path(name), ".json") if name else None

    def diagram_to_write(self, start: Path) -> Path | None:
        """Where to write the diagram; the ending says the kind of file."""
        name, chosen = QFileDialog.getSaveFileName(
            self._parent, "Export diagram", str(start), ";;".join(DIAGRAMS.values())
        )
        ending = next((end for end, words in DIAGRAMS.items() if words == chosen), ".svg")
        path = Path(name)
        return (
            (path if path.suffix.lower() in DIAGRAMS else with_ending(path, ending))
            if name
            else None
        )

    def film_to_write(self, start: Path) -> Path | None:
        """Where to write the film of a shot; the ending says the kind of file."""
        name, chosen = QFileDialog.getSaveFileName(
            self._parent, "Export film of the shot", str(start), ";;".join(FILMS.values())
        )
        ending = next((end for end, words in FILMS.items() if words == chosen), ".gif")
        path = Path(name)
        return (
            (path if path.suffix.lower() in FILMS else with_ending(path, ending)) if name else None
        )

    def handout_to_write(self, start: Path) -> Path | None:
        """Where to write the handout."""
        name, _ = QFileDialog.getSaveFileName(
            self._parent, "Make handout", str(start), "PDF (*.pdf)"
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


def _button(button: object) -> QPushButton:
    assert isinstance(button, QPushButton)
    return button
