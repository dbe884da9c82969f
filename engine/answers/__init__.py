"""Answers: the functions that work out what a coach asks; their values are `engine.results`.

answer(routine) -> RoutineAnswer           everything (`chances=False`: half the time)
answer_shot(routine, shot_id) -> ShotAnswer    one shot: pot, lanes, gap passes
to_json(answer, routine) -> dict           the same with units in every key
reach_to_json(routine) -> dict             the windows of every gap
set_up_tolerance(routine)                  how far each ball may be misplaced
with_bands(routine, answer)                the band of every lane: the model's own doubt
lane_pairs(shot_answer)                    how far apart lanes lie where one points
"""

from engine.answers.answering import answer, answer_shot
from engine.answers.bands import with_bands
from engine.answers.check_json import to_json
from engine.answers.distinct import lane_pairs
from engine.answers.reach_json import reach_of, reach_to_json
from engine.answers.tolerance import set_up_tolerance

__all__ = [
    "answer",
    "answer_shot",
    "lane_pairs",
    "reach_of",
    "reach_to_json",
    "set_up_tolerance",
    "to_json",
    "with_bands",
]
