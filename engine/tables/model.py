"""A table as measured values: cushion faces, marks and pockets, each with source and confidence.

Confidence marks: A rule text read or two copies agree; B one secondary copy; D arithmetic from
A or B; Mem from memory, unconfirmed; M measured or set by the coach.
"""

from __future__ import annotations

from dataclasses import dataclass

from engine.errors import UnknownNameError

CUSHIONS: tuple[str, ...] = ("left", "right", "bottom", "top")


@dataclass(frozen=True, slots=True)
class Sourced:
    """A number with where it comes from, its tolerance and how sure we are of it."""

    value: float
    source: str
    confidence: str
    tolerance: float | None = None


@dataclass(frozen=True, slots=True)
class Spot:
    """A marked spot of the cloth.

    `role` is what it stands for on tables of every kind ("centre", "baulk-middle", "top-quarter",
    "" for none), so that a set-up can be moved from spot to spot.
    """

    id: str
    title: str
    x_mm: float
    y_mm: float
    role: str = ""


@dataclass(frozen=True, slots=True)
class Facing:
    """A straight jaw: the stretch from the nose tip back to its end behind the cushion.

    `into_mm` is the unit way out of the rubber, towards the middle of the pocket, and
    `face_into_mm` the same of the cushion face it turns off from, towards the bed.
    """

    start_mm: tuple[float, float]
    end_mm: tuple[float, float]
    into_mm: tuple[float, float]
    face_into_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Pocket:
    """A pocket: two jaws (arcs that continue the cushion faces) and the fall behind them.

    `jaws_mm` are the centres of the two jaw arcs of radius `jaw_radius_mm`, lying behind the
    cushion faces; `opening_mm` is the least distance between the arcs. A straight-cut pocket
    has small arcs for its nose tips and, in the same order, two `facings` that run on from
    them; its `opening_mm` is the mouth from nose tip to nose tip. A ball whose centre comes
    within `fall_radius_mm` of `fall_mm` is potted.
    """

    id: str
    title: str
    opening_mm: float
    jaws_mm: tuple[tuple[float, float], tuple[float, float]]
    jaw_radius_mm: float
    fall_mm: tuple[float, float]
    fall_radius_mm: float
    facings: tuple[Facing, ...] = ()

    @property
    def throat_mm(self) -> tuple[float, float]:
        """The middle of the narrowest place between the jaws."""
        (ax, ay), (bx, by) = self.jaws_mm
        return ((ax + bx) / 2.0, (ay + by) / 2.0)


@dataclass(frozen=True, slots=True)
class Face:
    """A straight stretch of cushion face between two jaws, from start to end, by cushion name."""

    cushion: str
    start_mm: tuple[float, float]
    end_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Table:
    """The bed between the cushion faces, its marks and its pockets.

    `values` holds every published or measured number by name, with its source; `preset` names
    the usual cloth (see `engine.conditions.presets`). `measured` is the title of a coach's own
    measurements when some of the values come from them.
    """

    id: str
    title: str
    rule: str
    width_mm: float
    length_mm: float
    baulk_y_mm: float | None
    d_radius_mm: float | None
    spots: tuple[Spot, ...]
    pockets: tuple[Pocket, ...]
    faces: tuple[Face, ...]
    values: dict[str, Sourced]
    preset: str = ""
    measured: str = ""

    def pocket(self, pocket_id: str) -> Pocket:
        """The pocket of that id; `UnknownNameError` lists the ones there are."""
        for pocket in self.pockets:
            if pocket.id == pocket_id:
                return pocket
        raise UnknownNameError("pocket", pocket_id, [p.id for p in self.pockets])

    def spot(self, spot_id: str) -> Spot:
        """The spot of that id; `UnknownNameError` lists the ones there are."""
        for spot in self.spots:
            if spot.id == spot_id:
                return spot
        raise UnknownNameError("spot", spot_id, [s.id for s in self.spots])
