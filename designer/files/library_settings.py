"""Which folders belong to the library, and where its index and the practice records are kept."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import QByteArray

from designer import places
from designer.open_routine import Settings

_FOLDERS = "library-folders"


class LibrarySettings:
    """Remembers the library's folders; names the files of index and records."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings

    @property
    def folders(self) -> list[Path]:
        """The library's folders that are there."""
        kept = self.settings.load_bytes(_FOLDERS)
        try:
            names = json.loads(bytes(kept.data()).decode("utf-8")) if kept is not None else []
        except ValueError:
            names = []
        return [Path(name) for name in names if isinstance(name, str) and Path(name).is_dir()]

    def keep_folders(self, folders: Sequence[Path]) -> None:
        """Remember these folders, each once."""
        names = list(dict.fromkeys(str(folder.resolve()) for folder in folders))
        self.settings.save_bytes(_FOLDERS, QByteArray(json.dumps(names).encode("utf-8")))

    @property
    def records_file(self) -> Path:
        """The practice records, beside what the program keeps of unsaved work."""
        return self.settings.recovery_folder.parent / places.records_file().name

    @property
    def index_file(self) -> Path:
        """The index of the library, where the system keeps what can be made anew."""
        own = self.settings.recovery_folder.parent
        usual = own == places.data_folder()
        return (places.cache_folder() if usual else own) / places.index_file().name
