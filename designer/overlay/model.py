"""What is painted over a photograph, in its pixels: patches in perspective, and upright labels."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from designer.drawing.model import Disc, Fill, Text


@dataclass(frozen=True, slots=True, eq=False)
class Patch:
    """One or more outlines (n, 2), px, filled as one; inner outlines run the other way round."""

    role: str
    outlines: tuple[np.ndarray, ...]
    colour: str
    opacity: float = 1.0


@dataclass(frozen=True, slots=True)
class Label:
    """Items of one label, in mm about `about_mm`, painted upright about `at_px`, `scale` px a mm.

    A label faces whoever looks at the picture: lying on the cloth it could not be read. From its
    middle a line of `lead_colour`, `lead_px` wide, leads to what it belongs to.
    """

    at_px: tuple[float, float]
    scale: float
    about_mm: tuple[float, float]
    items: tuple[Disc | Fill | Text, ...]
    leads_to_px: tuple[float, float] | None = None
    lead_colour: str = ""
    lead_px: float = 0.0


@dataclass(frozen=True, slots=True, eq=False)
class PhotoDrawing:
    """Everything painted over a picture of `size_px` (width, height).

    `ground` lies on the cloth: it is seen through `opening` (the cushions hide the rest) and
    hidden behind each outline of `hiding` (the balls). `standing` stands over it: painted balls.
    """

    size_px: tuple[int, int]
    ground: tuple[Patch, ...]
    opening: Patch
    hiding: tuple[np.ndarray, ...]
    standing: tuple[Patch, ...]
    labels: tuple[Label, ...]

    def with_roles(self, *roles: str) -> tuple[Patch, ...]:
        """The patches that play one of these roles."""
        return tuple(one for one in (*self.ground, *self.standing) if one.role in roles)
