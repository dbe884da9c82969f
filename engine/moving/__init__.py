"""Moving a routine to another table: where everything goes, and what is still true there."""

from engine.moving.move import FIT, WAYS, Moved, Target, move, new_problems
from engine.moving.report import ClaimMove, MoveReport, report

__all__ = [
    "FIT",
    "WAYS",
    "ClaimMove",
    "MoveReport",
    "Moved",
    "Target",
    "move",
    "new_problems",
    "report",
]
