"""Calibration: the conditions of one table from what a coach can measure with tape and phone.

parse_observations(text, name) -> tuple[Observation, ...]
calibrate.calibrate(rows, table, preset_id="", wanted=None) -> Calibration
report_text(calibration) -> str

`calibrate` has a module of its own to import it from: it plays shots, and the form, the kinds
and the words of a report need none of what that loads.
"""

from engine.calibration.design import suggested
from engine.calibration.kinds import COLUMNS, KINDS, Kind, Observation
from engine.calibration.reading import parse_observations
from engine.calibration.report import own_conditions, report_text
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
    "report_text",
    "suggested",
]
