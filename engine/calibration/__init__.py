"""Calibration: the conditions of one table from what a coach can measure with tape and phone.

parse_observations(text, name) -> tuple[Observation, ...]
calibrate(rows, table, preset_id="", wanted=None) -> Calibration
report_text(calibration) -> str
"""

from engine.calibration.calibrate import calibrate
from engine.calibration.design import suggested
from engine.calibration.kinds import COLUMNS, KINDS, Kind, Observation
from engine.calibration.more import More
from engine.calibration.reading import parse_observations
from engine.calibration.report import own_conditions, report_text
from engine.calibration.values import Calibration, Finding, Judged

__all__ = [
    "COLUMNS",
    "KINDS",
    "Calibration",
    "Finding",
    "Judged",
    "Kind",
    "More",
    "Observation",
    "calibrate",
    "own_conditions",
    "parse_observations",
    "report_text",
    "suggested",
]
