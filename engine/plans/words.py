"""Words for a plan: what changes on the table, which balls are needed, how long it takes."""

from __future__ import annotations

from collections.abc import Sequence

from engine.plans.changing import Change


def change_words(change: Change, *, first: bool = False) -> str:
    """What is done to the balls before a routine.

    >>> change_words(Change((), (), (), 4))
    'as it stands'
    """
    if first:
        return f"set up {_balls(len(change.put_on))}" if change.put_on else "nothing to set up"
    parts = [
        f"{word} {len(balls)}"
        for word, balls in (
            ("move", change.moved),
            ("put on", change.put_on),
            ("take off", change.taken_off),
        )
        if balls
    ]
    return ", ".join(parts) if parts else "as it stands"


def balls_words(needed: Sequence[tuple[str, int]]) -> str:
    """The balls to bring: "cue ball, 3 reds, black".

    >>> balls_words((("cue", 1), ("red", 3), ("black", 1)))
    'cue ball, 3 reds, black'
    """
    told = []
    for kind, count in needed:
        if kind == "cue":
            told.append("cue ball")
        elif kind in ("red", "plain"):
            told.append(f"{count} {kind}{' ball' if kind == 'plain' else ''}{'s' * (count > 1)}")
        else:
            told.append(kind if count == 1 else f"{count} {kind}")
    return ", ".join(told) if told else "none"


def minutes_words(minutes: float) -> str:
    """How long, in minutes or hours.

    >>> minutes_words(45), minutes_words(90), minutes_words(60)
    ('45 min', '1 h 30 min', '1 h')
    """
    whole = round(minutes)
    if whole < 60:
        return f"{whole} min"
    return f"{whole // 60} h" + (f" {whole % 60} min" if whole % 60 else "")


def _balls(count: int) -> str:
    return f"{count} ball{'s' if count != 1 else ''}"
