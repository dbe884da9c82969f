"""Windows: the connected regions of a map that thread, their edges closed in on.

The lattice leaves an edge unsure by one step; each extreme, and the roomiest try, is then looked
for on ever smaller boxes, those of all windows in one go.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from engine.reach.lattice import Lattice
from engine.reach.regions import Region, grow_box, regions
from engine.results import ReachWindow
from engine.results.gaps import FILLED

#: Boxes shrink to below this share of a lattice step (0.03 % of the radius, and 0.002 m/s), but
#: no more than so many are looked at; each has so many points a side.
LEAST_BOX, MOST_BOXES, ZOOM_POINTS = 0.2, 10, 5
#: Regions thinner than this many lattice steps on average (about 0.01 of the radius, or 0.1 of
#: pace) are slivers that nobody could play on purpose: counted, not offered.
LEAST_THICKNESS = 4.0

Worth = Callable[[np.ndarray, np.ndarray, np.ndarray, np.ndarray], np.ndarray]


def windows_of(lattice: Lattice, refined: bool) -> tuple[tuple[ReachWindow, ...], int]:
    """The windows of a filled lattice, largest first, and how many slivers were left out.

    Without `refined` the lattice is coarse: every region counts and edges stay on it.
    """
    found = regions(lattice.threads)
    playable = [one for one in found if not refined or thickness(one) >= LEAST_THICKNESS]
    if not playable:
        return (), len(found)
    playable.sort(key=lambda region: -len(region[0]))
    owner = _owners(lattice, found, playable)
    edges = _extremes(lattice, playable, owner, refined)
    rooms = _roomiest(lattice, playable, owner, edges if refined else None)
    windows = [
        _filled(lattice, region, ReachWindow(*edge.tolist(), *room.tolist()))
        for region, edge, room in zip(playable, edges, rooms, strict=True)
    ]
    return tuple(windows), len(found) - len(playable)


def _filled(lattice: Lattice, region: Region, window: ReachWindow) -> ReachWindow:
    """A window with how far its bounds are filled, and the box within them that is.

    The box grows from the deepest row of the region, a lattice step at a time on the side that
    keeps it fullest, for as long as it is filled to `FILLED`.
    """
    low = [int(part.min()) for part in region]
    shape = [int(part.max()) - least + 1 for part, least in zip(region, low, strict=True)]
    total = np.zeros((shape[0] + 1, shape[1] + 1))
    total[region[0] - low[0] + 1, region[1] - low[1] + 1] = 1.0
    for axis in (0, 1):
        np.cumsum(total, axis=axis, out=total)
    middle = len(region[0]) // 2
    i, j = int(region[0][middle]) - low[0], int(region[1][middle]) - low[1]
    box = np.array([i, i, j, j])
    grow_box(total, box, FILLED)
    tips, paces = lattice.tips, lattice.paces
    inside = (
        max(float(tips[low[0] + box[0]]), window.tip_min),
        min(float(tips[low[0] + box[1]]), window.tip_max),
        max(float(paces[low[1] + box[2]]), window.pace_min),
        min(float(paces[low[1] + box[3]]), window.pace_max),
    )
    return replace(window, filled_share=len(region[0]) / (shape[0] * shape[1]), box=inside)


def thickness(region: Region) -> float:
    """Mean thickness of a region in steps, across its longer way."""
    longest = max(int(part.max() - part.min()) + 1 for part in region)
    return len(region[0]) / longest


def _owners(lattice: Lattice, found: list[Region], playable: list[Region]) -> np.ndarray:
    """Whose each lattice point is: a playable region's index, −1 a sliver's, −2 nobody's."""
    owner = np.full(lattice.threads.shape, -2)
    for region in found:
        owner[region] = -1
    for number, region in enumerate(playable):
        owner[region] = number
    return owner


def _strange(
    lattice: Lattice, owner: np.ndarray, own: np.ndarray, tips: np.ndarray, paces: np.ndarray
) -> np.ndarray:
    """Whether tries (m, p) lie at another region's lattice points than their `own` (m,)."""
    step = _steps(lattice)
    i = np.rint((tips - lattice.tips[0]) / step[0]).astype(int)
    j = np.rint((paces - lattice.paces[0]) / step[1]).astype(int)
    whose = owner[i, j]
    return (whose != -2) & (whose != own[:, None])


def _steps(lattice: Lattice) -> np.ndarray:
    return np.array([part[1] - part[0] for part in (lattice.tips, lattice.paces)])


