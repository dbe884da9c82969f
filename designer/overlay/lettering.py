"""Room for labels in the picture: off the balls, off each other, and inside."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from designer.drawing.model import Disc, Text
from designer.drawing.placing import text_box
from designer.overlay.model import Label

Box = tuple[float, float, float, float]


def box_of(label: Label) -> Box:
    """The box in the picture that a label fills: x0, y0, x1, y1 px."""
    boxes = []
    for item in label.items:
        if isinstance(item, Text):
            boxes.append(text_box(item))
        elif isinstance(item, Disc):
            (x, y), r = item.centre, item.radius_mm + item.edge_mm / 2
            boxes.append((x - r, y - r, x + r, y + r))
        else:
            xs, ys = zip(*item.points, strict=True)
            boxes.append((min(xs), min(ys), max(xs), max(ys)))
    x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
    x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
    (ax, ay), (px, py), s = label.about_mm, label.at_px, label.scale
    return (px + (x0 - ax) * s, py - (y1 - ay) * s, px + (x1 - ax) * s, py - (y0 - ay) * s)


def placed(
    label: Label, taken: Sequence[Box], lines: np.ndarray, size_px: tuple[int, int]
) -> Label:
    """The label at the best free place near; where it was when there is none.

    Free means off the boxes taken and inside the picture; of free places the one that covers
    fewest of the points (n, 2) of lines, and then the nearest. A label that leads somewhere may
    also stand near that, and its line had better cross nothing taken.
    """
    start = label.at_px
    box = box_of(label)
    tried = [(dx, dy, 0.0) for dx, dy in _steps(box)]
    if label.leads_to_px is not None:
        ex, ey = label.leads_to_px[0] - start[0], label.leads_to_px[1] - start[1]
        tried += [(ex + dx, ey + dy, -0.25) for dx, dy in _steps(box, aside=True)]
    high = max(box[3] - box[1], 1.0)
    best: tuple[float, Label] | None = None
    for dx, dy, bonus in tried:
        moved = replace(label, at_px=(start[0] + dx, start[1] + dy))
        here = box_of(moved)
        inside = here[0] >= 0 and here[1] >= 0 and here[2] <= size_px[0] and here[3] <= size_px[1]
        if not inside or any(_meet(here, other) for other in taken):
            continue
        within = (lines > here[:2]).all(axis=1) & (lines < here[2:]).all(axis=1)
        target = label.leads_to_px or start
        far = math.dist(moved.at_px, target) / high
        score = min(0.1 * float(within.sum()), 1.0) + 0.3 * far + bonus
        if label.leads_to_px is not None:
            score += 0.8 * _crossed(moved.at_px, label.leads_to_px, taken)
        if best is None or score < best[0]:
            best = (score, moved)
    return label if best is None else best[1]


def _crossed(start: tuple[float, float], end: tuple[float, float], taken: Sequence[Box]) -> int:
    """How many of the boxes a line to what a label names would cross."""
    along = np.linspace(0.0, 0.97, 60)[:, None]
    line = np.asarray(start) + along * np.subtract(end, start)
    return sum(bool(((line > box[:2]) & (line < box[2:])).all(axis=1).any()) for box in taken)


def _steps(box: Box, aside: bool = False) -> Iterator[tuple[float, float]]:
    """Ways to move, shortest first; `aside` of a place, so that the box does not cover it."""
    if not aside:
        yield (0.0, 0.0)
    wide, high = box[2] - box[0], box[3] - box[1]
    clear = wide / 2 if aside else 0.0
    for far in (0.5, 0.8, 1.2, 1.7, 2.3, 3.0, 4.0, 5.2, 7.0):
        for turn in (90, -90, 45, 135, -45, -135, 0, 180):
            angle = math.radians(turn)
            across = math.cos(angle) * (far * high * 1.4 + clear)
            yield (across, math.sin(angle) * (far * high + (high / 2 if aside else 0.0)))


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
