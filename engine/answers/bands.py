"""Answers with the band of every lane: how far the model's own doubt may move it."""

from __future__ import annotations

from dataclasses import replace

from engine.lanes.band import lane_band
from engine.results import Lane, RoutineAnswer, ShotAnswer
from engine.routine.context import conditions_of, table_of
from engine.routine.values import Routine


def with_bands(routine: Routine, answer: RoutineAnswer) -> RoutineAnswer:
    """The same answer with `doubt` filled in for every lane (some 20 ms a lane).

    The answer must be the routine's own.
    """
    return replace(answer, shots=tuple(_shot(routine, shot) for shot in answer.shots))


def _shot(routine: Routine, answer: ShotAnswer) -> ShotAnswer:
    table, conditions = table_of(routine), conditions_of(routine)
    shot = routine.shot(answer.shot)

    def doubted(lane: Lane) -> Lane:
        ask = shot.lane(lane.label)
        band = lane_band(table, conditions, routine.balls, shot, answer.pot, ask)
        return replace(lane, doubt=band)

    return replace(answer, lanes=tuple(doubted(lane) for lane in answer.lanes))
