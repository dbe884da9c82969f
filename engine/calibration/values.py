"""What a calibration gives: numbers found, observations judged, and what is still wanted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from engine.calibration.kinds import Observation
from engine.conditions import Conditions
from engine.results import Note


@dataclass(frozen=True, slots=True)
class Finding:
    """One number found: best estimate, standard error, 95 % interval (cut off at what can be).

    `likely` is the preset's range, `usual` its value. `decided` says that the observations at least
    halve the doubt there was. A condition that is not decided stays near the preset's value and is
    used with the others, which were found together with it; the speed of a pace is not. Names are
    those of `Conditions`, or `speed_at_pace_…` in m/s.
    """

    name: str
    value: float
    standard_error: float
    low: float
    high: float
    likely: tuple[float, float] | None
    usual: float
    decided: bool


@dataclass(frozen=True, slots=True)
class More:
    """What one number still takes: its standard error, the one wanted, and how to get there.

    `count` is how many more of `row` it takes, 0 when the precision is there, None when nothing
    known brings it there within reason. Without a `row` it counts whole suggested sets.
    """

    name: str
    standard_error: float
    wanted: float
    count: int | None
    row: Observation | None


@dataclass(frozen=True, slots=True)
class Judged:
    """One observation against the model: `verdict` is used, disagrees or impossible.

    `off` is the residual (predicted less measured) in standard errors; None with `predicted` and
    `measured` for an impossible one, whose `reason` says why. One that the model does not have
    happen at all disagrees, with neither `predicted` nor `off`.
    """

    row: Observation
    verdict: str
    measured: float | None = None
    predicted: float | None = None
    error: float | None = None
    off: float | None = None
    reason: Note | None = None


@dataclass(frozen=True, slots=True)
class Calibration:
    """Everything found: numbers, every observation judged, what more it takes, and notes.

    `before` are the preset's conditions on that table, `after` those found; `stated` is what a
    routine or a conditions file has to state for them. `after` is `before` where no observation
    could be used.
    """

    table: str
    preset: str
    findings: tuple[Finding, ...]
    judged: tuple[Judged, ...]
    more: tuple[More, ...]
    notes: tuple[Note, ...]
    before: Conditions
    after: Conditions
    stated: Mapping[str, Any]

    @property
    def all_agree(self) -> bool:
        """Whether every observation could be used."""
        return all(one.verdict == "used" for one in self.judged)
