"""Answers with the band of every lane: how far the model's own doubt may move it."""

from __future__ import annotations

from dataclasses import replace

from engine.lanes.band import lane_band
from engine.results import Lane, RoutineAnswer, ShotAnswer
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine


def with_bands(routine: Routine, answer: RoutineAnswer, *, outlined: bool = True) -> RoutineAnswer:
    """The same answer with `doubt` filled in for every lane (some 20 ms a lane, half unoutlined).

    The answer must be the routine's own. Only what is drawn needs to be `outlined`.
    """
    table, conditions, balls = table_of(routine), conditions_of(routine), routine.balls

    def doubted(answered: ShotAnswer, lane: Lane) -> Lane:
        if lane.doubt is not None:
            return lane
        shot = routine.shot(answered.shot)
        ask, pot = shot.lane(lane.label), answered.pot
        found = lane_band(table, conditions, balls, shot, pot, ask, outlined=outlined)
        return replace(lane, doubt=found)

    shots = (
        replace(one, lanes=tuple(doubted(one, lane) for lane in one.lanes)) for one in answer.shots
    )
    return replace(answer, shots=tuple(shots))
