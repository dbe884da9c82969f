"""How much error a shot forgives: its chance for a player, and the largest error of each kind.

The chance is the share of a player's strikes that still do it, from quasi-random normal errors
(scrambled Halton points, seeded). Its interval comes from independent scramblings of the same
points, by Student's t (two-sided 95 %), never narrower than the exact binomial bound for a run
of nothing but hits or misses.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import lru_cache
from statistics import NormalDist

import numpy as np

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.judging.outcomes import outcomes
from engine.players import Player
from engine.playing.laid_out import LaidOutShot
from engine.playing.straying import strays
from engine.results import Chance, Forgiveness

SEED = 20_260_101
SCRAMBLINGS = 16
#: Two-sided 95 % point of Student's t with SCRAMBLINGS − 1 = 15 degrees of freedom (tables).
T_95 = 2.131
PRIMES = (2, 3, 5, 7)
#: Errors beyond these are not looked for.
MOST_AIM_DEG, MOST_TIP, MOST_SIDE, MOST_PACE = 5.0, 1.0, 0.5, 9.0
MOST = {"aim": MOST_AIM_DEG, "tip": MOST_TIP, "side": MOST_SIDE, "pace": MOST_PACE}
#: Shares of the largest error at which it is looked for, even first and then ever wider, and then,
#: three times over, those of the step that fails.
WIDENING = np.concatenate([np.linspace(0.0, 0.25**2, 33)[:-1], np.linspace(0.25, 1.0, 193) ** 2])
EVEN, TIMES = np.linspace(0.0, 1.0, 11), 3
#: So many of the steps are tried first.
SPARSE = 21
KINDS = ("aim", "tip", "side", "pace")


def forgiveness(
    scene: LaidOutShot, tip_height: float, pace: float, player: Player, tries: int = 2048
) -> Forgiveness:
    """What one strike of a scene forgives, for a player."""
    most = largest_errors(scene, tip_height, pace)
    return Forgiveness(
        chance(scene, tip_height, pace, player, tries),
        *((most[kind, -1], most[kind, +1]) for kind in KINDS),
    )


def chance(
    scene: LaidOutShot,
    tip_height: float,
    pace: float,
    player: Player,
    tries: int = 2048,
    seed: int = SEED,
) -> Chance:
    """The chance that a player's strike does what the scene asks, under the errors of a seed.

    >>> normal_errors(8, 2, 0).shape
    (8, 2)
    """

    def succeeds(errors: np.ndarray) -> np.ndarray:
        stray = strays(scene.conditions, player, tip_height, pace, errors)
        return outcomes(
            scene,
            tip_height,
            scene.conditions.speed_mm_s(pace, tip_height),
            aim_error_rad=stray.aim_rad,
            tip_error=stray.tip_height,
            side=stray.side,
            speed_error_mm_s=stray.speed_mm_s,
            margins=False,
        ).threads

    return sampled_chance(succeeds, 4, tries, seed)


def sampled_chance(
    succeeds: Callable[[np.ndarray], np.ndarray], kinds: int, tries: int, seed: int = SEED
) -> Chance:
    """Chance of success under standard normal errors of `kinds` independent kinds.

    `succeeds` takes errors (n, kinds) and gives (n,) booleans. The tries are shared out over
    independent scramblings, whose spread gives the interval.
    """
    each = max(8, tries // SCRAMBLINGS)
    errors = np.concatenate([normal_errors(each, kinds, seed + one) for one in range(SCRAMBLINGS)])
    hits = np.asarray(succeeds(errors), dtype=float).reshape(SCRAMBLINGS, each)
    shares = hits.mean(axis=1)
    mean = float(shares.mean())
    spread = T_95 * float(shares.std(ddof=1)) / math.sqrt(SCRAMBLINGS)
    # all hits or all misses still leave the exact one-sided binomial bound of 2.5 % open
    unseen = 1.0 - 0.025 ** (1.0 / hits.size)
    low = 0.0 if mean == 0.0 else max(0.0, mean - max(spread, unseen))
    high = 1.0 if mean == 1.0 else min(1.0, mean + max(spread, unseen))
    return Chance(mean, low, high, hits.size)


@lru_cache(maxsize=4 * SCRAMBLINGS)
def normal_errors(count: int, kinds: int, seed: int) -> np.ndarray:
    """Quasi-random standard normal errors (count, kinds): Halton points, digits scrambled.

    Kept and read only: every strike of every player is tried under the same few sets of errors.
    """
    random = np.random.default_rng(seed)
    uniform = np.column_stack([_halton(count, base, random) for base in PRIMES[:kinds]])
    errors = _normal_inverse(uniform).astype(float)
    errors.flags.writeable = False
    return errors


def _halton(count: int, base: int, random: np.random.Generator) -> np.ndarray:
    """`count` points of the van der Corput sequence in a base, with random digit permutations."""
    digits = math.ceil(54 / math.log2(base))
    index = np.arange(count)
    points = np.zeros(count)
    scale = 1.0 / base
    for _ in range(digits):
        points += random.permutation(base)[index % base] * scale
        index = index // base
        scale /= base
    return np.clip(points + random.random() * scale, 1e-12, 1.0 - 1e-12)


_normal_inverse = np.frompyfunc(NormalDist().inv_cdf, 1, 1)


def largest_errors(
    scene: LaidOutShot, tip_height: float, pace: float
) -> dict[tuple[str, int], float]:
    """The largest error of each kind, either way, up to which the shot still does it every time.

    By kind ("aim" in degrees, "tip" and "side" over the radius, "pace") and way (−1, +1). Found by
    steps that widen away from the strike and closing in on the first that fails, all of them
    together. Failures on a stretch thinner than a step may be overlooked; at a tenth of the radius
    a step is some 0.003 of it.
    """
    limit = scene.conditions.tip_limit
    side = min(MOST_SIDE, math.sqrt(max(limit * limit - tip_height * tip_height, 0.0)))
    asked = [(kind, way) for kind in KINDS for way in (-1, 1)]
    most = {
        "aim": (MOST_AIM_DEG, MOST_AIM_DEG),
        "tip": (limit + tip_height, limit - tip_height),
        "side": (side, side),
        "pace": (pace - PACE_LOWEST, PACE_HIGHEST - pace),
    }
    end = np.maximum([most[kind][way > 0] for kind, way in asked], 0.0)
    # as wide as stated, however near the end is; what lies beyond it is the end again
    widest = np.array([MOST[kind] for kind, _ in asked])
    steps, row = np.minimum(widest[:, None] * WIDENING, end[:, None]), np.arange(len(asked))
    for again in range(TIMES + 1):
        first = _first_failing(scene, tip_height, pace, asked, steps, again > 0)
        count = steps.shape[1]
        high = steps[row, np.minimum(first, count - 1)]
        # nothing fails as far as is looked: all of it; the strike itself fails: none of it
        low = np.where(first == count, high, steps[row, np.maximum(first - 1, 0)])
        steps = low[:, None] + (high - low)[:, None] * EVEN
    return dict(zip(asked, low.tolist(), strict=True))


def _first_failing(
    scene: LaidOutShot, tip: float, pace: float, asked: list[tuple[str, int]], steps: np.ndarray,
    between: bool,
) -> np.ndarray:  # fmt: skip
    """Which of the rising steps (k, n) of each error asked fails first, (k,); n: none.

    `between`: the first is known to do it and the last to fail, unless they are the same.
    """
    count = steps.shape[1]
    first = np.where(steps[:, -1] > 0.0, count, 0)
    kind_of = np.array([KINDS.index(kind) for kind, _ in asked])
    way_of = np.array([float(way) for _, way in asked])
    number = np.arange(count)
    fails, tried = np.zeros(steps.shape, bool), np.zeros(steps.shape, bool)
    # none is tried twice
    tried[:, 1:] = steps[:, 1:] == steps[:, :-1]
    if between:
        tried[:, 0] = tried[:, -1] = True
        fails[:, -1] = steps[:, -1] > steps[:, 0]
    # a few first: what lies beyond one that fails need not be tried
    for some in (number % max(1, count // SPARSE) == 0, number >= 0):
        now = some & (number < first[:, None]) & ~tried
        row, _ = np.nonzero(now)
        if not len(row):
            continue
        error = steps[now] * way_of[row]
        off = {kind: np.where(kind_of[row] == k, error, 0.0) for k, kind in enumerate(KINDS)}
        fails[now] = ~_with_errors(scene, tip, pace, off)
        tried |= now
        first = np.where(fails.any(axis=1), fails.argmax(axis=1), first)
    return first


def _with_errors(
    scene: LaidOutShot, tip: float, pace: float, off: dict[str, np.ndarray]
) -> np.ndarray:
    """Whether a strike still does it with errors of all kinds, each (n,)."""
    speeds = scene.conditions.speed_mm_s
    meant = speeds(pace, tip)
    stroke = np.clip(pace + off["pace"], PACE_LOWEST, PACE_HIGHEST)
    played = speeds(stroke, tip + off["tip"], off["side"])
    return outcomes(
        scene, tip, meant, aim_error_rad=np.radians(off["aim"]), tip_error=off["tip"],
        side=off["side"], speed_error_mm_s=played - meant, margins=False,
    ).threads  # fmt: skip
