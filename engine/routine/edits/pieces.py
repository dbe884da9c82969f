"""Small helpers the edits share: replace, drop and move items of a tuple by name."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Any, TypeVar

from engine.errors import OutOfRangeError

Item = TypeVar("Item")


def changed(items: tuple[Any, ...], item_id: str, **changes: Any) -> tuple[Any, ...]:
    """The items with the one of that id changed."""
    return tuple(replace(item, **changes) if item.id == item_id else item for item in items)


def swapped(items: tuple[Any, ...], item_id: str, new: Any) -> tuple[Any, ...]:
    """The items with `new` in place of the one of that id."""
    return tuple(new if item.id == item_id else item for item in items)


def without(items: tuple[Any, ...], item_id: str) -> tuple[Any, ...]:
    """The items but for the one of that id."""
    return tuple(item for item in items if item.id != item_id)


def moved(items: tuple[Item, ...], start: int, to_index: int) -> tuple[Item, ...]:
    """The items with the one at `start` at `to_index`, held to the ends of the list."""
    rest = list(items)
    item = rest.pop(start)
    rest.insert(min(max(to_index, 0), len(rest)), item)
    return tuple(rest)


def inserted(items: tuple[Item, ...], new: Item, at: int | None) -> tuple[Item, ...]:
    """The items with a new one at that place, or at the end."""
    place = len(items) if at is None else min(max(at, 0), len(items))
    return (*items[:place], new, *items[place:])


def indexed(items: tuple[Any, ...], index: int, what: str) -> int:
    """The index if there is such an item; `OutOfRangeError` otherwise."""
    if not 0 <= index < len(items):
        raise OutOfRangeError(f"number of the {what}", index, f"0 to {len(items) - 1}")
    return index


def first_free(stem: str, taken: Collection[str], start: int = 1) -> str:
    """The first of stem-1, stem-2, … that is not taken."""
    number = start
    while f"{stem}-{number}" in taken:
        number += 1
    return f"{stem}-{number}"
