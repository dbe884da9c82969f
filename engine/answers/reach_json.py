"""The reach of every gap as JSON (schema `reach.schema.json`): units in every key."""

from __future__ import annotations

from typing import Any

from engine.answers.check_json import heading, verdict_json
from engine.errors import BaizewrightError
from engine.reach import PACES, tip_grid, verdicts
from engine.routine.context import conditions_of
from engine.routine.values import Routine
from engine.version import VERSION

FORMAT, FORMAT_VERSION = "baizewright-reach", 1


def reach_to_json(routine: Routine) -> dict[str, Any]:
    """The windows of tip height and pace of every gap, for every shot of the routine.

    A shot that cannot be played is listed under `refusals` with the reason.
    """
    found, refusals = [], []
    for shot in routine.shots:
        try:
            found += [verdict_json(verdict) for verdict in verdicts(routine, shot.id)]
        except BaizewrightError as error:
            refusals.append({"shot": shot.id, "reason": str(error)})
    conditions = conditions_of(routine)
    return {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        **heading(VERSION, routine),
        "tip_heights_ratio": [
            round(float(tip), 9) for tip in tip_grid(conditions, -conditions.tip_limit)
        ],
        "paces": list(PACES),
        "speeds_m_s": [float(conditions.speed_mm_s(pace)) / 1000.0 for pace in PACES],
        "verdicts": found,
        "refusals": refusals,
    }
