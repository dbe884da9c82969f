"""The report on an error nobody foresaw: enough to mend the program, nothing about a person.

It tells the kinds of error, the way through the program (module, function, line) and versions.
It leaves out every message of an error, every value, every line of a routine, and every folder:
all of these can hold names.
"""

from __future__ import annotations

import hashlib
import platform
import sys
import traceback
from datetime import UTC, datetime
from pathlib import Path

from engine.version import VERSION

#: Older reports go, so that a fault that comes every second fills no disk.
MOST_REPORTS = 20
_HOUSE = Path(__file__).resolve().parents[1]
_OURS = ("designer", "engine")
_PACKAGES = ("PySide6-Essentials", "numpy", "numba", "scipy", "shapely", "reportlab")
_DEEPEST = 60


def report_text(error: BaseException, now: datetime | None = None) -> str:
    """The report as it is written; times are in UTC."""
    now = now or datetime.now(UTC)
    lines = [
        "Baizewright: report on an error nobody foresaw",
        "It holds no names, no folders, no words of yours. Nothing was sent anywhere.",
        "",
        f"time: {now:%Y-%m-%d %H:%M} UTC",
        f"Baizewright {VERSION}",
        f"Python {platform.python_version()} ({platform.python_implementation()})",
        f"system: {platform.system()} {platform.release()} {platform.machine()}",
        *(f"{name} {_version(name)}" for name in _PACKAGES),
        "",
        *_ways(error),
    ]
    return "\n".join(lines) + "\n"


def signature(error: BaseException) -> str:
    """Equal for errors of one kind in one place."""
    return hashlib.sha256("\n".join(_ways(error)).encode()).hexdigest()[:12]


def write_report(error: BaseException, folder: Path) -> Path:
    """Write the report into the folder and let the oldest ones go; an error when that fails."""
    from engine.storage import remove_file, write_file

    folder.mkdir(parents=True, exist_ok=True)
    now = datetime.now(UTC)
    path = folder / f"report-{now:%Y%m%d-%H%M%S}-{signature(error)}.txt"
    write_file(path, report_text(error, now), "other")
    for old in sorted(folder.glob("report-*.txt"))[:-MOST_REPORTS]:
        remove_file(old)
    return path


def _ways(error: BaseException) -> list[str]:
    """The chain of errors, each with its way, the place of the fault last."""
    lines: list[str] = []
    seen: set[int] = set()
    one: BaseException | None = error
    while one is not None and id(one) not in seen:
        seen.add(id(one))
        lines.append(f"{'error' if not lines else 'after'}: {_kind(one)}")
        frames = traceback.extract_tb(one.__traceback__)[-_DEEPEST:]
        lines += [
            f"  {_place(frame.filename)}, line {frame.lineno}, {frame.name}" for frame in frames
        ]
        one = one.__cause__ or (None if one.__suppress_context__ else one.__context__)
    return lines


def _kind(error: BaseException) -> str:
    kind = type(error)
    return kind.__name__ if kind.__module__ == "builtins" else f"{kind.__module__}.{kind.__name__}"


def _place(filename: str) -> str:
    """A file as its module; what is not ours is told from its package on, never by its folder."""
    path = Path(filename)
    try:
        inside = path.resolve().relative_to(_HOUSE)
    except (ValueError, OSError):
        inside = None
    if inside is not None and inside.parts[0] in _OURS:
        return ".".join(inside.with_suffix("").parts)
    # The folders a Python looks into for packages end where names of modules begin.
    for root in sorted((p for p in sys.path if p), key=len, reverse=True):
        try:
            parts = path.resolve().relative_to(Path(root).resolve()).with_suffix("").parts
        except (ValueError, OSError):
            continue
        if parts and parts[0].isidentifier() and _is_package_folder(root):
            return ".".join(parts)
    return "elsewhere"


def _is_package_folder(root: str) -> bool:
    return "site-packages" in root or "lib-dynload" in root or root.startswith(sys.base_prefix)


def _version(name: str) -> str:
    from importlib.metadata import PackageNotFoundError, version  # here: few runs end in a report

    try:
        return version(name)
    except PackageNotFoundError:
        return "not found"
