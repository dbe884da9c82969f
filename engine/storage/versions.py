"""Which files are routines of ours, and how those of an older version are brought up to date."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from engine.errors import Fault, RoutineFileError, WrongKindError
from engine.routine.rules.breach import shown
from engine.storage.migrating import to_version_2

FORMAT = "baizewright-routine"
VERSION = 2

Migration = Callable[[dict[str, Any]], dict[str, Any]]

#: From each older version, what makes its data that of the next one. Version 1 is the first.
MIGRATIONS: dict[int, Migration] = {1: to_version_2}


def brought_up_to_date(
    data: dict[str, Any],
    name: str,
    *,
    latest: int = VERSION,
    migrations: Mapping[int, Migration] = MIGRATIONS,
) -> dict[str, Any]:
    """The data in the form of version `latest`.

    `RoutineFileError` for a version that is no number, for one newer than this program knows, and
    for an older one it has no way to read.
    """
    version = data.get("version")
    if "version" not in data:
        raise _refused(name, "version", f"is missing, wanted {latest}")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise _refused(name, "version", f"is {shown(version)}, wanted {latest}")
    if version > latest:
        raise _refused(
            name,
            "version",
            f"is {shown(version)}, wanted {latest} or older; "
            "this file was written by a newer Baizewright, update to open it",
        )
    while version < latest:
        if version not in migrations:
            raise _refused(name, "version", f"is {version}, which can no longer be read")
        data = migrations[version](data)
        version += 1
        data["version"] = version
    return data


def must_be_of_format(data: dict[str, Any], name: str, form: str, word: str) -> None:
    """`WrongKindError` unless the data say they are of that format; `word` is what it holds."""
    wanted = f'wanted "{form}"; this is no {word} of Baizewright'
    if "format" not in data:
        raise WrongKindError(name, [Fault("format", f"is missing, {wanted}")])
    if data["format"] != form:
        raise WrongKindError(name, [Fault("format", f"is {shown(data['format'])}, {wanted}")])


def _refused(name: str, path: str, message: str) -> RoutineFileError:
    return RoutineFileError(name, [Fault(path, message)])
