"""Questions every window asks in the same words: before work is lost, before work is stopped."""

from __future__ import annotations

from typing import Literal

from PySide6.QtWidgets import QMessageBox, QPushButton, QWidget

from designer.texts import tr

Answer = Literal["save", "drop", "stay"]


class LossAsker:
    """Asks by dialogs; tests and scripts put another in its place."""

    def __init__(self, parent: QWidget) -> None:
        self._parent = parent

    def about_unsaved(self, told: str, question: str) -> Answer:
        """Save what is not saved, drop it, or stay? `told` says what would be lost."""
        box = QMessageBox(self._parent)
        box.setWindowTitle(tr("Not saved yet"))
        box.setIcon(QMessageBox.Icon.Question)
        box.setText(told)
        box.setInformativeText(question)
        save = box.addButton(tr("Save"), QMessageBox.ButtonRole.AcceptRole)
        drop = box.addButton(tr("Do not save"), QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton(tr("Cancel"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(button_of(save))
        box.setEscapeButton(button_of(stay))
        box.exec()
        clicked = box.clickedButton()
        return "save" if clicked is save else "drop" if clicked is drop else "stay"

    def agrees(self, title: str, question: str, yes: str) -> bool:
        """Whether something that cannot be taken back may be done; no is the default."""
        box = QMessageBox(self._parent)
        box.setWindowTitle(title)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setText(question)
        doing = box.addButton(yes, QMessageBox.ButtonRole.DestructiveRole)
        leaving = box.addButton(tr("Cancel"), QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(button_of(leaving))
        box.setEscapeButton(button_of(leaving))
        box.exec()
        return box.clickedButton() is doing

    def may_stop(self, what: str) -> bool:
        """Whether work under way, named as in "the booklet", may be stopped."""
        return self.agrees(
            tr("Still at work"),
            tr("{what} is still being made. Stop, and drop it?", what=what),
            tr("Stop it"),
        )


def button_of(button: object) -> QPushButton:
    """A button as `QMessageBox` hands it out."""
    assert isinstance(button, QPushButton)
    return button
