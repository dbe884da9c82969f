"""What the window asks the coach: which file, and what about work not saved yet."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QMessageBox

from designer.files.asking import where_to_write
from designer.files.losses import Answer, LossAsker, button_of
from designer.texts import mark, tr

ROUTINES = mark("Routines (*.json);;All files (*)")
#: Endings of diagram files with the words of the file dialog, the usual one first.
DIAGRAMS = {
    ".png": mark("Picture (*.png)"),
    ".svg": mark("Drawing for the web and for print (*.svg)"),
    ".pdf": mark("PDF page (*.pdf)"),
}
FILMS = {
    ".gif": mark("Animated image (*.gif)"),
    ".png": mark("Animated PNG, in full colour (*.png)"),
}


class Asker(LossAsker):
    """Asks by dialogs; tests and scripts put another in its place."""

    def about_changes(self, name: str, question: str) -> Answer:
        """Save the changes, drop them, or stay? Asked only when work would be lost."""
        told = tr("“{name}” has changes that are not saved.", name=name)
        return self.about_unsaved(told, question)

    def about_changed_file(self, name: str) -> bool:
        """Write over a file that another program or window has changed meanwhile?"""
        box = QMessageBox(self._parent)
        box.setWindowTitle(tr("Changed elsewhere"))
        box.setIcon(QMessageBox.Icon.Warning)
        box.setText(tr("“{name}” was changed elsewhere since it was opened here.", name=name))
        box.setInformativeText(tr("Write over it? What it holds now is kept as its previous copy."))
        over = box.addButton(tr("Write over it"), QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton(tr("Cancel"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(button_of(stay))
        box.setEscapeButton(button_of(stay))
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
