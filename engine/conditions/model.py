"""The values a prediction rests on, their likely ranges and where each figure comes from.

A routine file may state any of them under `conditions`, by the field names below; a value
it leaves out takes the default of the table's ball and cloth.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass, fields
from types import MappingProxyType
from typing import TYPE_CHECKING

from engine.balls import Ball, touch_distance_mm
from engine.conditions.stroke import pace_of, tip_share
from engine.errors import OutOfRangeError

if TYPE_CHECKING:
    import numpy as np

PACE_LOWEST, PACE_HIGHEST = 1.0, 10.0
#: The paces a scale of paces gives a speed each.
PACES = tuple(float(pace) for pace in range(1, 11))
#: Conditions that may be left out: the cue ball is then like the others, and a cushion gives back
#: the same share of a slow ball and of a fast one.
OPTIONAL_CONDITIONS = (
    "cushion_restitution_slow",
    "cushion_restitution_fast",
    "cue_ball_radius_mm",
    "cue_ball_mass_kg",
)


@dataclass(frozen=True, slots=True)
class Conditions:
    """Every number the ball-motion model takes from cloth, balls and cushions.

    Frictions and restitutions are pure numbers; `ball_friction_*` is Marlow's fit
    base + extra·exp(−decay·u) over slip u in m/s. `cushion_height_ratio` is the height of the
    cushion's contact over the (object) ball radius. `pace_speeds_m_s` is the scale of strokes: the
    speed of a ball struck in its middle at paces 1, 2, … 10; between them it is linear.
    `cue_mass_kg` is the cue's, which decides what a tip off the middle takes from that speed. A cue
    ball of another size or mass states its own; None means like the other balls.
    `cushion_restitution` holds for a ball that meets the cushion at 2.5 m/s, measured across it;
    where it is not the same at 0.5 and at 5 m/s, `cushion_restitution_slow` and `…_fast` say so;
    between them it is linear, and beyond them held.
    `cushion_level_push` 1 takes the simplest cushion instead, one that pushes level at its height
    and does not rub: for check cases.
    """

    ball_radius_mm: float = 26.25
    ball_mass_kg: float = 0.142
    sliding_friction: float = 0.21
    rolling_resistance: float = 0.0127
    spin_decay_rad_s2: float = 10.0
    ball_restitution: float = 0.95
    ball_friction_base: float = 0.009951
    ball_friction_extra: float = 0.108
    ball_friction_decay_s_m: float = 1.088
    cushion_restitution: float = 0.98
    cushion_friction: float = 0.14
    cushion_height_ratio: float = 1.4
    tip_limit: float = 0.5
    gravity_m_s2: float = 9.81
    nap_drift: float = 0.0
    cushion_level_push: float = 0.0
    pace_speeds_m_s: tuple[float, ...] = (0.5, 1.0, 1.5, 2.0, 2.5, 3.2, 4.0, 5.0, 6.2, 8.0)
    cue_mass_kg: float = 0.53
    cushion_restitution_slow: float | None = None
    cushion_restitution_fast: float | None = None
    cue_ball_radius_mm: float | None = None
    cue_ball_mass_kg: float | None = None

    def __post_init__(self) -> None:
        for name, fact in CONDITION_FACTS.items():
            value = getattr(self, name)
            if value is None and name in OPTIONAL_CONDITIONS:
                continue
            if not fact.allowed[0] <= value <= fact.allowed[1]:
                raise OutOfRangeError(
                    f"condition {name}", value, f"{fact.allowed[0]:g} to {fact.allowed[1]:g}"
                )
        speeds = self.pace_speeds_m_s
        rising = all(a < b for a, b in itertools.pairwise(speeds))
        if len(speeds) != 10 or not rising or not speeds[0] > 0 or not speeds[-1] <= 15:
            raise OutOfRangeError(
                "condition pace_speeds_m_s", list(speeds), "ten rising speeds, 0 to 15 m/s"
            )
        if self.cushion_level_push not in (0.0, 1.0):
            raise OutOfRangeError("condition cushion_level_push", self.cushion_level_push, "0 or 1")
        nose = self.cushion_height_ratio * self.ball_radius_mm / self.cue_radius_mm
        if not 1.0 <= nose <= 1.9:
            raise OutOfRangeError(
                "condition cue_ball_radius_mm", self.cue_radius_mm,
                "a ball whose centre lies below the cushion’s nose and its top well above",
                f"The nose stands at {nose:.2f} of this radius.",
            )  # fmt: skip

    @property
    def cushion_restitutions(self) -> tuple[float, float, float]:
        """Restitution of the cushion at 0.5, 2.5 and 5 m/s across it.

        >>> Conditions(cushion_restitution_fast=0.9).cushion_restitutions
        (0.98, 0.98, 0.9)
        """
        usual, slow, fast = (
            self.cushion_restitution, self.cushion_restitution_slow, self.cushion_restitution_fast,
        )  # fmt: skip
        return usual if slow is None else slow, usual, usual if fast is None else fast

    @property
    def cue_radius_mm(self) -> float:
        """The cue ball's radius."""
        return self.ball_radius_mm if self.cue_ball_radius_mm is None else self.cue_ball_radius_mm

    @property
    def cue_ball_kg(self) -> float:
        """The cue ball's mass."""
        return self.ball_mass_kg if self.cue_ball_mass_kg is None else self.cue_ball_mass_kg

    @property
    def touch_mm(self) -> float:
        """Distance of the centres, seen from above, when the cue ball touches another ball.

        >>> Conditions().touch_mm
        52.5
        """
        return touch_distance_mm(self.cue_radius_mm, self.ball_radius_mm)

    def radius_of(self, ball: Ball) -> float:
        """The radius of a ball, mm."""
        return self.cue_radius_mm if ball.is_cue else self.ball_radius_mm

    def mass_of(self, ball: Ball) -> float:
        """The mass of a ball, kg."""
        return self.cue_ball_kg if ball.is_cue else self.ball_mass_kg

    def touch_of(self, one: Ball, other: Ball) -> float:
        """Distance of the centres of two touching balls, seen from above."""
        return touch_distance_mm(self.radius_of(one), self.radius_of(other))

    def tip_share(
        self, tip_height: float | np.ndarray, side: float | np.ndarray = 0.0
    ) -> float | np.ndarray:
        """The share of a stroke's speed that a tip off the middle leaves the cue ball.

        `tip_height` and `side` over the radius, scalars or arrays; see `engine.conditions.stroke`.

        >>> round(Conditions().tip_share(-0.5), 3)
        0.883
        """
        return tip_share(tip_height, side, self.cue_ball_kg, self.cue_mass_kg)

    def speed_mm_s(
        self,
        pace: float | np.ndarray,
        tip_height: float | np.ndarray,
        side: float | np.ndarray = 0.0,
    ) -> float | np.ndarray:
        """The cue ball's speed off the tip, from a stroke on the 1–10 scale and where it meets it.

        Scalars or arrays; `tip_height` and `side` over the radius. `OutOfRangeError` for a pace
        off the scale.

        >>> Conditions().speed_mm_s(4.5, 0.0), round(Conditions().speed_mm_s(4.5, -0.5))
        (2250.0, 1988)
        """
        import numpy as np  # here: to read a routine and place its balls needs no arrays

        given = np.asarray(pace, dtype=float)
        if given.size and not (given.min() >= PACE_LOWEST and given.max() <= PACE_HIGHEST):
            raise OutOfRangeError("pace", pace, "1 to 10")
        middle = 1000.0 * np.interp(given, PACES, self.pace_speeds_m_s)
        tip, across = np.asarray(tip_height, dtype=float), np.asarray(side, dtype=float)
        speeds = np.asarray(middle * self.tip_share(tip, across))
        return float(speeds) if speeds.ndim == 0 else speeds

    def pace_at(self, speed_mm_s: float, tip_height: float, side: float = 0.0) -> float:
        """The pace whose stroke gives the ball a speed from that tip, held to the scale's ends.

        >>> Conditions().pace_at(2250.0, 0.0)
        4.5
        """
        middle_m_s = speed_mm_s / 1000.0 / float(self.tip_share(tip_height, side))
        return pace_of(middle_m_s, self.pace_speeds_m_s)


