"""A sentence of the engine's with names in place of the file's ids."""

from __future__ import annotations

import re
from collections.abc import Iterator

from designer.texts import from_engine, tr
from designer.words.figures import first_up
from designer.words.names import ball_names, gap_name, shot_name
from engine.results import RoutineAnswer
from engine.routine.values import Routine


def unplayable(routine: Routine, answer: RoutineAnswer) -> Iterator[tuple[str, str]]:
    """Every shot that cannot be played, as its coach calls it, and why."""
    shots = {shot.id for shot in routine.shots}
    for shot in answer.shots:
        if shot.shot in shots and shot.cannot_be_played:
            yield shot_name(routine, shot.shot), in_names(routine, shot.refusal).rstrip(".")


def in_names(routine: Routine, sentence: str) -> str:
    """A sentence of the engine's with names in place of the ids the file has for things.

    >>> from engine.balls import Ball
    >>> from engine.routine.values import Shot
    >>> reds = (Ball("red-1", "red", 500, 500), Ball("red-2", "red", 700, 500))
    >>> routine = Routine(balls=reds, shots=(Shot("shot-1"),))
    >>> in_names(routine, "Shot shot-1: clears ball red-2 by 34 mm; red-1 is near")
    'Shot 1: clears red R2 by 34 mm; red R1 is near'
    """
    balls = ball_names(routine)
    told = {f"shot {shot.id}": shot_name(routine, shot.id) for shot in routine.shots}
    for gap in routine.gaps:
        told[f"gap {gap.id}"] = tr("gap “{gap}”", gap=gap_name(routine, gap))
    told |= {f"ball {name}": words for name, words in balls.items()}
    # By itself an id is only taken for one where it can be no word of the sentence.
    told |= {name: words for name, words in balls.items() if not name.isalpha()}
    told |= {first_up(phrase): first_up(words) for phrase, words in told.items()}
    if not told:
        return sentence
    # The longest first, so that "ball red-1" is not taken for "red-1" alone.
    phrases = "|".join(map(re.escape, sorted(told, key=len, reverse=True)))
    return re.sub(rf"(?<![\w-])(?:{phrases})(?![\w-])", lambda m: told[m.group()], sentence)


def in_coachs_words(routine: Routine, sentence: str) -> str:
    """A sentence of the engine's as the coach reads it: names in place of the file's ids."""
    return from_engine(in_names(routine, sentence))
