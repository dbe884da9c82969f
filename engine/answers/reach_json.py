"""The reach of every gap as JSON (schema `reach.schema.json`): units in every key."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from engine.answers.check_json import heading, verdict_json
from engine.answers.plain import Words, figures
from engine.errors import BaizewrightError
from engine.players import PLAYERS, Player
from engine.reach import verdicts
from engine.results import Fact, GapVerdict
from engine.routine.context import conditions_of
from engine.routine.values import Routine
from engine.version import VERSION

FORMAT, FORMAT_VERSION = "baizewright-reach", 1


@dataclass(frozen=True, slots=True)
class Reach:
    """The verdict on every gap of some shots; a shot that cannot be played, with the error why."""

    verdicts: tuple[GapVerdict, ...]
    refusals: tuple[tuple[str, BaizewrightError], ...]


def reach_of(routine: Routine, shot_id: str = "", players: tuple[Player, ...] = PLAYERS) -> Reach:
    """The verdicts on every gap, for every shot of the routine or for one.

    `UnknownNameError` when there is no such shot.
    """
    found: list[GapVerdict] = []
    refusals = []
    for shot in (routine.shot(shot_id),) if shot_id else routine.shots:
        try:
            found += verdicts(routine, shot.id, players=players)
        except BaizewrightError as error:
            refusals.append((shot.id, error))
    return Reach(tuple(found), tuple(refusals))


def reach_to_json(
    routine: Routine, found: Reach, players: tuple[Player, ...] = PLAYERS, *, words: Words
) -> dict[str, Any]:
    """The windows of tip height and pace of every gap; `words` makes the texts."""
    conditions = conditions_of(routine)
    return {
        "format": FORMAT,
        "version": FORMAT_VERSION,
        **heading(VERSION, routine),
        "paces": list(range(1, 11)),
        "speeds_m_s": [float(speed) for speed in conditions.pace_speeds_m_s],
        "players": [
            figures(player, tip_height="tip_height_ratio", side="side_ratio") for player in players
        ],
        "verdicts": [verdict_json(verdict, words) for verdict in found.verdicts],
        "refusals": [
            {"shot": shot, "reason": words(Fact("refused", error=error))}
            for shot, error in found.refusals
        ],
    }
