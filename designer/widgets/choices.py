"""Drop-down lists filled without losing the choice or telling of it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QComboBox


def fill_choices(box: QComboBox, choices: Sequence[tuple[str, str]]) -> None:
    """Offer these (key, text) choices; nothing happens when they are there already."""
    present = [(box.itemData(i), box.itemText(i)) for i in range(box.count())]
    if present == list(choices):
        return
    kept = box.currentData()
    blocked = box.blockSignals(True)
    box.clear()
    for key, text in choices:
        box.addItem(text, key)
    choose(box, kept if kept is not None else "")
    box.blockSignals(blocked)


def choose(box: QComboBox, key: str) -> None:
    """Choose by key; the first choice when the key is not offered."""
    index = box.findData(key)
    if index != box.currentIndex():
        blocked = box.blockSignals(True)
        box.setCurrentIndex(max(index, 0))
        box.blockSignals(blocked)
