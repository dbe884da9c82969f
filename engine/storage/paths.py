"""Paths into a routine file, such as `balls[2].x_mm`, and values taken out by them."""

from __future__ import annotations

from collections.abc import Iterable
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


def touches(path: str, others: Iterable[str]) -> bool:
    """Whether a path is, holds or lies within one of the others.

    >>> touches("balls[1].x_mm", ["balls[1]"]), touches("balls[11]", ["balls[1]"])
    (True, False)
    """
    return any(within(path, other) or within(other, path) for other in others)


def within(inner: str, outer: str) -> bool:
    """Whether a path is another or lies within it."""
    return inner == outer or (inner.startswith(outer) and inner[len(outer)] in ".[")
