"""The order proposed is the least there is, held against trying every order."""

import itertools

import numpy as np
import pytest

from engine.balls import Ball
from engine.errors import OutOfRangeError
from engine.plans import EXACT_MOST, balls_needed, best_order, change, handled, sum_along
from engine.plans.ordering import _heuristic
from engine.routine.values import Routine
from tests.engine.library.generated_routines import generated, shifted
from tests.shares import share


def matrix(random, count, most=9):
    half = np.triu(random.integers(0, most, (count, count)), 1)
    return half + half.T


def by_brute_force(costs, first=None, last=None):
    """The least sum over every order with these ends."""
    return min(
        sum_along(costs, order)
        for order in itertools.permutations(range(len(costs)))
        if (first is None or order[0] == first) and (last is None or order[-1] == last)
    )


@pytest.mark.parametrize("count", range(1, 9))
@pytest.mark.slow
def test_the_order_is_the_least_of_all_up_to_eight(count):
    random = np.random.default_rng(count)
    for _ in range(4 if count == 8 else 12):
        costs = matrix(random, count, int(random.integers(2, 30)))
        order = best_order(costs)
        assert sorted(order) == list(range(count))
        assert sum_along(costs, order) == by_brute_force(costs)


@pytest.mark.parametrize(("first", "last"), [(2, None), (None, 0), (5, 1)])
def test_fixed_ends_are_kept_and_the_rest_is_the_least(first, last):
    random = np.random.default_rng(7)
    for _ in range(6):
        costs = matrix(random, 7)
        order = best_order(costs, first=first, last=last)
        assert first is None or order[0] == first
        assert last is None or order[-1] == last
        assert sum_along(costs, order) == by_brute_force(costs, first, last)


def test_routines_as_they_are_generated():
    routines = [generated(number) for number in range(5)]
    routines += [shifted(generated(number), 0.2, number) for number in (1, 3)]
    costs = handled(routines)
    order = best_order(costs)
    assert sum_along(costs, order) == by_brute_force(costs)
    assert costs[1, 5] == costs[3, 6] == 0
    assert abs(order.index(1) - order.index(5)) == 1


@pytest.mark.parametrize(("first", "last"), share([(3, 8), (None, None), (3, None)], 2))
@pytest.mark.slow
def test_beyond_twelve_the_order_is_near_the_least(first, last):
    """Where both can be asked, the heuristic is held against the exact one."""
    random = np.random.default_rng(11)
    over = []
    for _ in range(12):
        costs = matrix(random, EXACT_MOST - 1, 12)
        found = _heuristic(costs, first, last, None)
        assert sorted(found) == list(range(len(costs)))
        assert first is None or found[0] == first
        assert last is None or found[-1] == last
        least = sum_along(costs, best_order(costs, first=first, last=last))
        over.append(sum_along(costs, found) - least)
    assert min(over) >= 0
    assert np.mean(over) <= 1.0, over


@pytest.mark.slow
def test_many_routines_are_put_in_order_and_can_be_stopped():
    costs = matrix(np.random.default_rng(2), 25)
    order = best_order(costs)
    assert sorted(order) == list(range(25))
    assert sum_along(costs, order) < sum_along(costs, range(25)) / 2
    stopped = best_order(costs, progress=lambda done, wanted: done < 2)
    assert sorted(stopped) == list(range(25))


@pytest.mark.parametrize(("first", "last"), [(9, None), (None, -1), (1, 1)])
def test_ends_that_cannot_be_are_refused(first, last):
    with pytest.raises(OutOfRangeError):
        best_order(matrix(np.random.default_rng(1), 4), first=first, last=last)


def balls(*given):
    return Routine(balls=tuple(Ball(f"b{at}", *one) for at, one in enumerate(given)))


@pytest.mark.parametrize(
    ("before", "after", "counts"),
    [
        (balls(("cue", 100, 100)), balls(("cue", 100, 100)), (0, 0, 0, 1)),
        (balls(("cue", 100, 100)), balls(("cue", 100.8, 100)), (0, 0, 0, 1)),
        (balls(("cue", 100, 100)), balls(("cue", 102, 100)), (1, 0, 0, 0)),
        (balls(("red", 1, 1), ("red", 500, 500)), balls(("red", 500, 500), ("red", 1, 1)),
         (0, 0, 0, 2)),
        (balls(("red", 1, 1)), balls(("pink", 1, 1)), (0, 1, 1, 0)),
        (balls(("red", 1, 1)), balls(("red", 1, 1, "7")), (0, 1, 1, 0)),
        (balls(("red", 1, 1), ("blue", 9, 9)), balls(("red", 70, 1)), (1, 0, 1, 0)),
        (balls(), balls(("red", 70, 1), ("cue", 9, 9)), (0, 2, 0, 0)),
        # each of two places could be either ball's: both stay when paired off well
        (balls(("red", 0, 0), ("red", 0.9, 0)), balls(("red", 0.9, 0), ("red", 1.8, 0)),
         (0, 0, 0, 2)),
    ],
)  # fmt: skip
def test_what_changes_on_the_table_is_counted_in_balls(before, after, counts):
    found = change(before, after)
    assert (len(found.moved), len(found.put_on), len(found.taken_off), found.stay) == counts
    assert found.handled == sum(counts[:3]) == change(after, before).handled


def test_balls_needed_are_the_most_of_each_kind():
    one = balls(("cue", 1, 1), ("red", 9, 9), ("red", 99, 99))
    two = balls(("cue", 1, 1), ("black", 9, 9))
    assert balls_needed([one, two]) == (("cue", 1), ("red", 2), ("black", 1))
