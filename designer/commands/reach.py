"""`reach`: the windows of tip height and pace of every gap, and advice on how to open one."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from designer.commands.check import json_text
from designer.commands.exit_codes import BAD_INPUT
from designer.commands.files import read_routine, tell
from designer.commands.progress import Told
from designer.commands.reach_options import AdviceAsked, ReachAsked, reach_asked
from engine.errors import BaizewrightError, OutOfRangeError
from engine.players import PLAYERS
from engine.routine.values import Routine

if TYPE_CHECKING:
    from engine.advice import Advice, Wish


def run(options: argparse.Namespace) -> int:
    """Do what the options of `reach` ask for; 2 when they do not fit together."""
    try:
        asked = reach_asked(options)
    except OutOfRangeError as error:
        tell(options.file, error)
        return BAD_INPUT
    return reach(asked)


def reach(asked: ReachAsked) -> int:
    """Print the reach of every gap of a routine; 2 when something cannot be read or answered."""
    routine = read_routine(asked.file)
    if routine is None:
        return BAD_INPUT
    from designer.words.telling import words_of
    from designer.words.wording import Wording
    from engine.advice import advice_to_json
    from engine.answers import reach_of, reach_to_json
    from engine.storage import load_players

    source = asked.file
    try:
        players = PLAYERS
        if asked.players:
            source = asked.players
            players = load_players(asked.players)
            source = asked.file
        shot = _shot_of(routine, asked)
        found = reach_of(routine, asked.shot, players)
        advice = None if asked.advice is None else _advice(routine, shot, asked.advice)
    except BaizewrightError as error:
        tell(source, error)
        return BAD_INPUT
    if asked.as_json:
        words = words_of(Wording(routine))
        data = reach_to_json(routine, found, players, words=words)
        if advice is not None:
            data["advice"] = advice_to_json(*advice, words)
        print(json_text({"file": asked.file, **data}))
    else:
        from designer.commands.reach_report import reach_report

        print(reach_report(asked.file, routine, found, advice))
    return 0


def _shot_of(routine: Routine, asked: ReachAsked) -> str:
    """The shot advice is asked for: the one named, or the only one."""
    if asked.shot:
        return routine.shot(asked.shot).id
    if asked.advice is None or len(routine.shots) == 1:
        return routine.shots[0].id if routine.shots else ""
    names = ", ".join(shot.id for shot in routine.shots) or "none in this routine"
    raise OutOfRangeError("--shot", "not given", f"the shot to advise on: {names}")


def _advice(routine: Routine, shot: str, asked: AdviceAsked) -> tuple[Wish, tuple[Advice, ...]]:
    from engine.advice import Wish, advise

    for ball in asked.movable:
        if routine.ball(ball).locked:
            raise OutOfRangeError(
                f"--move {ball}", "a locked ball", "a ball that may be moved", "Unlock it first."
            )
    wish = Wish(
        shot, asked.gap, asked.pace[0], asked.pace[1], asked.margin_mm, asked.apart_mm,
        asked.movable,
    )  # fmt: skip
    told = Told("Looking for the smallest moves", "%")
    found = advise(routine, wish, lambda share: told(min(99, round(100 * share)), 100))
    told(100, 100)
    return wish, found
