"""The cue ball's face as the player sees it: where the tip meets it for each lane.

Millimetres on the ball, centre at the origin, y upwards. The ring is the miscue limit. On the
left, bars show from where to where the tip may be for each gap that can be reached.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from designer.drawing import look as ink
from designer.drawing import roles
from designer.drawing.look import SCREEN_LOOK, Look, lane_pattern
from designer.drawing.model import Arc, Disc, Drawing, Item, Stroke, Text
from designer.drawing.spreading import spread
from designer.texts import tr
from engine.results import GapVerdict, Lane
from engine.routine.context import conditions_of
from engine.routine.values import Routine
from engine.units import rounded

#: Graduations of the scale, over the radius.
_STEPS = (-0.5, -0.4, -0.3, -0.2, -0.1, 0.1, 0.2, 0.3, 0.4, 0.5)


@dataclass(frozen=True, slots=True)
class _Face:
    radius: float
    limit: float
    look: Look

    @property
    def size(self) -> float:
        return max(self.look.least_text_mm, self.look.text_mm * 0.9)

    def text(
        self, x: float, y: float, told: str, anchor: str = "start", bold: bool = False
    ) -> Text:
        return Text(roles.TIP, (x, y), told, self.size, ink.INK, anchor, bold)


def tip_drawing(
    routine: Routine,
    lanes: Sequence[Lane],
    verdicts: Sequence[GapVerdict] = (),
    look: Look = SCREEN_LOOK,
) -> Drawing:
    """The face with a mark for each lane; `verdicts` give the bars of gaps that are reachable.

    Labels: the lane's letter, then the tip's height above (+) or below (−) centre in mm.
    """
    conditions = conditions_of(routine)
    face = _Face(conditions.cue_radius_mm, conditions.tip_limit, look)
    items = _ball(face)
    items += _marks(face, lanes)
    bars, left = _bars(face, verdicts)
    items += bars
    r, size = face.radius, face.size
    wide = max((t.width_mm for t in items if isinstance(t, Text) and t.anchor == "start"),
               default=0.0)  # fmt: skip
    rows = len(lanes) * size * 1.25 / 2.0
    high = max(r * 1.08, rows)
    bounds = (left, -high - size * 0.3, r * 1.3 + wide + size * 0.3, high + size * 0.3)
    return Drawing(tuple(items), bounds, tr("Tip height"), _in_words(face, lanes))


def _in_words(face: _Face, lanes: Sequence[Lane]) -> str:
    told = "; ".join(
        tr("lane {lane} {height} mm", lane=lane.label, height=_height(face, lane)) for lane in lanes
    )
    return tr(
        "Where the tip meets the cue ball, above (+) or below (−) centre: {lanes}.",
        lanes=told or tr("no lanes"),
    )


def _height(face: _Face, lane: Lane) -> str:
    """Signed millimetres, as printed."""
    height = rounded(lane.tip_height * face.radius)
    return f"{height:+.0f}".replace("-", "−") if height else "0"


def _ball(face: _Face) -> list[Item]:
    pen, r = face.look.line_mm, face.radius
    ticks = tuple(((-r * 0.06, r * s), (r * 0.06, r * s)) for s in _STEPS)
    return [
        Disc(roles.BALL, (0.0, 0.0), r - pen / 2, ink.CHALK, edge_colour=ink.INK, edge_mm=pen),
        Arc(
            roles.TIP, (0.0, 0.0), r * face.limit, 0, 360, pen * 0.8, ink.SOFT_INK,
            dash=(pen * 3, pen * 2),
        ),
        Stroke(
            roles.TIP, (((0.0, -r), (0.0, r)), ((-r, 0.0), (r, 0.0))), pen * 0.5, ink.SOFT_INK,
            cap="butt",
        ),
        Stroke(roles.TIP, ticks, pen * 0.5, ink.SOFT_INK, cap="butt"),
    ]  # fmt: skip


def _marks(face: _Face, lanes: Sequence[Lane]) -> list[Item]:
    """A dot where each tip meets the ball, led to its label at the right."""
    pen, r, size = face.look.line_mm, face.radius, face.size
    wanted = [lane.tip_height * r for lane in lanes]
    # labels of equal heights keep the lanes' order from the top down
    levels = spread([-y for y in wanted], [size * 1.25] * len(lanes))
    items: list[Item] = []
    for index, (lane, level) in enumerate(zip(lanes, levels, strict=True)):
        colour = lane_pattern(index).colour
        at = (lane.side * r, lane.tip_height * r)
        line = (at, (r * 1.08, at[1]), (r * 1.25, -level))
        items.append(Stroke(roles.TIP, (line,), pen * 0.8, colour))
        items.append(
            Disc(roles.TIP, at, max(r * 0.07, pen * 2), colour, edge_colour=ink.INK, edge_mm=pen)
        )
        told = f"{lane.label} {_height(face, lane)}"
        items.append(face.text(r * 1.3, -level, told, bold=True))
    return items


def _bars(face: _Face, verdicts: Sequence[GapVerdict]) -> tuple[list[Item], float]:
    """A bar for each window of each reachable gap, numbered as the gaps are listed."""
    pen, r, size = face.look.line_mm, face.radius, face.size
    items: list[Item] = []
    x = -r * 1.12
    for number, verdict in enumerate(verdicts, start=1):
        if not verdict.reachable or not verdict.windows:
            continue
        x -= size * 0.35
        for window in verdict.windows:
            low, high = window.tip_min * r, window.tip_max * r
            ends = tuple(((x - pen * 2, y), (x + pen * 2, y)) for y in (low, high))
            items.append(
                Stroke(roles.TIP, (((x, low), (x, high)),), pen * 2.4, ink.INK, cap="butt")
            )
            items.append(Stroke(roles.TIP, ends, pen, ink.INK, cap="butt"))
        top = max(window.tip_max for window in verdict.windows) * r
        items.append(face.text(x, min(top, r * 0.9) + size * 0.7, str(number), "middle"))
        x -= size * 0.55
    return items, x - size * 0.3
