"""The strike that forgives most: of all that thread, the one a player makes most often."""

from __future__ import annotations

import math

import numpy as np

from engine.judging.outcomes import outcomes
from engine.players import PLAYERS, Player
from engine.playing.laid_out import LaidOutShot
from engine.reach.arriving import strike_word
from engine.reach.forgiveness import SCRAMBLINGS, chance, forgiveness, normal_errors
from engine.reach.mapping import ReachMap
from engine.results import Choice, TriedStrike

CANDIDATES = 24
#: Lattice steps, along and across together, by which candidates lie farther apart.
APART = 12
#: Of fewer threading lattice points than this, those outside the windows (slivers) are left out.
FEW = 2000
ROUGH_TRIES = 192
FINE_TRIES = 1024


def best_strike(
    scene: LaidOutShot, found: ReachMap, players: tuple[Player, ...] = PLAYERS
) -> TriedStrike | None:
    """The strike of a map's windows that the middle one of the players makes most often.

    None without windows.
    """
    tips, paces = _candidates(found)
    if not len(tips):
        return None
    shares = _rough_chances(scene, tips, paces, _middle(players))
    margins = outcomes(scene, tips, scene.conditions.speed_mm_s(paces)).margin_mm
    # chances that the few rough tries cannot tell apart are told apart by room
    top = float(shares.max())
    unsure = math.sqrt(max(top * (1.0 - top), 0.01) / ROUGH_TRIES)
    best = int(np.argmax(np.where(shares >= top - unsure, margins, -np.inf)))
    tip, pace = float(tips[best]), float(paces[best])
    return TriedStrike(tip, pace, strike_word(scene, tip, pace), float(margins[best]))


def best_choice(
    scene: LaidOutShot, found: ReachMap, players: tuple[Player, ...] = PLAYERS
) -> Choice | None:
    """The most forgiving strike of a map's windows with its chances, told for all of the players.

    None without windows.
    """
    strike = best_strike(scene, found, players)
    return None if strike is None else choice_of(scene, strike, players)


def choice_of(
    scene: LaidOutShot, strike: TriedStrike, players: tuple[Player, ...] = PLAYERS
) -> Choice:
    """A strike with its chances for all of the players, and what it forgives the middle one."""
    player, tip, pace = _middle(players), strike.tip_height, strike.pace
    mine = forgiveness(scene, tip, pace, player, FINE_TRIES)
    chances = [
        (
            one.name,
            mine.chance if one == player else chance(scene, tip, pace, one, FINE_TRIES),
        )
        for one in players
    ]
    return Choice(
        tip_height=tip,
        pace=pace,
        speed_m_s=float(scene.conditions.speed_mm_s(pace)) / 1000.0,
        strike_name=strike.strike_name,
        margin_mm=strike.margin_mm,
        chances=tuple((name, one.chance, one.low, one.high) for name, one in chances),
        aim_deg=mine.aim_deg,
        tip_error=mine.tip_height,
        side_error=mine.side,
        pace_error=mine.pace,
    )


def _middle(players: tuple[Player, ...]) -> Player:
    return players[len(players) // 2]


def _candidates(found: ReachMap) -> tuple[np.ndarray, np.ndarray]:
    """The roomiest strike of each window, and threading strikes spread over the windows."""
    depth = _depth(found.threads)
    if np.count_nonzero(depth) < FEW:
        depth[~_within_windows(found)] = 0
    inner = _deepest(depth)
    tips = np.concatenate([[one.best_tip for one in found.windows], found.tip_heights[inner[:, 0]]])
    paces = np.concatenate([[one.best_pace for one in found.windows], found.paces[inner[:, 1]]])
    return tips, paces


def _within_windows(found: ReachMap) -> np.ndarray:
    """Which lattice points lie within the bounds of some window, (n, m)."""
    tips, paces = found.tip_heights[:, None], found.paces
    within = np.zeros(found.threads.shape, dtype=bool)
    for one in found.windows:
        rows = (one.tip_min <= tips) & (tips <= one.tip_max)
        within |= rows & (one.pace_min <= paces) & (paces <= one.pace_max)
    return within


def _deepest(depth: np.ndarray) -> np.ndarray:
    """Some lattice points (k, 2), those of greatest depth first but spread apart.

    `depth` (n, m) is used up: what lies about a point that is taken becomes 0.
    """
    kept: list[tuple[int, int]] = []
    while len(kept) < CANDIDATES:
        i, j = divmod(int(np.argmax(depth)), depth.shape[1])
        if not depth[i, j]:
            break
        kept.append((i, j))
        top, left = max(i - APART, 0), max(j - APART, 0)
        about = depth[top : i + APART + 1, left : j + APART + 1]
        rows, columns = np.ogrid[: about.shape[0], : about.shape[1]]
        about[np.abs(rows + top - i) + np.abs(columns + left - j) <= APART] = 0
    return np.array(kept, dtype=int).reshape(-1, 2)


def _depth(cells: np.ndarray) -> np.ndarray:
    """Lattice steps from each threading cell to the nearest that does not (or the map's edge)."""
    steps = np.where(np.pad(cells, 1), np.int32(sum(cells.shape)), np.int32(0))
    for _ in range(2):  # along one axis, then along the other
        at = np.arange(len(steps), dtype=np.int32)[:, None]
        before = np.minimum.accumulate(steps - at) + at
        after = np.minimum.accumulate((steps + at)[::-1])[::-1] - at
        steps = np.minimum(before, after).T
    return np.ascontiguousarray(steps[1:-1, 1:-1])


def _rough_chances(
    scene: LaidOutShot, tips: np.ndarray, paces: np.ndarray, player: Player
) -> np.ndarray:
    """Success shares of several strikes under the same errors, in one batch (n,)."""
    errors = normal_errors(ROUGH_TRIES, 4, SCRAMBLINGS)
    speeds = scene.conditions.speed_mm_s
    tip = np.repeat(tips, ROUGH_TRIES)
    pace = np.repeat(paces, ROUGH_TRIES)
    every = np.tile(errors, (len(tips), 1))
    played = np.clip(pace + player.pace * every[:, 3], 1.0, 10.0)
    found = outcomes(
        scene,
        tip,
        speeds(pace),
        aim_error_rad=np.radians(player.aim_deg) * every[:, 0],
        tip_error=player.tip_height * every[:, 1],
        side=player.side * every[:, 2],
        speed_error_mm_s=np.asarray(speeds(played)) - np.asarray(speeds(pace)),
        margins=False,
    )
    return found.threads.reshape(len(tips), ROUGH_TRIES).mean(axis=1)
