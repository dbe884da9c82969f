"""One answer in words, whatever it is: what JSON's texts are made with."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from designer.words.advice import advice
from designer.words.claims import claim, found
from designer.words.facts import fact
from designer.words.gaps import verdict
from designer.words.wording import Wording
from engine.advice.values import Advice
from engine.results import ClaimResult, Fact, GapVerdict
from engine.routine.values import Claim

_TELLERS: dict[type, Callable[[Wording, Any], str]] = {
    Fact: fact,
    Claim: claim,
    ClaimResult: found,
    GapVerdict: verdict,
    Advice: advice,
}


def words_of(wording: Wording) -> Callable[[Any], str]:
    """What tells a fact, a claim, what was found of it, a verdict or an advice of a routine."""
    return lambda value: _TELLERS[type(value)](wording, value)
