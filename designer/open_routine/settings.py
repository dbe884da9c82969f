"""What the program remembers between two starts: recent files, unit, layers, window."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Literal

from PySide6.QtCore import QByteArray, QSettings, QStandardPaths

from designer.open_routine.view import View, layers_from, layers_off
from engine.errors import BaizewrightError
from engine.players import PLAYERS, Player

MOST_RECENT = 8


class Settings:
    """A thin coat over `QSettings`; `path` keeps them in a file of one's own (for tests)."""

    def __init__(self, path: Path | None = None) -> None:
        ini = QSettings.Format.IniFormat
        self._path = path
        if path is None:
            user = QSettings.Scope.UserScope
            self._store = QSettings(ini, user, "Baizewright", "designer")
        else:
            self._store = QSettings(str(path), ini)

    @property
    def recent_files(self) -> list[Path]:
        """The files last used, newest first."""
        return [Path(text) for text in self._texts("recent")]

    def note_recent(self, path: Path) -> None:
        """Put a file at the head of the recent ones."""
        kept = [path.resolve(), *(p for p in self.recent_files if p != path.resolve())]
        self._store.setValue("recent", [str(p) for p in kept[:MOST_RECENT]])

    def forget_recent(self, path: Path) -> None:
        """Drop a file that is no longer there."""
        self._store.setValue("recent", [str(p) for p in self.recent_files if p != path])

    @property
    def folder(self) -> Path:
        """Where files were last read or written; the home folder at first."""
        recent = self.recent_files
        return recent[0].parent if recent and recent[0].parent.is_dir() else Path.home()

    @property
    def look(self) -> str:
        """ "light", "dark", or "system" for what the desktop asks for."""
        look = str(self._store.value("look", "system"))
        return look if look in ("light", "dark") else "system"

    @look.setter
    def look(self, look: str) -> None:
        self._store.setValue("look", look)

    @property
    def lesson_screen(self) -> str:
        """The screen pupils last looked at, as it is called; "" while none was chosen."""
        return str(self._store.value("lesson-screen", ""))

    @lesson_screen.setter
    def lesson_screen(self, name: str) -> None:
        self._store.setValue("lesson-screen", name)

    @property
    def recovery_folder(self) -> Path:
        """Where unsaved work is kept, apart from the coach's own files."""
        if self._path is not None:
            return self._path.parent / "recovery"
        data = QStandardPaths.StandardLocation.AppLocalDataLocation
        return Path(QStandardPaths.writableLocation(data)) / "recovery"

    @property
    def open_folder(self) -> Path:
        """Where the windows of every running program note which file they have open."""
        return self.recovery_folder.parent / "open"

    @property
    def report_folder(self) -> Path:
        """Where reports on errors nobody foresaw are written."""
        return self.recovery_folder.parent / "reports"

    def load_view(self) -> View:
        """The view as it was left."""
        unit: Any = self._store.value("unit", "mm")
        turned = str(self._store.value("turned", "true")).lower() != "false"
        far = str(self._store.value("far", "false")).lower() == "true"
        layers = layers_from(self._texts("layers"))
        return View(layers, "inch" if unit == "inch" else "mm", turned, far)

    def save_view(self, view: View) -> None:
        """Remember a view."""
        self._store.setValue("unit", view.unit)
        self._store.setValue("turned", view.turned)
        self._store.setValue("far", view.far)
        self._store.setValue("layers", layers_off(view.layers))

    def load_own(self, what: Literal["coach", "club"]) -> str:
        """The coach's own name, or club, for a routine begun anew; "" at first."""
        return str(self._store.value(f"own-{what}", ""))

    def save_own(self, what: Literal["coach", "club"], name: str) -> None:
        """Remember the coach's own name, or club."""
        self._store.setValue(f"own-{what}", name)

    def load_players(self) -> tuple[Player, ...]:
        """The coach's player levels; the invented ones while none, or none sound, are kept."""
        text = str(self._store.value("players", ""))
        if not text:
            return PLAYERS
        from engine.storage import parse_players

        try:
            return parse_players(text)
        except BaizewrightError:
            return PLAYERS

    def save_players(self, players: tuple[Player, ...]) -> None:
        """Remember player levels."""
        from engine.storage import dump_players

        self._store.setValue("players", "" if players == PLAYERS else dump_players(players))

    def load_bytes(self, name: str) -> QByteArray | None:
        """A window's geometry or the like, None when nothing is kept."""
        value = self._store.value(name)
        return value if isinstance(value, QByteArray) else None

    def save_bytes(self, name: str, value: QByteArray) -> None:
        """Remember a window's geometry or the like."""
        self._store.setValue(name, value)

    def _texts(self, name: str) -> list[str]:
        value: Any = self._store.value(name, [])
        if isinstance(value, str):
            value = [value]
        return [str(text) for text in value or [] if text]
