"""Balls as they stand on the cloth: small frozen values and the kinds the trade knows."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Any

KINDS: tuple[str, ...] = (
    "cue", "red", "yellow", "green", "brown", "blue", "pink", "black", "plain",
)  # fmt: skip

#: What is printed on a ball so that its colour is never the only carrier.
LETTERS: Mapping[str, str] = MappingProxyType(
    {
        "cue": "Cue",
        "red": "R",
        "yellow": "Y",
        "green": "G",
        "brown": "Br",
        "blue": "Bl",
        "pink": "P",
        "black": "Bk",
        "plain": "",
    }
)


@dataclass(frozen=True, slots=True)
class Ball:
    """One ball: centre above the cloth at (`x_mm`, `y_mm`), seen from baulk.

    `label` overrides the printed letter (for numbered or plain balls); a `locked` ball is
    left where it is by dragging and by advice.
    """

    id: str
    kind: str
    x_mm: float
    y_mm: float
    label: str = ""
    locked: bool = False
    extra: Mapping[str, Any] = field(default_factory=dict, repr=False)

    @property
    def letter(self) -> str:
        """The text printed on the ball."""
        return self.label or LETTERS.get(self.kind, "")

    @property
    def is_cue(self) -> bool:
        """Whether this is the cue ball."""
        return self.kind == "cue"

    @property
    def centre_mm(self) -> tuple[float, float]:
        """The centre as a pair, millimetres."""
        return (self.x_mm, self.y_mm)

    def at(self, place_mm: Iterable[float]) -> Ball:
        """The same ball elsewhere."""
        x, y = place_mm
        return replace(self, x_mm=float(x), y_mm=float(y))


def touch_distance_mm(radius_mm: float, other_radius_mm: float) -> float:
    """Distance of the centres, seen from above, of two balls that touch on the cloth.

    Their centres stand at the heights of their radii, so the line of centres is tilted when the
    radii differ: (R1 + R2)² − (R1 − R2)² = 4·R1·R2.

    >>> touch_distance_mm(26.25, 26.25), round(touch_distance_mm(25.4, 23.8), 3)
    (52.5, 49.174)
    """
    return 2.0 * math.sqrt(radius_mm * other_radius_mm)
