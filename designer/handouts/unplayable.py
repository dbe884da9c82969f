"""Shots that cannot be played: what a player's sheets say of them."""

from __future__ import annotations

from designer.texts import mark
from engine.results import ShotAnswer

#: On a player's sheet, without a reason: that is the coach's to give.
ASK_YOUR_COACH = mark("This shot cannot be played as it is set here: ask your coach.")


def cannot_be_played(answer: ShotAnswer | None) -> bool:
    """Whether there is nothing to play, as far as is known."""
    return answer is None or answer.cannot_be_played
