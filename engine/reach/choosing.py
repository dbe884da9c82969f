"""The strike that forgives most: of all that thread, the one a player makes most often."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from engine.answers.values import Choice
from engine.players import PLAYERS, Player
from engine.reach.arriving import strike_word
from engine.reach.forgiveness import SCRAMBLINGS, chance, forgiveness, normal_errors
from engine.reach.mapping import ReachMap
from engine.reach.outcomes import outcomes
from engine.reach.scene import Scene

CANDIDATES = 24
#: Candidates lie more than this many lattice steps apart, along both axes together.
APART = 12
#: With this many threading cells, those of slivers among them are too few to matter.
MANY_CELLS = 2000
ROUGH_TRIES = 192
FINE_TRIES = 1024


@dataclass(frozen=True, slots=True)
class BestStrike:
    """The strike that forgives most, and its room to the nearer edge (mm)."""

    tip_height: float
    pace: float
    strike_name: str
    margin_mm: float


def best_strike(
    scene: Scene, found: ReachMap, players: tuple[Player, ...] = PLAYERS
) -> BestStrike | None:
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
    return BestStrike(tip, pace, strike_word(scene, tip, pace), float(margins[best]))


def best_choice(
    scene: Scene, found: ReachMap, players: tuple[Player, ...] = PLAYERS
) -> Choice | None:
    """The most forgiving strike of a map's windows with its chances, told for all of the players.

    None without windows.
    """
    strike = best_strike(scene, found, players)
    return None if strike is None else choice_of(scene, strike, players)


def choice_of(scene: Scene, strike: BestStrike, players: tuple[Player, ...] = PLAYERS) -> Choice:
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
    tips = [window.best_tip for window in found.windows]
    paces = [window.best_pace for window in found.windows]
    cells = np.argwhere(found.threads)
    if len(cells) < MANY_CELLS:
        cells = cells[_in_a_window(found, cells)]
    for i, j in _deepest(found, cells):
        tips.append(float(found.tip_heights[i]))
        paces.append(float(found.paces[j]))
    return np.array(tips), np.array(paces)


def _in_a_window(found: ReachMap, cells: np.ndarray) -> np.ndarray:
    """Which of the cells (n, 2) lie within the bounds of a window: not those of slivers."""
    tips, paces = found.tip_heights[cells[:, 0]], found.paces[cells[:, 1]]
    inside = np.zeros(len(cells), dtype=bool)
    for window in found.windows:
        inside |= (
            (window.tip_min <= tips)
            & (tips <= window.tip_max)
            & (window.pace_min <= paces)
            & (paces <= window.pace_max)
        )
    return inside


def _deepest(found: ReachMap, cells: np.ndarray) -> np.ndarray:
    """Some of the cells (n, 2), those farthest from any edge first but spread apart."""
    depth = _depth(found.threads)[cells[:, 0], cells[:, 1]]
    left = cells[np.argsort(-depth, kind="stable")]
    kept: list[np.ndarray] = []
    while len(left) and len(kept) < CANDIDATES:
        kept.append(left[0])
        left = left[np.abs(left - left[0]).sum(axis=1) > APART]
    return np.array(kept, dtype=int).reshape(-1, 2)


def _depth(cells: np.ndarray) -> np.ndarray:
    """Lattice steps from each threading cell to the nearest that does not (or the map's edge)."""
    depth = np.zeros(cells.shape, dtype=int)
    inner = cells.copy()
    while inner.any():
        depth += inner
        padded = np.pad(inner, 1)
        inner = inner & padded[:-2, 1:-1] & padded[2:, 1:-1] & padded[1:-1, :-2] & padded[1:-1, 2:]
    return depth


def _rough_chances(scene: Scene, tips: np.ndarray, paces: np.ndarray, player: Player) -> np.ndarray:
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