@dataclass(frozen=True, slots=True)
class ConditionFact:
    """What is known of one condition: allowed values, likely range, unit, source, confidence."""

    title: str
    unit: str
    allowed: tuple[float, float]
    likely: tuple[float, float] | None
    source: str
    confidence: str


def _fact(
    title: str,
    unit: str,
    allowed: tuple[float, float],
    likely: tuple[float, float] | None,
    source: str,
    confidence: str,
) -> ConditionFact:
    return ConditionFact(title, unit, allowed, likely, source, confidence)


_MATHAVAN_2009 = "Mathavan, Jackson & Parkin, Am. J. Phys. 77 (2009) 788"
_MATHAVAN_2010 = "Mathavan, Jackson & Parkin, Proc. IMechE C 224 (2010) 1863-1873"
_ALCIATORE_FAQ = "Alciatore, physics FAQ"
_MARLOW = "fit to Marlow 1995, Table 10, in Alciatore TP A.28 (2007)"

#: One entry for every scalar field of `Conditions`.
CONDITION_FACTS: Mapping[str, ConditionFact] = MappingProxyType(
    {
        "ball_radius_mm": _fact(
            "ball radius",
            "mm",
            (10.0, 60.0),
            (26.225, 26.275),
            "Official Rules of Snooker, WPBSA, section 1: diameter 52.5 +-0.05 mm",
            "A",
        ),
        "ball_mass_kg": _fact(
            "ball mass",
            "kg",
            (0.02, 1.0),
            (0.139, 0.142),
            "national norm 142 g +0/-3 g; the rules ask only equal within 3 g a set",
            "A",
        ),
        "sliding_friction": _fact(
            "sliding friction, ball on cloth",
            "",
            (0.01, 1.0),
            (0.15, 0.30),
            _MATHAVAN_2009 + "; wider by our guess",
            "from memory",
        ),
        "rolling_resistance": _fact(
            "rolling resistance",
            "",
            (0.001, 0.1),
            (0.008, 0.016),
            _MATHAVAN_2009 + "; wider by our guess",
            "from memory; range a guess",
        ),
        "spin_decay_rad_s2": _fact(
            "decay of spin about the vertical",
            "rad/s2",
            (0.0, 100.0),
            (5.0, 15.0),
            _ALCIATORE_FAQ,
            "published for pool",
        ),
        "ball_restitution": _fact(
            "restitution, ball on ball",
            "",
            (0.0, 1.0),
            (0.90, 0.98),
            _ALCIATORE_FAQ + "; lower end our guess",
            "published; range a guess",
        ),
        "ball_friction_base": _fact(
            "ball friction at high slip", "", (0.0, 1.0), None, _MARLOW, "published"
        ),
        "ball_friction_extra": _fact(
            "ball friction added at no slip",
            "",
            (0.0, 1.0),
            (0.05, 0.16),
            _MARLOW,
            "published; range a guess: clean and new to worn",
        ),
        "ball_friction_decay_s_m": _fact(
            "how fast ball friction falls with slip",
            "s/m",
            (0.0, 100.0),
            None,
            _MARLOW,
            "published",
        ),
        "cushion_restitution": _fact(
            "restitution, ball on cushion",
            "",
            (0.0, 1.0),
            (0.80, 1.0),
            _MATHAVAN_2010 + "; fitted up to 2.5 m/s normal speed",
            "published; range a guess",
        ),
        "cushion_restitution_slow": _fact(
            "restitution of a slow ball on the cushion (0.5 m/s across)",
            "",
            (0.0, 1.0),
            None,
            "no source found: left out, the same as at 2.5 m/s; calibration can find it",
            "none",
        ),
        "cushion_restitution_fast": _fact(
            "restitution of a fast ball on the cushion (5 m/s across)",
            "",
            (0.0, 1.0),
            None,
            "no source found: left out, the same as at 2.5 m/s",
            "none",
        ),
        "cushion_friction": _fact(
            "friction, ball on cushion",
            "",
            (0.0, 1.0),
            (0.10, 0.25),
            _MATHAVAN_2010,
            "published; range a guess",
        ),
        "cushion_height_ratio": _fact(
            "height of the cushion’s contact over the ball radius",
            "",
            (1.0, 1.8),
            (1.35, 1.45),
            _MATHAVAN_2010,
            "from memory",
        ),
        "tip_limit": _fact(
            "largest tip offset before a miscue, over the radius",
            "",
            (0.05, 0.7),
            None,
            "Alciatore",
            "published",
        ),
        "gravity_m_s2": _fact(
            "gravity", "m/s2", (1.0, 30.0), None, "check rows use 9.81", "convention"
        ),
        "cue_mass_kg": _fact(
            "cue’s mass",
            "kg",
            (0.1, 2.0),
            (0.45, 0.60),
            "usual cues weigh some 16 to 21 oz; 0.53 kg is our choice",
            "common practice",
        ),
        "cushion_level_push": _fact(
            "cushion that pushes level and does not rub (0 or 1)",
            "",
            (0.0, 1.0),
            None,
            "7/10 rule in closed form, derived; 0, the rigid cushion of 2010, is the default",
            "D",
        ),
        "nap_drift": _fact(
            "sideways pull of the nap on a rolling ball, over gravity; uncalibrated",
            "",
            (0.0, 0.01),
            None,
            "no source found: a condition to try, off by default",
            "none",
        ),
        "cue_ball_radius_mm": _fact(
            "cue ball’s radius, where it differs from the other balls’",
            "mm",
            (10.0, 60.0),
            None,
            "the table’s rule; null or left out: like the other balls",
            "as the table’s",
        ),
        "cue_ball_mass_kg": _fact(
            "cue ball’s mass, where it differs from the other balls’",
            "kg",
            (0.02, 1.0),
            None,
            "the table’s rule; null or left out: like the other balls",
            "as the table’s",
        ),
    }
)

CONDITION_NAMES: tuple[str, ...] = tuple(f.name for f in fields(Conditions))
