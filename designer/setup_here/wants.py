"""Which packages the project asks for, in which tested versions, and whether they are all here."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

LINE = re.compile(
    r"^(?P<name>[A-Za-z0-9][A-Za-z0-9._-]*)\s*"
    r"(?:>=\s*(?P<version>\d+(?:\.\d+)*)\s*(?:,\s*<\s*(?P<below>\d+(?:\.\d+)*))?)?$"
)


@dataclass(frozen=True, slots=True)
class Want:
    """One package, the oldest version that will do and the first that will not (empty: any)."""

    name: str
    at_least: tuple[int, ...] = ()
    below: tuple[int, ...] = ()


def read_wants(pyproject: Path, extras: Iterable[str] = ()) -> tuple[Want, ...]:
    """Return what `pyproject` asks for, with the packages of the named extras.

    Raises ValueError on a line that is not ``name``, ``name>=version`` or
    ``name>=version,<version``: the quick check below knows no more than that, so the
    project keeps to it.
    """
    project = tomllib.loads(pyproject.read_text(encoding="utf-8"))["project"]
    lines = list(project.get("dependencies", ()))
    for extra in extras:
        lines += project["optional-dependencies"][extra]
    return tuple(_want(line) for line in lines)


def lock_files(project: Path, extras: Iterable[str] = ()) -> tuple[Path, ...]:
    """Return the lists of tested versions, one for the program and one for each extra.

    Empty where one of them is missing, as in a source archive.
    """
    names = ("lock.txt", *(f"lock-{extra}.txt" for extra in sorted(extras)))
    files = tuple(project / ".packaging" / name for name in names)
    return files if all(file.is_file() for file in files) else ()


def _want(line: str) -> Want:
    found = LINE.match(line.strip())
    if not found:
        raise ValueError(
            f"pyproject.toml asks for {line!r}; wanted: name or name>=version[,<version]"
        )
    return Want(found["name"], _numbers(found["version"] or ""), _numbers(found["below"] or ""))


def _numbers(version: str) -> tuple[int, ...]:
    """Return the leading numbers of a version: ``2.1.0rc1`` gives (2, 1, 0)."""
    numbers = []
    for part in version.split("."):
        digits = re.match(r"\d+", part)
        if not digits:
            break
        numbers.append(int(digits[0]))
    return tuple(numbers)


def has_all(wants: Iterable[Want], version_of: Callable[[str], str] = metadata.version) -> bool:
    """Say whether the running Python has every wanted package, new enough."""
    for want in wants:
        try:
            version = version_of(want.name)
        except metadata.PackageNotFoundError:
            return False
        numbers = _numbers(version)
        if numbers < want.at_least or (want.below and numbers >= want.below):
            return False
    return True
