"""Where the program keeps what is its own, as the system wants it; the same with and without Qt.

The window asks Qt for these places, the command line finds them here: on Linux by the XDG base
directory specification, on macOS and Windows by the system's usual folders.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

#: Organisation and program, as the window names them to Qt.
_OWN = Path("Baizewright") / "baizewright"


def data_folder() -> Path:
    """For what must not be lost: practice records."""
    if sys.platform == "win32":
        return _env("LOCALAPPDATA", Path.home() / "AppData" / "Local") / _OWN
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Application Support" / _OWN
    return _env("XDG_DATA_HOME", Path.home() / ".local" / "share") / _OWN


def cache_folder() -> Path:
    """For what can be made anew at any time: the index of the library."""
    if sys.platform == "win32":
        return _env("LOCALAPPDATA", Path.home() / "AppData" / "Local") / _OWN / "cache"
    if sys.platform == "darwin":
        return Path.home() / "Library" / "Caches" / _OWN
    return _env("XDG_CACHE_HOME", Path.home() / ".cache") / _OWN


def records_file() -> Path:
    """The practice records."""
    return data_folder() / "practice-records.sqlite"


def report_folder() -> Path:
    """Reports on errors nobody foresaw."""
    return data_folder() / "reports"


def index_file() -> Path:
    """The index of the library."""
    return cache_folder() / "library-index.sqlite"


def _env(name: str, usual: Path) -> Path:
    """The folder a variable names, if it names one by its whole path."""
    given = Path(os.environ.get(name, ""))
    return given if given.is_absolute() else usual
