"""The strike that forgives most: of all that thread, the one a player makes most often."""

from __future__ import annotations

import math

import numpy as np

from engine.answers.values import Choice
from engine.players import PLAYERS, Player
from engine.reach.arriving import strike_word
from engine.reach.forgiveness import SCRAMBLINGS, chance, forgiveness, normal_errors
from engine.reach.mapping import ReachMap
from engine.reach.outcomes import outcomes
from engine.reach.scene import Scene

CANDIDATES = 24
ROUGH_TRIES = 192
FINE_TRIES = 1024


def best_choice(
    scene: Scene, found: ReachMap, players: tuple[Player, ...] = PLAYERS
) -> Choice | None:
    """The strike of a map's windows that the middle one of the players makes most often.

    Its chances are told for all of the players. None without windows.
    """
    player = players[len(players) // 2]
    tips, paces = _candidates(found)
    if not len(tips):
        return None
    shares = _rough_chances(scene, tips, paces, player)
    margins = outcomes(scene, tips, scene.conditions.speed_mm_s(paces)).margin_mm
    # chances that the few rough tries cannot tell apart are told apart by room
    top = float(shares.max())
    unsure = math.sqrt(max(top * (1.0 - top), 0.01) / ROUGH_TRIES)
    best = int(np.argmax(np.where(shares >= top - unsure, margins, -np.inf)))
    tip, pace = float(tips[best]), float(paces[best])
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
        strike_name=strike_word(scene, tip, pace),
        margin_mm=float(margins[best]),
        chances=tuple((name, one.chance, one.low, one.high) for name, one in chances),
        aim_deg=mine.aim_deg,
        tip_error=mine.tip_height,
        side_error=mine.side,
        pace_error=mine.pace,
    )


def _candidates(found: ReachMap) -> tuple[np.ndarray, np.ndarray]:
    """The roomiest strike of each window, and threading strikes spread over the windows."""
    tips = [window.best_tip for window in found.windows]
    paces = [window.best_pace for window in found.windows]
    at = np.argwhere(found.threads)
    inside = (
        [
            (i, j)
            for i, j in at
            if any(
                window.tip_min <= found.tip_heights[i] <= window.tip_max
                and window.pace_min <= found.paces[j] <= window.pace_max
                for window in found.windows
            )
        ]
        if len(at) < 2000
        else at.tolist()
    )
    inner = _deepest(found, inside)
    tips += [float(found.tip_heights[i]) for i, _ in inner]
    paces += [float(found.paces[j]) for _, j in inner]
    return np.array(tips), np.array(paces)


def _deepest(found: ReachMap, points: list) -> list[tuple[int, int]]:
    """Some of the points, those farthest from any edge first but spread apart."""
    if not points:
        return []
    depth = _depth(found.threads)
    order = sorted(points, key=lambda point: -depth[point[0], point[1]])
    kept: list[tuple[int, int]] = []
    for i, j in order:
        if all(abs(i - a) + abs(j - b) > 12 for a, b in kept):
            kept.append((int(i), int(j)))
            if len(kept) >= CANDIDATES:
                break
    return kept


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
