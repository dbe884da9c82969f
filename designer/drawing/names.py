"""Names as a reader knows them, never the ids of a file: of cushions and of gaps."""

from __future__ import annotations

import re
from collections.abc import Iterator

from designer.drawing.lettering import ball_words
from designer.texts import listed, mark, tr
from engine.results import RoutineAnswer
from engine.routine.values import Gap, Routine

_CUSHIONS = {
    "left": mark("left cushion"),
    "right": mark("right cushion"),
    "bottom": mark("bottom cushion"),
    "top": mark("top cushion"),
}


def cushion_name(cushion: str) -> str:
    """A cushion by its id: "left cushion"."""
    return tr(_CUSHIONS.get(cushion, cushion))


def gap_name(routine: Routine, gap: Gap) -> str:
    """Title of a gap, or what it lies between, or its number.

    >>> from engine.balls import Ball
    >>> reds = (Ball("a", "red", 500, 500), Ball("b", "red", 700, 500))
    >>> gap = Gap("gap-1", "ball-ball", ("a", "b"))
    >>> gap_name(Routine(balls=reds, gaps=(gap,)), gap)
    'red R1 and red R2'
    """
    if gap.title:
        return gap.title
    words = ball_words(routine)
    balls = [words.get(ball_id, ball_id) for ball_id in gap.balls]
    if gap.kind == "ball-ball" and len(balls) == 2:
        return listed(balls)
    if gap.kind == "ball-cushion" and balls:
        return listed([balls[0], cushion_name(gap.cushion)])
    if gap.kind == "cushion-stretch":
        return tr("stretch of {cushion}", cushion=cushion_name(gap.cushion))
    if gap.kind == "cannon" and balls:
        return tr("cannon on {ball}", ball=balls[0])
    # Areas of cloth and gaps taken in order have nothing to be named by.
    return tr("gap {number}", number=routine.gaps.index(gap) + 1 if gap in routine.gaps else 1)


def shot_name(routine: Routine, shot_id: str) -> str:
    """A shot by its title in quotes, or its number: "shot 2"."""
    shot = routine.shot(shot_id)
    if shot.title:
        return tr("shot “{title}”", title=shot.title)
    return tr("shot {number}", number=routine.shots.index(shot) + 1)


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
    balls = ball_words(routine)
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


def first_up(words: str) -> str:
    """With a capital, the rest as it was.

    >>> first_up("red R1")
    'Red R1'
    """
    return words[:1].upper() + words[1:]
