"""Edits of what stands on the sheet, and of the table and its conditions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from engine.routine.rules import breaches, hold, sheet_breaches
from engine.routine.values import Routine


def set_title(routine: Routine, title: str) -> Routine:
    """With another title."""
    return replace(routine, title=title)


def set_coach(routine: Routine, coach: str) -> Routine:
    """With another coach's name."""
    return replace(routine, coach=coach)


def set_club(routine: Routine, club: str) -> Routine:
    """With another club."""
    return replace(routine, club=club)


def set_notes(routine: Routine, notes: str) -> Routine:
    """With other notes."""
    return replace(routine, notes=notes)


def set_tags(routine: Routine, tags: Sequence[str]) -> Routine:
    """With other tags: spaces round them and repetitions are dropped, the order is kept."""
    kept = dict.fromkeys(" ".join(tag.split()) for tag in tags)
    made = replace(routine, tags=tuple(tag for tag in kept if tag))
    hold(sheet_breaches(made))
    return made


def set_level(routine: Routine, level: int) -> Routine:
    """With another level, 1 (first lessons) to 5."""
    made = replace(routine, level=level)
    hold(sheet_breaches(made))
    return made


def set_condition(routine: Routine, name: str, value: Any | None) -> Routine:
    """With one condition stated; None goes back to its default.

    Refused where a lane could then no longer be played (a smaller tip limit).
    """
    stated = {key: old for key, old in routine.conditions.items() if key != name}
    if value is not None:
        stated[name] = value
    return set_conditions(routine, stated)


def set_conditions(routine: Routine, conditions: Mapping[str, Any]) -> Routine:
    """With exactly these conditions stated, the rest by default."""
    made = replace(routine, conditions=dict(conditions))
    hold(breaches(made))
    return made


def set_pocket_opening(routine: Routine, pocket_id: str, opening_mm: float | None) -> Routine:
    """With a pocket's measured opening; None goes back to the table's own."""
    stated = {name: mm for name, mm in routine.pocket_openings_mm.items() if name != pocket_id}
    if opening_mm is not None:
        stated[pocket_id] = opening_mm
    made = replace(routine, pocket_openings_mm=stated)
    hold(breaches(made))
    return made
