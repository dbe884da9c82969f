"""Whether marks can belong to one picture of a table, before anything is worked out from them.

Seen from above through any lens, three places of the table that are not on a line keep the sense
in which they go round: so every three marks tell whether they were mirrored or exchanged.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from engine.errors import OutOfRangeError
from engine.photo.places import nose_height_mm, place_of
from engine.photo.values import Mark, MarkPlace, PhotoMarks
from engine.tables import Table

LEAST_MARKS = 4
#: Three marks nearer to one line than this are left out of account, px.
_FLAT_PX = 6.0
#: Marks may lie outside the picture by this share of its size: a corner may just be cut off.
_OUTSIDE = 0.25


def check_marks(table: Table, photo: PhotoMarks) -> list[tuple[Mark, MarkPlace]]:
    """The marks with their places, in the order given, when a camera can be found from them.

    `UnknownNameError` for a place the table has not; `OutOfRangeError` for a picture without
    size, fewer than 4 marks, a place marked twice, a mark far outside the picture, marks on one
    line, a mirrored order, or marks that were exchanged.
    """
    _check_size(photo)
    pairs = [(mark, place_of(table, mark)) for mark in photo.marks]
    if len(pairs) < LEAST_MARKS:
        raise OutOfRangeError(
            "the number of marks", len(pairs), f"at least {LEAST_MARKS}",
            "Mark more places of the table, spread over as much of it as can be seen.",
        )  # fmt: skip
    _check_each(photo, pairs)
    threes = _Threes(table, pairs)
    if not threes.hold_four:
        raise OutOfRangeError(
            "the lie of the marks", f"too nearly along one line ({_titles(pairs)})",
            f"{LEAST_MARKS} marks of which no three lie on a line",
            "Mark a corner or a middle pocket on each side of the table as well.",
        )  # fmt: skip
    _check_order(threes, pairs)
    return pairs


class _Threes:
    """Every three of the marks that are well off a line, on the table and in the picture."""

    def __init__(self, table: Table, pairs: Sequence[tuple[Mark, MarkPlace]]) -> None:
        self.places = np.array([(place.x_mm, place.y_mm) for _, place in pairs])
        self.pixels = np.array([mark.at_px for mark, _ in pairs])
        self.flat_mm = max(0.1 * table.width_mm, 4.0 * nose_height_mm(table))
        self.all = np.array(list(combinations(range(len(pairs)), 3)))

    @property
    def hold_four(self) -> bool:
        """Whether there are four marks of which no three lie on a line, on the table."""
        wide = np.abs(_heights(self.places[self.all])) >= self.flat_mm
        apart = {tuple(three) for three in self.all[wide].tolist()}
        return any(
            all(three in apart for three in combinations(four, 3))
            for four in combinations(range(len(self.places)), 4)
        )

    def turned(self, pixels: np.ndarray, left_out: int = -1) -> tuple[int, int]:
        """How many threes go round the wrong way in the picture, and how many there are."""
        threes = self.all[~(self.all == left_out).any(axis=1)]
        there, here = _heights(self.places[threes]), _heights(pixels[threes])
        counted = (np.abs(there) >= self.flat_mm) & (np.abs(here) >= _FLAT_PX)
        # y goes up on the table and down in the picture
        wrong = counted & (there * here > 0.0)
        return int(wrong.sum()), int(counted.sum())


def _heights(threes: np.ndarray) -> np.ndarray:
    """How far the corners of triangles (n, 3, 2) are off a line; negative when clockwise."""
    one, two = threes[:, 1] - threes[:, 0], threes[:, 2] - threes[:, 0]
    twice = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    sides = np.stack(
        [np.hypot(*one.T), np.hypot(*two.T), np.hypot(*(threes[:, 2] - threes[:, 1]).T)]
    )
    return twice / np.maximum(sides.max(axis=0), 1e-9)


def _check_size(photo: PhotoMarks) -> None:
    if min(photo.size_px) < 1:
        wide, high = photo.size_px
        raise OutOfRangeError(
            "the picture’s size", f"{wide} by {high} px", "its width and height in pixels",
            "Open the picture the marks belong to.",
        )  # fmt: skip


def _check_each(photo: PhotoMarks, pairs: Sequence[tuple[Mark, MarkPlace]]) -> None:
    wide, high = photo.size_px
    seen: set[str] = set()
    for mark, place in pairs:
        if place.id in seen:
            raise OutOfRangeError(
                f"the mark of the {place.title}", "made twice", "one mark for each place",
                "Take one of them away.",
            )  # fmt: skip
        seen.add(place.id)
        x, y = mark.at_px
        inside = -_OUTSIDE * wide <= x <= (1 + _OUTSIDE) * wide
        if not (inside and -_OUTSIDE * high <= y <= (1 + _OUTSIDE) * high):
            raise OutOfRangeError(
                f"the mark of the {place.title}", f"at {x:.0f}, {y:.0f} px",
                f"a place in the picture of {wide} by {high} px",
                "Pixels count in the upright picture, from its upper left.",
            )  # fmt: skip


def _check_order(threes: _Threes, pairs: Sequence[tuple[Mark, MarkPlace]]) -> None:
    wrong, counted = threes.turned(threes.pixels)
    if not counted:
        raise OutOfRangeError(
            "the lie of the marks in the picture", "along one line",
            "a view from above the table’s bed",
            "Photograph the table from higher up.",
        )  # fmt: skip
    if not wrong:
        return
    if wrong == counted:
        raise OutOfRangeError(
            "the order of the marks", "mirrored: they go round the table the other way",
            "left and right as seen from baulk",
            "Left and right, or baulk end and top, were exchanged, or the picture was mirrored.",
        )  # fmt: skip
    titles = [place.title for _, place in pairs]
    for one, other in _mended_by_exchange(threes):
        raise OutOfRangeError(
            "the order of the marks", f"crossed at {titles[one]} and {titles[other]}",
            "every mark on its own place", "These two seem to be exchanged.",
        )  # fmt: skip
    alone = [i for i in range(len(pairs)) if threes.turned(threes.pixels, i)[0] == 0]
    if len(alone) == 1 and len(pairs) > LEAST_MARKS:
        raise OutOfRangeError(
            "the order of the marks", f"crossed at {titles[alone[0]]}",
            "every mark on its own place", "Look at this mark again, or take it away.",
        )  # fmt: skip
    raise OutOfRangeError(
        "the order of the marks", f"crossed ({', '.join(titles)})",
        "every mark on its own place", "Look at each again: some are on each other’s places.",
    )  # fmt: skip


def _mended_by_exchange(threes: _Threes) -> list[tuple[int, int]]:
    """The one pair of marks whose exchange puts everything right, if there is one."""
    found = []
    for one, other in combinations(range(len(threes.pixels)), 2):
        tried = threes.pixels.copy()
        tried[[one, other]] = tried[[other, one]]
        if threes.turned(tried)[0] == 0:
            found.append((one, other))
    return found if len(found) == 1 else []


def _titles(pairs: Sequence[tuple[Mark, MarkPlace]]) -> str:
    return ", ".join(place.title for _, place in pairs)
