"""Answers: the values a coach reads and the functions that work them out.

    answer(routine) -> RoutineAnswer           everything (`chances=False`: half the time)
    answer_shot(routine, shot_id) -> ShotAnswer    one shot: pot, lanes, gap passes
    to_json(answer, routine) -> dict           the same with units in every key
    reach_to_json(routine) -> dict             the windows of every gap
    set_up_tolerance(routine)                  how far each ball may be misplaced
    with_bands(routine, answer)                the band of every lane: the model's own doubt
    lane_pairs(shot_answer)                    how far apart lanes lie where one points

The functions are loaded when first asked for: the parts of the engine that fill in the values
import `engine.answers.values` and must not load themselves by it.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from engine.answers.answering import answer, answer_shot
    from engine.answers.bands import with_bands
    from engine.answers.check_json import to_json
    from engine.answers.distinct import lane_pairs
    from engine.answers.reach_json import reach_to_json
    from engine.answers.tolerance import set_up_tolerance

__all__ = [
    "answer",
    "answer_shot",
    "lane_pairs",
    "reach_to_json",
    "set_up_tolerance",
    "to_json",
    "with_bands",
]

_PLACES = {
    "answer": "answering",
    "answer_shot": "answering",
    "to_json": "check_json",
    "lane_pairs": "distinct",
    "with_bands": "bands",
    "reach_to_json": "reach_json",
    "set_up_tolerance": "tolerance",
}


def __getattr__(name: str) -> Any:
    if name not in _PLACES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_PLACES[name]}"), name)
