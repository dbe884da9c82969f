"""Near-duplicates are found whatever the order and mirrored; held against trying every pairing."""

import itertools
import math

import numpy as np
import pytest

from engine.library import Layout, alike, compared, families
from engine.library.facts import layout_of
from engine.routine.edits import set_title
from engine.routine.mirror import mirrored
from engine.tables import load_table
from tests.engine.library.generated_routines import generated, shifted

TABLE = load_table("snooker-12ft")


def by_every_pairing(one, other):
    """The least greatest distance over all pairings of balls of one kind, not mirrored."""
    best = math.inf
    for order in itertools.permutations(range(len(other.kinds))):
        if all(one.kinds[a] == other.kinds[b] for a, b in enumerate(order)):
            apart = max(
                math.dist(one.places_mm[a], other.places_mm[b]) for a, b in enumerate(order)
            )
            best = min(best, apart)
    return best


@pytest.mark.parametrize("seed", range(25))
def test_pairing_is_the_best_of_all(seed):
    random = np.random.default_rng(seed)
    count = int(random.integers(1, 6))
    kinds = tuple(random.choice(["red", "red", "blue"], count))
    layouts = [
        Layout(key, "t", 1778.0, 3569.0, tuple(random.permutation(kinds)),
               tuple(map(tuple, random.uniform(0, 1700, (count, 2)))))
        for key in (1, 2)
    ]  # fmt: skip
    found = compared(*layouts, mirrors=False)
    assert found.apart_mm == pytest.approx(by_every_pairing(*layouts))


@pytest.mark.parametrize("axis", ["", "long", "cross"])
def test_shifted_shuffled_and_mirrored_set_ups_are_found(axis):
    routines = [generated(number) for number in range(150)]
    copies = []
    for number in (3, 40, 77):
        made = shifted(routines[number], 8.0, number)
        copies.append(mirrored(made, TABLE, axis) if axis else made)
    layouts = [layout_of(one, key=key) for key, one in enumerate([*routines, *copies])]
    pairs = alike(layouts, 15.0)
    assert {(pair.one, pair.other) for pair in pairs} == {(3, 150), (40, 151), (77, 152)}
    assert {pair.mirrored for pair in pairs} == {axis}
    assert all(0.0 < pair.apart_mm <= 8.0 * math.sqrt(2.0) for pair in pairs)
    assert families(pairs) == [[3, 150], [40, 151], [77, 152]]
    plain = alike(layouts, 15.0, mirrors=False)
    assert len(plain) == (0 if axis else 3)


@pytest.mark.slow
def test_the_tree_leaves_out_nothing_that_comparing_all_finds():
    random = np.random.default_rng(5)
    layouts = [
        Layout(key, "t", 1778.0, 3569.0, ("cue", "red"),
               ((900.0 + x, 1800.0 + y), (700.0 + 2 * y, 1500.0 - x)))
        for key, (x, y) in enumerate(random.uniform(-60, 60, (60, 2)).tolist())
    ]  # fmt: skip
    wanted = {
        (a.key, b.key)
        for a, b in itertools.combinations(layouts, 2)
        if compared(a, b).apart_mm <= 30.0
    }
    assert {(pair.one, pair.other) for pair in alike(layouts, 30.0)} == wanted
    assert 20 < len(wanted) < 1770


def test_other_kinds_of_balls_are_never_alike():
    one = layout_of(generated(4), key=1)
    other = Layout(2, one.table, one.width_mm, one.length_mm,
                   ("black", *one.kinds[1:]), one.places_mm)  # fmt: skip
    assert compared(one, other) is None
    assert alike([one, other], 500.0) == []
    assert set_title(generated(4), "x").balls == generated(4).balls
