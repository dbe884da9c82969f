"""Rules for cloth marks: names of their own, known kinds, places that are numbers, lines whole."""

from __future__ import annotations

from collections.abc import Iterator

from engine.errors import short
from engine.routine.rules.breach import Breach, Names, names_once, number, shown, unknown
from engine.routine.rules.setup import FARTHEST_MM
from engine.routine.values import MARK_KINDS, ClothMark, Routine

_KINDS = Names(MARK_KINDS)


def mark_breaches(routine: Routine) -> Iterator[Breach]:
    """Cloth marks have names of their own and known kinds; a line has two ends, others one."""
    names = [mark.id for mark in routine.cloth_marks]
    yield from names_once("cloth_marks", "id", "id of a cloth mark", names)
    for index, mark in enumerate(routine.cloth_marks):
        path, called = f"cloth_marks[{index}]", f"cloth mark {short(mark.id)}"
        if mark.kind not in _KINDS:
            yield unknown(f"{path}.kind", f"kind of {called}", mark.kind, _KINDS, "one of")
        for key in ("x_mm", "y_mm", "to_x_mm", "to_y_mm"):
            what, value = f"{key} of {called}", getattr(mark, key)
            yield from number(f"{path}.{key}", what, value, -FARTHEST_MM, FARTHEST_MM, "mm")
        yield from _ends(mark, path, called)


def _ends(mark: ClothMark, path: str, called: str) -> Iterator[Breach]:
    wanted = "a number of millimetres" if mark.kind == "line" else "left out"
    advice = "a line has two ends, a cross or a dot has one place"
    for key in ("to_x_mm", "to_y_mm"):
        value = getattr(mark, key)
        if mark.kind in MARK_KINDS and (value is not None) != (mark.kind == "line"):
            what = f"{key} of {called}"
            got = "missing" if value is None else shown(value)
            yield Breach(f"{path}.{key}", what, got, wanted, advice)