def _extremes(
    lattice: Lattice, playable: list[Region], owner: np.ndarray, refined: bool
) -> np.ndarray:
    """Least and greatest tip height and pace of each region, (k, 4)."""
    starts = [
        _farthest(region, axis, way) for region in playable for axis in (0, 1) for way in (-1, 1)
    ]
    place = np.array([[lattice.tips[i], lattice.paces[j]] for i, j in starts])
    axis = np.tile([0, 0, 1, 1], len(playable))
    way = np.tile([-1.0, 1.0], 2 * len(playable))
    own = np.repeat(np.arange(len(playable)), 4)
    row = np.arange(len(place))
    if refined:
        ends = np.array([part[[0, -1]] for part in (lattice.tips, lattice.paces)])
        at = place[row, axis]
        moving = (at > ends[axis, 0]) & (at < ends[axis, 1])
        # farther out than a step only spikes go on that are thinner than one
        most = at * way + _steps(lattice)[axis]

        def worth(
            tips: np.ndarray, paces: np.ndarray, asked: np.ndarray, best: np.ndarray
        ) -> np.ndarray:
            far = np.where(axis[moving, None] == 0, tips, paces) * way[moving, None]
            asked &= (best[:, None] < far) & (far <= most[moving, None])
            asked &= ~_strange(lattice, owner, own[moving], tips, paces)
            return _worth_of_threading(lattice, tips, paces, asked, far)

        _close_in(lattice, place, moving, 1.0, at[moving] * way[moving], worth)
    return place[row, axis].reshape(-1, 4)


def _farthest(region: Region, axis: int, way: int) -> tuple[int, int]:
    """Lattice indices of where a region goes farthest along an axis: the middle of that edge."""
    far = int(region[axis].max() if way > 0 else region[axis].min())
    line = np.sort(region[1 - axis][region[axis] == far])
    middle = int(line[len(line) // 2])
    return (far, middle) if axis == 0 else (middle, far)


def _roomiest(
    lattice: Lattice, playable: list[Region], owner: np.ndarray, edges: np.ndarray | None
) -> np.ndarray:
    """The try of each region with the most room: tip height, pace, room, (k, 3).

    With `edges` (k, 4) it is closed in on within them.
    """
    starts = []
    for rows, columns in playable:
        known = lattice.margin[rows, columns]
        most = int(np.nanargmax(known))
        starts.append((lattice.tips[rows[most]], lattice.paces[columns[most]], known[most]))
    place, best = np.array(starts)[:, :2], np.array(starts)[:, 2]
    if edges is not None:
        low, high = edges[:, [0, 2], None], edges[:, [1, 3], None]

        def worth(
            tips: np.ndarray, paces: np.ndarray, asked: np.ndarray, best: np.ndarray
        ) -> np.ndarray:
            asked &= ~_strange(lattice, owner, np.arange(len(playable)), tips, paces)
            asked &= (tips >= low[:, 0]) & (tips <= high[:, 0])
            asked &= (paces >= low[:, 1]) & (paces <= high[:, 1])
            return _worth_of_threading(lattice, tips, paces, asked)

        best = _close_in(lattice, place, np.full(len(place), True), 2.0, best, worth)
    return np.column_stack([place, best])


def _worth_of_threading(
    lattice: Lattice,
    tips: np.ndarray,
    paces: np.ndarray,
    asked: np.ndarray,
    worth: np.ndarray | None = None,
) -> np.ndarray:
    """The worth (without one the room) of those tries asked for that thread; −inf of others."""
    found = np.full(tips.shape, -np.inf)
    if not asked.any():
        return found
    reason, room, _ = lattice.attempt(tips[asked], paces[asked], False)
    found[asked] = np.where(reason == 0, room if worth is None else worth[asked], -np.inf)
    return found


def _close_in(
    lattice: Lattice, place: np.ndarray, moving: np.ndarray, steps: float, best: np.ndarray,
    worth: Worth,
) -> np.ndarray:  # fmt: skip
    """Move the places (k, 2) marked in `moving` to what is worth most in ever smaller boxes.

    `worth` takes tips, paces and which of them to try, (m, p), and the `best` (m,) of the m moving
    ones so far, which it may leave out what is no better than; the boxes begin at ± `steps`
    lattice steps. Returns the worth of the moving ones (m,).
    """
    share = np.linspace(-1.0, 1.0, ZOOM_POINTS)
    box = np.stack(np.meshgrid(share, share, indexing="ij"), axis=-1).reshape(-1, 2)
    on_rim = np.abs(box).max(axis=1) == 1.0
    step = _steps(lattice)
    low = np.array([lattice.tips[0], lattice.paces[0]])
    high = np.array([lattice.tips[-1], lattice.paces[-1]])
    size = np.full(len(best), steps)
    row = np.arange(len(best))
    fresh = np.tile(box.any(axis=1), (len(best), 1))
    for _ in range(MOST_BOXES if len(best) else 0):
        centre = place[moving]
        tries = np.clip(centre[:, None] + size[:, None, None] * step * box, low, high)
        found = worth(tries[..., 0], tries[..., 1], fresh, best)
        k = found.argmax(axis=1)
        better = found[row, k] > best
        best = np.where(better, found[row, k], best)
        place[moving] = np.where(better[:, None], tries[row, k], centre)
        # a box whose rim is best moves on; the others shrink
        shrinks = ~(better & on_rim[k])
        size = np.where(shrinks, size / 2.0, size)
        if (size < LEAST_BOX).all():
            break
        # where the next box's points lay in this one: those that were points of it are known
        was = np.where(shrinks, 0.5, 1.0)[:, None, None] * box
        was += np.where(better[:, None], box[k], 0.0)[:, None]
        known = (np.abs(was) <= 1.0) & (was / (share[1] - share[0]) % 1.0 == 0.0)
        cut = ((place[moving] <= low) | (place[moving] >= high)).any(axis=1)
        fresh = ~known.all(axis=2) | cut[:, None]
    return best
