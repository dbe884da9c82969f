"""Chances and their intervals against exact answers by scipy's quadrature.

First regions of normal errors whose chance is an integral one can write down; then real shots
with errors of one or two kinds, where the edges of success are found by bisection on played shots
and the normal density is integrated between them.
"""

import math

import numpy as np
import pytest
from scipy import integrate
from scipy.stats import norm

from engine.judging import outcomes
from engine.players import Player
from engine.playing import laid_out_of
from engine.reach import preview
from engine.reach.forgiveness import chance, largest_errors, sampled_chance
from engine.routine.values import Gap
from tests.engine.reach.scenes import FAR, NEAR, random_routine, routine
from tests.shares import FULL, share

TRIES, SEEDS = 1024, 40 if FULL else 12
#: Beyond so many standard errors nothing is looked for (two in a billion).
WIDE = 6.0


def density(x):
    return math.exp(-0.5 * x * x) / math.sqrt(2.0 * math.pi)


def between(low, high):
    """The chance of a standard normal error between two bounds."""
    low, high = max(low, -9.0), min(high, 9.0)
    return integrate.quad(density, low, high, epsabs=1e-12)[0] if high > low else 0.0


def disc(radius):
    return integrate.quad(lambda r: r * math.exp(-r * r / 2.0), 0.0, radius)[0]


def ball_of_four(radius):
    return integrate.quad(lambda r: 0.5 * r**3 * math.exp(-r * r / 2.0), 0.0, radius)[0]


def over(function, low=-9.0, high=9.0):
    """A chance that depends on the first error: the mean of `function` of it."""
    return integrate.quad(lambda x: density(x) * function(x), low, high, limit=200)[0]


# name: (kinds of error, what succeeds, the exact chance)
REGIONS = {
    "one bound": (1, lambda e: e[:, 0] < 0.7, between(-9, 0.7)),
    "strip off the middle": (1, lambda e: (e[:, 0] > -0.4) & (e[:, 0] < 1.1), between(-0.4, 1.1)),
    "two strips": (
        1,
        lambda e: (np.abs(e[:, 0]) > 0.3) & (np.abs(e[:, 0]) < 1.5),
        2.0 * between(0.3, 1.5),
    ),
    "box of four": (
        4,
        lambda e: np.all(np.abs(e) < [1.4, 0.9, 2.2, 1.7], axis=1),
        math.prod(between(-side, side) for side in (1.4, 0.9, 2.2, 1.7)),
    ),
    "disc": (2, lambda e: np.hypot(e[:, 0], e[:, 1]) < 1.2, disc(1.2)),
    "ball of four": (4, lambda e: (e * e).sum(axis=1) < 4.0, ball_of_four(2.0)),
    "slanting strip": (
        3,
        lambda e: np.abs(e @ [0.6, -0.8, 1.1] - 0.5) < 1.0,
        between(-0.5 / math.sqrt(2.21), 1.5 / math.sqrt(2.21)),
    ),
    "bay": (2, lambda e: e[:, 1] > e[:, 0] ** 2 - 1.0, over(lambda x: between(x * x - 1.0, 9.0))),
    "bent lane": (
        2,
        lambda e: np.abs(e[:, 1] - 0.5 * np.sin(2.0 * e[:, 0])) < 0.4,
        over(lambda x: between(0.5 * math.sin(2.0 * x) - 0.4, 0.5 * math.sin(2.0 * x) + 0.4)),
    ),
    "seldom": (2, lambda e: (e[:, 0] > 1.6) & (e[:, 1] > 0.8), between(1.6, 9) * between(0.8, 9)),
    "nearly always": (2, lambda e: np.hypot(e[:, 0], e[:, 1]) < 3.4, disc(3.4)),
}


@pytest.mark.parametrize("name", share(REGIONS, 6))
@pytest.mark.slow
def test_the_interval_covers_the_exact_chance_of_a_region(name):
    kinds, succeeds, exact = REGIONS[name]
    found = sampled_chance(succeeds, kinds, TRIES)
    assert found.low <= exact <= found.high
    assert found.low <= found.chance <= found.high
    # other seeds miss it no more often than one in twenty does by chance
    missed = sum(
        not one.low <= exact <= one.high
        for one in (sampled_chance(succeeds, kinds, TRIES, 1000 * seed) for seed in range(SEEDS))
    )
    assert missed <= (6 if FULL else 3)


