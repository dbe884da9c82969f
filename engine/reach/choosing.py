"""The strike that forgives most: of those a hand can repeat, the one a player makes most often.

A hand repeats a tip height to a millimetre and a pace to a half: strikes are rounded so first and
tried then, well inside what threads. Where no such strike does, the answer is the middle of what
does, told as finer than a hand can repeat.
"""

from __future__ import annotations

import math

import numpy as np

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.judging import outcomes
from engine.judging.passes import judged
from engine.judging.rules import grade_of
from engine.judging.way import way_of
from engine.players import PLAYERS, Player
from engine.playing import LaidOutShot
from engine.playing.aiming import aim_of, play_strike
from engine.playing.plan import cushion_events
from engine.playing.straying import strays
from engine.reach.arriving import strike_word, struck
from engine.reach.forgiveness import SCRAMBLINGS, chance, forgiveness, normal_errors
from engine.reach.mapping import ReachMap
from engine.reach.regions import fill_depth
from engine.results import Choice, ReachWindow, TriedStrike

CANDIDATES = 24
#: Steps of a hand, along and across together, by which candidates lie farther apart.
APART = 2
#: What a hand repeats: millimetres of tip height, and steps of pace.
TIP_STEP_MM, PACE_STEP = 1.0, 0.5
#: Tries for each candidate, and with them for the few that did best.
FIRST_TRIES, ROUGH_TRIES, BEST_FEW = 32, 128, 5
#: Tries of the strike that is told: for the player it is chosen for, and for the others.
FINE_TRIES, OTHER_TRIES = 1024, 512


def best_strike(
    scene: LaidOutShot, found: ReachMap, players: tuple[Player, ...] = PLAYERS
) -> TriedStrike | None:
    """The strike of a map's windows that the middle one of the players makes most often.

    Among those as good as each other the gentlest. None without windows.
    """
    if not found.windows:
        return None
    tips, paces = _candidates(scene, found)
    finer = not len(tips)
    if finer:
        tips, paces = _middle_of_windows(found)
    player = _middle(players)
    hits = _hits(scene, tips, paces, player, slice(FIRST_TRIES))
    few = np.argsort(-hits, kind="stable")[:BEST_FEW]
    tips, paces = tips[few], paces[few]
    hits = hits[few] + _hits(scene, tips, paces, player, slice(FIRST_TRIES, ROUGH_TRIES))
    shares = hits / ROUGH_TRIES
    margins = outcomes(scene, tips, scene.conditions.speed_mm_s(paces, tips)).margin_mm
    # what the few rough tries cannot tell apart is near equal
    top = float(shares.max())
    unsure = math.sqrt(max(top * (1.0 - top), 0.01) / ROUGH_TRIES)
    near = np.nonzero(shares >= top - unsure)[0]
    best = min(near.tolist(), key=lambda k: (paces[k], -margins[k]))
    tip, pace = float(tips[best]), float(paces[best])
    within = _within(found, tip, pace) if finer else None
    return TriedStrike(tip, pace, strike_word(scene, tip, pace), float(margins[best]), within)


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
    others = {one: chance(scene, tip, pace, one, OTHER_TRIES) for one in players if one != player}
    told = [(one.name, others.get(one, mine.chance)) for one in players]
    cushions, by_jaw = _cushions_before(scene, tip, pace)
    return Choice(
        tip_height=tip,
        pace=pace,
        speed_m_s=float(scene.conditions.speed_mm_s(pace, tip)) / 1000.0,
        strike_name=strike.strike_name,
        margin_mm=strike.margin_mm,
        chances=tuple((name, one.chance, one.low, one.high) for name, one in told),
        aim_deg=mine.aim_deg,
        tip_error=mine.tip_height,
        side_error=mine.side,
        pace_error=mine.pace,
        player=player.name,
        grade=grade_of(mine.chance.chance),
        within=strike.within,
        after_cushions=cushions,
        by_jaw=by_jaw,
    )


