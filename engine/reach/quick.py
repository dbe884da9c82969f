"""A quick look at a shot's gaps, for while a ball is being moved: reachable or not, and coarsely.

A coarse map is made of each gap. Where nothing of it threads, the neighbourhood of the nearest
miss is tried more closely, so that a window between the grid's lines is seldom overlooked. The
refined verdict of `engine.reach.verdicts` has the last word.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from engine.conditions.model import PACE_HIGHEST, PACE_LOWEST
from engine.errors import BaizewrightError
from engine.judging.outcomes import outcomes
from engine.playing import gaps_in_order
from engine.playing.laid_out import LaidOutShot, laid_out_of
from engine.reach.mapping import ReachMap, preview
from engine.results import Fact, GapVerdict
from engine.routine.values import Routine

#: Strikes each way on the closer look around the nearest miss.
CLOSER = 7


@dataclass(frozen=True, slots=True)
class QuickLook:
    """A gap's verdict at a quick look, the coarse map behind it (None: the pot is not on), and
    the scene it was taken of."""

    verdict: GapVerdict
    map: ReachMap | None
    scene: LaidOutShot


def quick_looks(
    routine: Routine, shot_id: str, gap_ids: Sequence[str] | None = None
) -> tuple[QuickLook, ...]:
    """A quick look at some gaps of one shot (all of the routine when none are named).

    Gaps that are not complete are left out. `UnknownNameError` when there is no such shot or gap.
    """
    shot = routine.shot(shot_id)
    names = [gap.id for gap in routine.gaps] if gap_ids is None else gap_ids
    found = []
    for name in names:
        try:
            scene = laid_out_of(routine, shot.id, gaps_in_order(routine, name))
            found.append(_look(scene, name))
        except BaizewrightError:
            continue
    return tuple(found)


def _look(scene: LaidOutShot, gap_id: str) -> QuickLook:
    width = scene.width_mm
    if scene.pot is not None and not scene.pot.on:
        limit = Fact("pot-off")
        verdict = GapVerdict(gap_id, scene.shot.id, False, width, (), None, limit, quick=True)
        return QuickLook(verdict, None, scene)
    found = preview(scene)
    reachable = bool(found.threads.any()) or _threads_nearby(scene, found)
    miss = None if reachable else found.nearest_miss_mm()
    return QuickLook(
        GapVerdict(gap_id, scene.shot.id, reachable, width, found.windows, miss, quick=True),
        found,
        scene,
    )


def _threads_nearby(scene: LaidOutShot, found: ReachMap) -> bool:
    """Whether a strike between the grid's lines threads, around the nearest miss."""
    nearest = found.nearest_miss()
    if nearest is None:
        return False
    i, j = nearest
    share = np.linspace(-1.0, 1.0, CLOSER)
    tips = found.tip_heights[i] + share * (found.tip_heights[1] - found.tip_heights[0])
    paces = found.paces[j] + share * (found.paces[1] - found.paces[0])
    tip, pace = (
        part.ravel()
        for part in np.meshgrid(
            np.clip(tips, found.tip_heights[0], found.tip_heights[-1]),
            np.clip(paces, PACE_LOWEST, PACE_HIGHEST),
        )
    )
    tried = outcomes(scene, tip, scene.conditions.speed_mm_s(pace, tip), margins=False)
    return bool(tried.threads.any())
