"""Calibration: the conditions of one table from what a coach can measure with tape and phone.

parse_observations(text, name) -> tuple[Observation, ...]
calibrate.calibrate(rows, table, preset_id="", wanted=None) -> Calibration
own_conditions(calibration, notes) -> OwnConditions   # as a conditions file holds it

`calibrate` has a module of its own to import it from: it plays shots, and the form and the kinds
need none of what that loads.
"""

from engine.calibration.conditions_file import own_conditions
from engine.calibration.design import suggested
from engine.calibration.kinds import COLUMNS, KINDS, Kind, Observation
from engine.calibration.reading import parse_observations
from engine.calibration.values import Calibration, Finding, Judged, More

__all__ = [
    "COLUMNS",
    "KINDS",
    "Calibration",
    "Finding",
    "Judged",
    "Kind",
    "More",
    "Observation",
    "own_conditions",
    "parse_observations",
    "suggested",
]