def _middle(players: tuple[Player, ...]) -> Player:
    return players[len(players) // 2]


def _cushions_before(scene: LaidOutShot, tip: float, pace: float) -> tuple[int, bool]:
    """Over how many cushions a strike gets to the last gap, and whether a jaw is among them."""
    strike = struck(scene, tip, pace)
    trace = play_strike(scene, strike, aim_of(scene, strike))
    way = way_of(scene, "", trace)
    if len(way.path_mm) < 2:
        return 0, False
    done = judged(scene.table, scene.gaps, scene.balls, way).along_mm
    lengths = [float(np.hypot(*np.diff(leg, axis=0).T).sum()) for leg in way.legs]
    before = int(np.count_nonzero(np.cumsum(lengths)[:-1] < done - 1e-6))
    contact = next((e.t_s for e in trace.events if e.kind == "ball"), 0.0)
    met = cushion_events(trace, scene.cue_ball.id, contact if scene.object_ball else 0.0)
    return before, any(event.kind == "jaw" for event in met[:before])


def _candidates(scene: LaidOutShot, found: ReachMap) -> tuple[np.ndarray, np.ndarray]:
    """Strikes a hand can repeat that thread, those deepest inside what does, spread apart."""
    radius = scene.conditions.cue_radius_mm
    low, high = found.tip_heights[0] * radius, found.tip_heights[-1] * radius
    marks = np.arange(math.ceil(low / TIP_STEP_MM), math.floor(high / TIP_STEP_MM) + 1)
    tips = marks * TIP_STEP_MM / radius
    paces = np.arange(PACE_LOWEST, PACE_HIGHEST + 1e-9, PACE_STEP)
    i, j = np.ix_(_nearest(found.tip_heights, tips), _nearest(found.paces, paces))
    depth = np.where(_within_windows(found)[i, j], _depth(found.threads)[i, j], 0)
    at = np.nonzero(depth)
    tip, pace = tips[at[0]], paces[at[1]]
    does = outcomes(scene, tip, scene.conditions.speed_mm_s(pace, tip), margins=False)
    depth[at] = np.where(does.threads, depth[at], 0) if len(at[0]) else 0
    kept = _deepest(depth)
    return tips[kept[:, 0]], paces[kept[:, 1]]


def _nearest(steps: np.ndarray, values: np.ndarray) -> np.ndarray:
    """The index of the even step nearest to each value."""
    found = np.rint((values - steps[0]) / (steps[1] - steps[0])).astype(int)
    return np.clip(found, 0, len(steps) - 1)


def _middle_of_windows(found: ReachMap) -> tuple[np.ndarray, np.ndarray]:
    """The strike deepest inside each window."""
    depth, places = _depth(found.threads), []
    for one in found.windows:
        own = np.where(_within_windows(found, (one,)), depth, 0)
        i, j = divmod(int(np.argmax(own)), own.shape[1])
        inside = own[i, j] > 0
        places.append(
            (found.tip_heights[i], found.paces[j]) if inside else (one.best_tip, one.best_pace)
        )
    return np.array([at[0] for at in places]), np.array([at[1] for at in places])


def _within(found: ReachMap, tip: float, pace: float) -> tuple[float, float]:
    """How far tip and pace, each alone, may go from end to end about a strike that threads."""
    lines = (found.tip_heights, found.paces)
    i, j = (int(_nearest(line, np.array(at))) for line, at in zip(lines, (tip, pace), strict=True))
    widths = []
    for line, at, does in ((lines[0], i, found.threads[:, j]), (lines[1], j, found.threads[i])):
        low = at - int(np.argmin(np.append(does[at::-1], False))) + 1
        high = at + int(np.argmin(np.append(does[at:], False))) - 1
        widths.append(float(max(high - low, 0) * (line[1] - line[0])))
    return widths[0], widths[1]


def _within_windows(found: ReachMap, windows: tuple[ReachWindow, ...] | None = None) -> np.ndarray:
    """Which lattice points lie within the bounds of some window, (n, m)."""
    tips, paces = found.tip_heights[:, None], found.paces
    within = np.zeros(found.threads.shape, dtype=bool)
    for one in found.windows if windows is None else windows:
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
    depth = np.empty(cells.shape, dtype=np.int64)
    fill_depth(np.ascontiguousarray(cells), depth)
    return depth


def _hits(
    scene: LaidOutShot, tips: np.ndarray, paces: np.ndarray, player: Player, part: slice
) -> np.ndarray:
    """How often several strikes do it under the same part of the errors, in one batch (n,)."""
    errors = normal_errors(ROUGH_TRIES, 4, SCRAMBLINGS)[part]
    tip = np.repeat(tips, len(errors))
    pace = np.repeat(paces, len(errors))
    stray = strays(scene.conditions, player, tip, pace, np.tile(errors, (len(tips), 1)))
    found = outcomes(
        scene,
        tip,
        scene.conditions.speed_mm_s(pace, tip),
        aim_error_rad=stray.aim_rad,
        tip_error=stray.tip_height,
        side=stray.side,
        speed_error_mm_s=stray.speed_mm_s,
        margins=False,
    )
    return found.threads.reshape(len(tips), -1).sum(axis=1)
