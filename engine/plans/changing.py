"""What changes on the table from one set-up to the next, counted in balls handled.

A ball stays when one of its kind (and print) stands within `SAME_MM` of where one is wanted; balls
of one kind stand in for one another. Every other ball is moved, taken off or put on, each by one
handling. Balls that a shot has moved have to be set again for every attempt anyway; they are
not counted: set-up is held against set-up.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.balls import Ball
from engine.routine.values import Routine

#: Nearer than this, a ball need not be moved: nobody sets it closer by tape.
SAME_MM = 1.0
Kind = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Change:
    """Balls handled from one set-up to the next.

    `moved` are balls of the second set-up that come from elsewhere on the table, `put_on` those
    that come onto it; `taken_off` are balls of the first. `stay` counts those left alone.
    """

    moved: tuple[Ball, ...]
    put_on: tuple[Ball, ...]
    taken_off: tuple[Ball, ...]
    stay: int

    @property
    def handled(self) -> int:
        """How many balls have to be taken in hand."""
        return len(self.moved) + len(self.put_on) + len(self.taken_off)


def change(before: Routine, after: Routine) -> Change:
    """The least handling from one set-up to the next.

    >>> change(Routine(), Routine(balls=(Ball("cue", "cue", 900, 900),))).handled
    1
    """
    moved: list[Ball] = []
    put_on: list[Ball] = []
    taken_off: list[Ball] = []
    stay = 0
    here, there = _by_kind(before), _by_kind(after)
    for kind in here | there:
        old, new = here.get(kind, []), there.get(kind, [])
        pairs = _standing(old, new)
        stay += len(pairs)
        left = [ball for at, ball in enumerate(old) if at not in {one for one, _ in pairs}]
        wanted = [ball for at, ball in enumerate(new) if at not in {two for _, two in pairs}]
        count = min(len(left), len(wanted))
        moved += wanted[:count]
        put_on += wanted[count:]
        taken_off += left[count:]
    return Change(tuple(moved), tuple(put_on), tuple(taken_off), stay)


def handled(routines: Sequence[Routine]) -> np.ndarray:
    """Balls handled between every two set-ups, a symmetric (n, n) matrix of whole numbers."""
    count = len(routines)
    found = np.zeros((count, count), dtype=int)
    for one in range(count):
        for other in range(one):
            found[one, other] = found[other, one] = change(routines[one], routines[other]).handled
    return found


def balls_needed(routines: Sequence[Routine]) -> tuple[tuple[str, int], ...]:
    """Kinds of balls and how many of each the routines need at most at once."""
    most: Counter[str] = Counter()
    for routine in routines:
        most |= Counter(ball.kind for ball in routine.balls)
    from engine.balls import KINDS

    return tuple((kind, most[kind]) for kind in KINDS if most[kind])


def _by_kind(routine: Routine) -> dict[Kind, list[Ball]]:
    found: dict[Kind, list[Ball]] = defaultdict(list)
    for ball in routine.balls:
        found[(ball.kind, ball.label)].append(ball)
    return dict(found)


def _standing(old: Sequence[Ball], new: Sequence[Ball]) -> list[tuple[int, int]]:
    """As many pairs as can be of balls that stand in the same place."""
    if not old or not new:
        return []
    near = np.array(
        [[math.dist(a.centre_mm, b.centre_mm) <= SAME_MM for b in new] for a in old], dtype=float
    )
    if not near.any():
        return []
    if near.sum(axis=0).max() <= 1.0 and near.sum(axis=1).max() <= 1.0:
        return [(int(a), int(b)) for a, b in zip(*np.nonzero(near), strict=True)]
    from scipy.optimize import linear_sum_assignment

    rows, columns = linear_sum_assignment(-near)
    return [(int(a), int(b)) for a, b in zip(rows, columns, strict=True) if near[a, b]]
