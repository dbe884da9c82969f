"""Where the program keeps what is its own, as the system wants it; the same with and without Qt.

The window asks Qt for these places, the command line finds them here: on Linux by the XDG base
directory specification, on macOS and Windows by the system's usual folders.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from engine.errors import OutOfRangeError

#: Organisation and program, as the window names them to Qt.
_OWN = Path("Baizewright") / "baizewright"


def home_folder() -> Path:
    """The person's home folder: as the environment names it, else as the system knows it.

    `OutOfRangeError` when neither names one by its whole path: nothing of a person's is ever put
    into the root of the disk instead.
    """
    named = os.environ.get("USERPROFILE" if sys.platform == "win32" else "HOME", "")
    for home in (named, _home_known_to_the_system()):
        if os.path.isabs(home):
            return Path(home)
    raise OutOfRangeError(
        "HOME", repr(named), "the whole path of your home folder",
        "Set it, or name the files yourself (--records, --index).",
    )  # fmt: skip


def settle_home() -> None:
    """Have the environment name the home folder, as Qt and others take it from there.

    `OutOfRangeError` as `home_folder`.
    """
    if sys.platform != "win32":
        os.environ["HOME"] = str(home_folder())


def _home_known_to_the_system() -> str:
    try:
        import pwd

        home = pwd.getpwuid(os.getuid()).pw_dir
    except (ImportError, KeyError):
        return ""
    return "" if home == os.sep else home


def data_folder() -> Path:
    """For what must not be lost: practice records."""
    if sys.platform == "win32":
        return _folder("LOCALAPPDATA", "AppData", "Local") / _OWN
    if sys.platform == "darwin":
        return home_folder() / "Library" / "Application Support" / _OWN
    return _folder("XDG_DATA_HOME", ".local", "share") / _OWN


def cache_folder() -> Path:
    """For what can be made anew at any time: the index of the library."""
    if sys.platform == "win32":
        return _folder("LOCALAPPDATA", "AppData", "Local") / _OWN / "cache"
    if sys.platform == "darwin":
        return home_folder() / "Library" / "Caches" / _OWN
    return _folder("XDG_CACHE_HOME", ".cache") / _OWN


def records_file() -> Path:
    """The practice records."""
    return data_folder() / "practice-records.sqlite"


def report_folder() -> Path:
    """Reports on errors nobody foresaw."""
    return data_folder() / "reports"


def index_file() -> Path:
    """The index of the library."""
    return cache_folder() / "library-index.sqlite"


def _folder(name: str, *below_home: str) -> Path:
    """The folder a variable names, if it names one by its whole path, else one below home."""
    given = Path(os.environ.get(name, ""))
    return given if given.is_absolute() else home_folder().joinpath(*below_home)
