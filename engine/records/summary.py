"""Records brought together: success by day, in all, and how shots were missed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from engine.records.bands import CONFIDENCE, wilson
from engine.records.values import MISSES, Practice

#: Misses nobody said more of.
NOT_SAID = "not said"


@dataclass(frozen=True, slots=True)
class Share:
    """`made` of `attempts` with the interval of the share."""

    attempts: int
    made: int
    low: float
    high: float

    @property
    def share(self) -> float:
        """The share made."""
        return self.made / self.attempts


@dataclass(frozen=True, slots=True)
class DayShare:
    """The success of one day."""

    day: date
    result: Share


@dataclass(frozen=True, slots=True)
class Line:
    """One step of one routine: success by day and in all, and how it was missed.

    `misses` are counts by the kinds of `MISSES` and, last, those nobody said more of.
    """

    routine: str
    step: int
    days: tuple[DayShare, ...]
    total: Share
    misses: tuple[int, ...]


def share_of(made: int, attempts: int, confidence: float = CONFIDENCE) -> Share:
    """A share with its score interval."""
    return Share(attempts, made, *wilson(made, attempts, confidence))


def lines_of(practice: Iterable[Practice]) -> tuple[Line, ...]:
    """The practice of one player (or of several together), by routine and step."""
    parts: dict[tuple[str, int], list[Practice]] = defaultdict(list)
    for one in practice:
        parts[(one.routine, one.step)].append(one)
    order = sorted(parts, key=lambda key: (key[0].casefold(), key[1]))
    return tuple(_line(*key, parts[key]) for key in order)


def days_of(practice: Iterable[Practice]) -> tuple[DayShare, ...]:
    """Success by day, oldest first."""
    days: dict[date, list[Practice]] = defaultdict(list)
    for one in practice:
        days[one.day].append(one)
    return tuple(DayShare(day, _sum(days[day])) for day in sorted(days))


def _line(routine: str, step: int, practice: Sequence[Practice]) -> Line:
    counts = [sum(one.misses.get(kind, 0) for one in practice) for kind in MISSES]
    missed = sum(one.attempts - one.made for one in practice)
    return Line(routine, step, days_of(practice), _sum(practice), (*counts, missed - sum(counts)))


def _sum(practice: Sequence[Practice]) -> Share:
    return share_of(sum(one.made for one in practice), sum(one.attempts for one in practice))
