"""Edits of the marks on the cloth."""

from __future__ import annotations

from dataclasses import replace

from engine.routine.edits.pieces import first_free, inserted, swapped, without
from engine.routine.rules import hold, mark_breaches
from engine.routine.values import ClothMark, Routine


def add_mark(routine: Routine, mark: ClothMark, at: int | None = None) -> Routine:
    """With one more cloth mark, at place `at` (0 is first) or at the end."""
    return _held(replace(routine, cloth_marks=inserted(routine.cloth_marks, mark, at)))


def remove_mark(routine: Routine, mark_id: str) -> Routine:
    """Without the cloth mark."""
    routine.cloth_mark(mark_id)
    return replace(routine, cloth_marks=without(routine.cloth_marks, mark_id))


def set_mark(routine: Routine, mark_id: str, mark: ClothMark) -> Routine:
    """With another cloth mark in its place."""
    routine.cloth_mark(mark_id)
    return _held(replace(routine, cloth_marks=swapped(routine.cloth_marks, mark_id, mark)))


def free_mark_id(routine: Routine) -> str:
    """An id no cloth mark has yet.

    >>> free_mark_id(Routine())
    'mark-1'
    """
    return first_free("mark", {mark.id for mark in routine.cloth_marks})


def _held(routine: Routine) -> Routine:
    hold(mark_breaches(routine))
    return routine
