"""Moving a routine to another table: where everything goes, and what is still true there."""

from engine.moving.move import Moved, Target, move
from engine.moving.places import WAYS
from engine.moving.report import ClaimMove, MoveReport, report, report_text

__all__ = [
    "WAYS",
    "ClaimMove",
    "MoveReport",
    "Moved",
    "Target",
    "move",
    "report",
    "report_text",
]
