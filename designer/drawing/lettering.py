"""What is printed on each ball: its letter, numbered where several balls share one."""

from __future__ import annotations

from collections import Counter

from designer.texts import mark, tr
from engine.routine.values import Routine

KIND_NAMES: dict[str, str] = {
    "cue": mark("cue ball"),
    "red": mark("red"),
    "yellow": mark("yellow"),
    "green": mark("green"),
    "brown": mark("brown"),
    "blue": mark("blue"),
    "pink": mark("pink"),
    "black": mark("black"),
    "plain": mark("plain ball"),
}


def printed_letters(routine: Routine) -> dict[str, str]:
    """Ball id to printed letter; balls that share a letter are numbered in their order.

    >>> from engine.balls import Ball
    >>> reds = (Ball("a", "red", 500, 500), Ball("b", "red", 700, 500), Ball("k", "black", 9, 9))
    >>> printed_letters(Routine(balls=reds))
    {'a': 'R1', 'b': 'R2', 'k': 'Bk'}
    """
    shared = Counter(ball.letter for ball in routine.balls)
    used: Counter[str] = Counter()
    letters = {}
    for ball in routine.balls:
        letter = ball.letter
        if letter and shared[letter] > 1:
            used[letter] += 1
            letter = f"{letter}{used[letter]}"
        letters[ball.id] = letter
    return letters


def shortened(text: str, most: int = 120) -> str:
    """A name short enough for its place, cut after a word if it can be.

    >>> shortened("Between the reds"), shortened("on and on and on", 12)
    ('Between the reds', 'on and on …')
    """
    if len(text) <= most:
        return text
    return (text[: most - 2].rsplit(" ", 1)[0] or text[: most - 2]).rstrip() + " …"


def ball_words(routine: Routine) -> dict[str, str]:
    """Ball id to what a coach calls it: the black, the cue ball, red R2, ball 7.

    >>> from engine.balls import Ball
    >>> ball_words(Routine(balls=(Ball("c", "cue", 1, 1), Ball("p", "plain", 9, 9, label="7"))))
    {'c': 'cue ball', 'p': 'ball 7'}
    """
    letters = printed_letters(routine)
    kinds = Counter(ball.kind for ball in routine.balls)
    words = {}
    for ball in routine.balls:
        if ball.kind == "plain":
            words[ball.id] = tr("ball {letter}", letter=letters[ball.id] or ball.id)
        else:
            name = tr(KIND_NAMES.get(ball.kind, ball.kind))
            alone = kinds[ball.kind] == 1 and not ball.label
            words[ball.id] = (
                name if alone else tr("{ball} {letter}", ball=name, letter=letters[ball.id])
            )
    return words
