"""The order of routines with the least handling of balls between neighbours.

Up to twelve routines the least is found exactly, by dynamic programming over subsets (Held &
Karp, J. SIAM 10 (1962) 196; from memory); beyond, every routine is tried as the nearest-next
start, and stretches are turned round or moved (2-opt and Or-opt) until nothing gets better.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence

import numpy as np

from engine.errors import OutOfRangeError

EXACT_MOST = 12
#: The longest stretch that is moved elsewhere as it is.
STRETCH = 3
#: Told (starts done, in all); False asks to stop.
Progress = Callable[[int, int], bool | None]


def best_order(
    handled: np.ndarray,
    *,
    first: int | None = None,
    last: int | None = None,
    progress: Progress | None = None,
) -> tuple[int, ...]:
    """Indices in the order with the least sum of a symmetric (n, n) matrix along it.

    `first` and `last` fix the ends (a warm-up, a match). Of orders that are equal, the one
    nearest to the given is not promised. `OutOfRangeError` for ends that cannot be.

    >>> best_order(np.array([[0, 9, 1], [9, 0, 1], [1, 1, 0]]), first=0)
    (0, 2, 1)
    """
    count = len(handled)
    for what, end in (("first", first), ("last", last)):
        if end is not None and not 0 <= end < count:
            raise OutOfRangeError(f"{what} routine", end + 1, f"1 to {count}")
    if first is not None and first == last and count > 1:
        raise OutOfRangeError("first and last routine", "the same", "two routines")
    if count <= 1:
        return tuple(range(count))
    if count <= EXACT_MOST:
        return _exact(handled, first, last)
    return _heuristic(handled, first, last, progress)  # fmt: skip


def sum_along(handled: np.ndarray, order: Sequence[int]) -> int:
    """Balls handled between neighbours of an order."""
    return int(sum(handled[a, b] for a, b in itertools.pairwise(order)))


def _exact(handled: np.ndarray, first: int | None, last: int | None) -> tuple[int, ...]:
    """Least sums of all ways through a subset that end in each of its members."""
    count = len(handled)
    full = (1 << count) - 1
    far = int(handled.sum()) + 1
    least = np.full((1 << count, count), far)
    came = np.full((1 << count, count), -1)
    for start in range(count) if first is None else (first,):
        least[1 << start, start] = 0
    for subset in range(1, full + 1):
        for end in range(count):
            here = least[subset, end]
            if here >= far or not subset >> end & 1:
                continue
            for following in range(count):
                if subset >> following & 1:
                    continue
                wider = subset | 1 << following
                total = here + handled[end, following]
                if total < least[wider, following]:
                    least[wider, following], came[wider, following] = total, end
    end = int(least[full].argmin()) if last is None else last
    order, subset = [], full
    while end >= 0:
        order.append(end)
        subset, end = subset & ~(1 << end), int(came[subset, end])
    return tuple(reversed(order))


def _heuristic(
    handled: np.ndarray, first: int | None, last: int | None, progress: Progress | None
) -> tuple[int, ...]:
    count = len(handled)
    starts: list[tuple[int, ...]]
    if first is None:
        starts = [(start,) for start in range(count) if start != last]
    else:
        starts = [(first, second) for second in range(count) if second not in (first, last)]
    best: list[int] = []
    for done, start in enumerate(starts):
        if progress is not None and best and progress(done, len(starts)) is False:
            break
        order = _improved(handled, _nearest_next(handled, start, last), first, last)
        if not best or sum_along(handled, order) < sum_along(handled, best):
            best = order
    return tuple(best)


def _nearest_next(handled: np.ndarray, start: Sequence[int], last: int | None) -> list[int]:
    left = [one for one in range(len(handled)) if one not in start and one != last]
    order = list(start)
    while left:
        nearest = min(left, key=lambda one: (handled[order[-1], one], one))
        left.remove(nearest)
        order.append(nearest)
    return order if last is None else [*order, last]


def _improved(
    handled: np.ndarray, order: list[int], first: int | None, last: int | None
) -> list[int]:
    """The order with stretches turned and moved until no such change makes the sum less."""
    low = 0 if first is None else 1
    high = len(order) if last is None else len(order) - 1
    best, total = order, sum_along(handled, order)
    better = True
    while better:
        better = False
        for made in _neighbours(best, low, high):
            here = sum_along(handled, made)
            if here < total:
                best, total, better = made, here, True
                break
    return best


def _neighbours(order: list[int], low: int, high: int) -> Iterator[list[int]]:
    for start in range(low, high - 1):
        for end in range(start + 2, high + 1):
            yield order[:start] + order[start:end][::-1] + order[end:]
    for size in range(1, STRETCH + 1):
        for start in range(low, high - size + 1):
            stretch, rest = order[start : start + size], order[:start] + order[start + size :]
            for at in range(low, high - size + 1):
                if at != start:
                    yield rest[:at] + stretch + rest[at:]
                    yield rest[:at] + stretch[::-1] + rest[at:]