@pytest.mark.parametrize("name", ["one bound", "box of four", "disc", "slanting strip", "bay"])
def test_the_interval_is_narrower_than_that_of_as_many_coin_tosses(name):
    kinds, succeeds, exact = REGIONS[name]
    found = sampled_chance(succeeds, kinds, TRIES)
    tosses = 2.0 * 1.96 * math.sqrt(exact * (1.0 - exact) / TRIES)
    assert 0.0 < found.high - found.low < tosses


def test_all_and_none_leave_the_interval_open():
    all_of_them = sampled_chance(lambda e: np.ones(len(e), dtype=bool), 2, TRIES)
    none_of_them = sampled_chance(lambda e: np.zeros(len(e), dtype=bool), 2, TRIES)
    assert (all_of_them.chance, all_of_them.high) == (1.0, 1.0)
    assert (none_of_them.chance, none_of_them.low) == (0.0, 0.0)
    # the "rule of three": 95 % sure of less than about 3.7 in as many tries (two-sided)
    assert 1.0 - all_of_them.low == none_of_them.high == pytest.approx(3.7 / TRIES, rel=0.02)


# Real shots ----------------------------------------------------------------------------------

RAIL = Gap("rail", "ball-cushion", ("r1",), "right")
PLANS = {"near": routine(NEAR), "rail": routine(RAIL), "g": random_routine(7)}


def played(scene, tip, pace, kind, errors):
    """Whether strikes with `errors` of one kind do it: degrees, over the radius, or mm/s of stroke.

    What the tip leaves of the stroke's speed goes with where it really meets the ball.
    """
    c, none = scene.conditions, np.zeros(len(errors))
    off = {one: errors if one == kind else none for one in FIELDS}
    stroke = np.clip(c.speed_mm_s(pace, 0.0) + off["pace"], *SCALE)
    meant = c.speed_mm_s(pace, tip)
    return outcomes(
        scene, tip, meant, aim_error_rad=np.radians(off["aim"]), tip_error=off["tip"],
        side=off["side"], margins=False,
        speed_error_mm_s=stroke * c.tip_share(tip + off["tip"], off["side"]) - meant,
    ).threads  # fmt: skip


def errors_of(kind, size, conditions, pace):
    """A player's standard error of a kind, stated for pace 4, at another pace, as `played` has it.

    Half of it is always there and half grows with the stroke's speed; one pace about pace 4 is
    half a metre a second.
    """
    grown = 0.5 + 0.5 * conditions.speed_mm_s(pace, 0.0) / 2000.0
    return size * grown * (500.0 if kind == "pace" else 1.0)


def stretches(does, steps=4001):
    """The stretches of error (in standard errors) that succeed, ends closed in on by bisection."""
    at = np.linspace(-WIDE, WIDE, steps)
    good = does(at)
    turns = np.nonzero(good[1:] != good[:-1])[0]
    low, high, left = at[turns], at[turns + 1], good[turns]
    for _ in range(30 if len(turns) else 0):
        middle = 0.5 * (low + high)
        same = does(middle) == left
        low, high = np.where(same, middle, low), np.where(same, high, middle)
    edges = [*([-WIDE] if good[0] else []), *low, *([WIDE] if good[-1] else [])]
    return list(zip(edges[::2], edges[1::2], strict=True))


def player(**errors):
    return Player(
        "tester", **{"aim_deg": 0.0, "tip_height": 0.0, "side": 0.0, "pace": 0.0} | errors
    )


FIELDS = {"aim": "aim_deg", "tip": "tip_height", "side": "side", "pace": "pace"}
#: The softest and the hardest stroke, mm/s.
SCALE = (500.0, 8000.0)
ONE_KIND = [
    ("near", 0.05, 4.0, "aim", 0.25),
    ("near", 0.05, 4.0, "tip", 0.15),
    ("near", 0.05, 4.0, "side", 0.12),
    ("near", 0.0, 3.0, "pace", 1.5),
    ("rail", None, None, "aim", 0.4),
    ("rail", None, None, "tip", 0.2),
    ("g", None, None, "aim", 0.3),
    ("g", None, None, "tip", 0.1),
    ("g", None, None, "pace", 1.0),
]


def strike_in(scene):
    """A strike that does it, as far inside a coarse map's windows as may be."""
    found = preview(scene, 41, 37)
    room = np.where(found.threads, np.nan_to_num(found.margin_mm), -np.inf)
    i, j = np.unravel_index(int(room.argmax()), room.shape)
    return float(found.tip_heights[i]), float(found.paces[j])


