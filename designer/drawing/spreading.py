"""Spread labels along a line: none overlaps, their order stays, and they move the least."""

from __future__ import annotations

import math
from collections.abc import Sequence


def spread(
    wanted: Sequence[float],
    sizes: Sequence[float],
    within: tuple[float, float] = (-math.inf, math.inf),
) -> list[float]:
    """Centres for labels of given sizes, as near as can be (least squares) to where wanted.

    The order of the wanted places is kept, ties in the order given; neighbours touch at most.
    All stay `within` its two ends when there is room, else about its middle.

    >>> spread([0.0, 0.0, 50.0], [10.0, 10.0, 10.0])
    [-5.0, 5.0, 50.0]
    >>> spread([0.0, 0.0, 50.0], [10.0, 10.0, 10.0], within=(0.0, 52.0))
    [5.0, 15.0, 47.0]
    """
    order = sorted(range(len(wanted)), key=lambda i: wanted[i])
    offsets: list[float] = []
    edge = 0.0
    for position, index in enumerate(order):
        if position:
            edge += (sizes[order[position - 1]] + sizes[index]) / 2.0
        offsets.append(edge)
    blocks: list[list[float]] = []
    for index, offset in zip(order, offsets, strict=True):
        blocks.append([wanted[index] - offset, 1.0])
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            mean, count = blocks.pop()
            before, number = blocks[-1]
            blocks[-1] = [(before * number + mean * count) / (number + count), number + count]
    lowest = within[0] + sizes[order[0]] / 2.0 if order else 0.0
    highest = within[1] - sizes[order[-1]] / 2.0 - offsets[-1] if order else 0.0
    if lowest > highest:
        lowest = highest = (lowest + highest) / 2.0
    levels = [min(max(mean, lowest), highest) for mean, count in blocks for _ in range(int(count))]
    places = [0.0] * len(wanted)
    for index, offset, level in zip(order, offsets, levels, strict=True):
        places[index] = level + offset
    return places
