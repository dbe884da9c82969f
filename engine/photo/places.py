"""The places of a table that a coach can find in a photograph, with their heights.

What is seen of a cushion is its nose, which stands over the cloth by the nose's height: corners
and middle pockets are marked on the line of the nose and lie that high; spots lie on the cloth.
"""

from __future__ import annotations

from engine.conditions import Conditions
from engine.errors import OutOfRangeError, UnknownNameError
from engine.photo.values import Mark, MarkPlace
from engine.tables import Table

#: A place of the coach's own lies no farther from the bed than this, mm.
FARTHEST_MM = 1000.0


def nose_height_mm(table: Table) -> float:
    """How high the cushion's nose stands over the cloth: as measured, else as published."""
    known = table.values.get("cushion_nose_mm")
    if known is not None:
        return float(known.value)
    usual = Conditions()
    return usual.cushion_height_ratio * usual.ball_radius_mm


def mark_places(table: Table) -> tuple[MarkPlace, ...]:
    """Every place of the table that can be marked: corners, middle pockets, spots.

    >>> from engine.tables import load_table
    >>> len(mark_places(load_table("snooker-12ft")))
    12
    """
    high, wide, long = nose_height_mm(table), table.width_mm, table.length_mm
    found = [
        MarkPlace(f"corner-{end}-{side}", f"{end} {side} corner", x, y, high)
        for end, y in (("bottom", 0.0), ("top", long))
        for side, x in (("left", 0.0), ("right", wide))
    ]
    sides = (("left", 0.0), ("right", wide))
    if any(pocket.id.startswith("middle") for pocket in table.pockets):
        found += [
            MarkPlace(f"middle-{side}", f"{side} middle pocket", x, long / 2, high)
            for side, x in sides
        ]
    found += [
        MarkPlace(f"spot-{spot.id}", spot.title, spot.x_mm, spot.y_mm, 0.0) for spot in table.spots
    ]
    return tuple(found)


def place_of(table: Table, mark: Mark) -> MarkPlace:
    """The place a mark stands for; `UnknownNameError` lists the ones this table has.

    `OutOfRangeError` for a place of the coach's own that is nowhere near the table.
    """
    if mark.at_mm is None:
        return place_named(table, mark.place)
    x, y, z = mark.at_mm
    beside = -FARTHEST_MM <= x <= table.width_mm + FARTHEST_MM
    beside = beside and -FARTHEST_MM <= y <= table.length_mm + FARTHEST_MM
    if not (beside and -FARTHEST_MM <= z <= FARTHEST_MM):
        raise OutOfRangeError(
            f"the place {mark.place}", f"at {x:g}, {y:g}, {z:g} mm",
            f"a place within {FARTHEST_MM:g} mm of the table’s bed",
            "Millimetres count from the bottom left of the bed, heights from the cloth.",
        )  # fmt: skip
    return MarkPlace(mark.place, mark.place, x, y, z)


def place_named(table: Table, place_id: str) -> MarkPlace:
    """The place of that id; `UnknownNameError` lists the ones this table has."""
    places = mark_places(table)
    for place in places:
        if place.id == place_id:
            return place
    raise UnknownNameError("place to mark on this table", place_id, [one.id for one in places])
