"""Menus and the few buttons above the table, built from plain lists of entries."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from designer.open_routine import OpenRoutine
from designer.open_routine.view import SWITCHES
from designer.texts import tr

Keys = QKeySequence.StandardKey | str | None


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a menu: what it says, what it does, by which keys."""

    text: str
    do: Callable[[], object]
    keys: Keys = None
    tip: str = ""


def action(parent: QWidget, entry: Entry) -> QAction:
    """The action of an entry."""
    made = QAction(entry.text, parent)
    # The signal's "checked" is of no use to what is done.
    made.triggered.connect(lambda _checked=False: entry.do())
    if entry.keys is not None:
        made.setShortcuts(
            [QKeySequence(entry.keys)]
            if isinstance(entry.keys, str)
            else QKeySequence.keyBindings(entry.keys)
        )
    if entry.tip:
        made.setToolTip(entry.tip)
        made.setStatusTip(entry.tip)
    return made


def fill_menu(menu: QMenu, parent: QWidget, entries: list[Entry | None]) -> list[QAction]:
    """Add entries to a menu, a line where there is None; the actions made."""
    made = []
    for entry in entries:
        if entry is None:
            menu.addSeparator()
        else:
            made.append(action(parent, entry))
            menu.addAction(made[-1])
    return made


class LayerMenu(QMenu):
    """One tick for each part of the drawing."""

    def __init__(self, session: OpenRoutine, parent: QWidget) -> None:
        super().__init__(tr("Show"), parent)
        self._session = session
        self.ticks: list[QAction] = []
        for number, switch in enumerate(SWITCHES, start=1):
            tick = self.addAction(tr(switch.text))
            tick.setCheckable(True)
            if number <= 9:
                tick.setShortcut(QKeySequence(f"Alt+{number}"))
            tick.triggered.connect(lambda on, s=switch: self._switch(s.names, on))
            self.ticks.append(tick)
            # Shortcuts of a menu that was never opened work through its window.
            parent.addAction(tick)
        session.view_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Tick what is on."""
        for tick, switch in zip(self.ticks, SWITCHES, strict=True):
            tick.setChecked(switch.is_on(self._session.view.layers))

    def _switch(self, names: tuple[str, ...], on: bool) -> None:
        view = self._session.view
        for name in names:
            view = view.with_layer(name, on)
        self._session.set_view(view)


class UnitChoice:
    """Two actions of which one is on: millimetres or inches."""

    def __init__(self, session: OpenRoutine, parent: QWidget) -> None:
        self._session = session
        self.group = QActionGroup(parent)
        self.mm = _choice(self.group, tr("Millimetres"), tr("Read and type lengths in millimetres"))
        self.inch = _choice(
            self.group, tr("Inches"), tr("Read and type lengths in inches and sixteenths")
        )
        self.mm.triggered.connect(lambda: session.set_unit("mm"))
        self.inch.triggered.connect(lambda: session.set_unit("inch"))
        session.view_changed.connect(self.refresh)
        self.refresh()

    def refresh(self) -> None:
        """Mark the unit in use."""
        inch = self._session.view.unit == "inch"
        (self.inch if inch else self.mm).setChecked(True)


def _choice(group: QActionGroup, text: str, tip: str) -> QAction:
    made = group.addAction(text)
    made.setCheckable(True)
    made.setToolTip(tip)
    return made


def step_text(word: str, name: str) -> str:
    """ "Undo" with the name of the step, its first letter small unless it is a name."""
    return tr("{step}: {name}", step=word, name=name) if name else word
