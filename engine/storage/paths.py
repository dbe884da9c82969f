"""Paths into a routine file, such as `balls[2].x_mm`, and values taken out by them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

from engine.routine.rules.breach import key_text

Path = tuple[str | int, ...]

#: Stands in place of a path when the fault is the whole file's.
FILE = "the file"


def path_text(path: Iterable[str | int]) -> str:
    """The path as it is written in messages.

    >>> path_text(("balls", 2, "x_mm"))
    'balls[2].x_mm'
    >>> path_text(())
    'the file'
    """
    text = ""
    for step in path:
        if isinstance(step, int):
            text += f"[{step}]"
        else:
            text += f".{key_text(step)}" if text else key_text(step)
    return text or FILE


def without(data: Any, path: Path) -> None:
    """Take the value at `path` out of nested dicts and lists, in place.

    In a list an empty object stands in for it, so that the others keep their numbers.
    """
    holder = data
    for step in path[:-1]:
        try:
            holder = holder[step]
        except (KeyError, IndexError, TypeError):
            return
    last = path[-1] if path else None
    if isinstance(holder, dict):
        holder.pop(last, None)
    elif isinstance(holder, list) and isinstance(last, int) and last < len(holder):
        holder[last] = {}


class Places:
    """Places in a file, such as those at fault; asking does not take longer when there are more.

    >>> places = Places()
    >>> places.add("balls[1]")
    >>> places.touch("balls[1].x_mm"), places.touch("balls[11]"), places.touch("balls")
    (True, False, True)
    """

    def __init__(self) -> None:
        self._here: set[str] = set()
        self._around: set[str] = set()

    def add(self, path: str) -> None:
        """Remember a place."""
        self._here.add(path)
        self._around.update(_beginnings(path))

    def hold(self, path: str) -> bool:
        """Whether a path is one of the places or lies within one."""
        return bool(self._here) and (
            path in self._here or any(outer in self._here for outer in _beginnings(path))
        )

    def touch(self, path: str) -> bool:
        """Whether a path is, holds or lies within one of the places."""
        return path in self._around or self.hold(path)

    def __iter__(self) -> Iterator[str]:
        return iter(self._here)


def _beginnings(path: str) -> Iterator[str]:
    return (path[: step.start()] for step in _STEP.finditer(path))


_STEP = re.compile(r"[.\[]")