@pytest.mark.parametrize(("gap", "tip", "pace", "kind", "size"), share(ONE_KIND, 5))
@pytest.mark.slow
def test_the_interval_covers_the_exact_chance_of_a_shot(gap, tip, pace, kind, size):
    scene = laid_out_of(PLANS[gap], "s", (gap,))
    if tip is None:
        tip, pace = strike_in(scene)

    error = errors_of(kind, size, scene.conditions, pace)

    def does(errors):
        return played(scene, tip, pace, kind, error * errors)

    parts = stretches(does)
    exact = sum(between(low, high) for low, high in parts)
    assert 0.02 < exact < 0.999, "a case that tests nothing"
    found = chance(scene, tip, pace, player(**{FIELDS[kind]: size}), 2048)
    assert found.low <= exact <= found.high
    for way in (-1, 1):
        alone, scale = largest_errors(scene, tip, pace)[kind, way], math.inf
        if kind == "pace":
            stroke = scene.conditions.speed_mm_s
            alone = way * (stroke(pace + way * alone, 0.0) - stroke(pace, 0.0))
            scale = way * (SCALE[way > 0] - stroke(pace, 0.0))
        found = [(way * a, way * b) for a, b in parts]
        assert ends_a_stretch(alone / error, found, error, kind, scale / error)


#: How near the end of a stretch is found.
CLOSE = {"aim": 5e-4, "tip": 2e-3, "side": 2e-3, "pace": 1.0}
#: Failures on a stretch of error thinner than this may be overlooked.
THIN = {"aim": 0.01, "tip": 0.005, "side": 0.005, "pace": 25.0}


def ends_a_stretch(alone, parts, size, kind, scale):
    """Whether an error is where the stretch around the strike ends, but for thin failures.

    All in standard errors; the scale of paces ends at `scale`, and nothing is known beyond WIDE.
    """
    parts = sorted(tuple(sorted(part)) for part in parts)
    close, thin = CLOSE[kind] / size, THIN[kind] / size
    around = [k for k, (low, high) in enumerate(parts) if low <= 0.0 <= high]
    if not around:
        return alone == 0.0
    left = parts[around[0] :]
    for (_, high), (beyond, _) in zip(left, [*left[1:], (math.inf, math.inf)], strict=True):
        end = min(high, scale)
        if abs(alone - end) < close or (end >= WIDE - close and alone >= end):
            return True
        if beyond - high > thin:
            break
    return False


@pytest.mark.slow
def test_the_interval_covers_the_exact_chance_with_errors_of_two_kinds():
    scene = laid_out_of(PLANS["near"], "s", ("near",))
    tip, pace, aim, height = 0.05, 4.0, 0.25, 0.12
    speed = float(scene.conditions.speed_mm_s(pace, tip))
    # Simpson over the tip height; at each the aim's stretches, exactly
    heights = np.linspace(-WIDE, WIDE, 121)
    shares = []
    for error in heights:

        def does(errors, off=height * error):
            # the same stroke gives the ball another speed from another tip
            struck = float(scene.conditions.speed_mm_s(pace, tip + off))
            found = outcomes(
                scene, tip, speed, aim_error_rad=np.radians(aim * errors),
                tip_error=np.full(len(errors), off), speed_error_mm_s=struck - speed, margins=False,
            )  # fmt: skip
            return found.threads

        shares.append(sum(between(low, high) for low, high in stretches(does, 401)))
    exact = integrate.simpson(norm.pdf(heights) * np.array(shares), x=heights)
    assert 0.1 < exact < 0.95
    found = chance(scene, tip, pace, player(aim_deg=aim, tip_height=height), 4096)
    assert found.low <= exact <= found.high


def test_a_shot_that_cannot_be_done_has_no_chance():
    scene = laid_out_of(routine(FAR), "s", ("far",))
    found = chance(scene, 0.0, 2.0, player(aim_deg=0.1), 256)
    assert found.chance == 0.0 and found.high < 0.02
    assert not any(largest_errors(scene, 0.0, 2.0).values())


def test_the_same_seed_gives_the_same_chance():
    scene = laid_out_of(PLANS["near"], "s", ("near",))
    who = player(aim_deg=0.2, tip_height=0.05, side=0.03, pace=0.5)
    assert chance(scene, 0.05, 4.0, who, 512) == chance(scene, 0.05, 4.0, who, 512)
