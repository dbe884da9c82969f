"""Every answer of the engine as a frozen value: kinds and figures, the unit in the name.

The room at the bottom of the house: it knows nothing that computes, so that every room may fill
its values in.
"""

from engine.results.events import (
    LaneContact,
    LaneEvent,
    Point,
)
from engine.results.facts import Fact
from engine.results.gaps import (
    Chance,
    Choice,
    Forgiveness,
    GapVerdict,
    ReachWindow,
    TriedStrike,
)
from engine.results.routines import (
    BallPlacement,
    BallTolerance,
    ClaimResult,
    CushionReading,
    Problem,
    RoutineAnswer,
)
from engine.results.shots import (
    Clearance,
    GapPass,
    Lane,
    LaneBounce,
    LaneDoubt,
    LanePair,
    PotAnswer,
    ShotAnswer,
)

__all__ = [
    "BallPlacement",
    "BallTolerance",
    "Chance",
    "Choice",
    "ClaimResult",
    "Clearance",
    "CushionReading",
    "Fact",
    "Forgiveness",
    "GapPass",
    "GapVerdict",
    "Lane",
    "LaneBounce",
    "LaneContact",
    "LaneDoubt",
    "LaneEvent",
    "LanePair",
    "Point",
    "PotAnswer",
    "Problem",
    "ReachWindow",
    "RoutineAnswer",
    "ShotAnswer",
    "TriedStrike",
]
