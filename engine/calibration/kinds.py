"""What a coach can measure with a tape and a phone: the kinds of observation and their columns.

Every kind has one measured result that the ball-motion model predicts, and inputs that say what
was played. The same list feeds the reader of observation files, the printed form and the model.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

#: Measurement errors taken where an observation states none of its own: a tape, a stopwatch.
ERROR_MM, ERROR_S = 5.0, 0.1
#: A count of table lengths by eye, as a share of one length.
ERROR_LENGTHS = 0.05

#: Columns of an observation file, in the order of the form: name and what is wanted in it.
COLUMNS: Mapping[str, str] = MappingProxyType(
    {
        "kind": "the kind of observation",
        "pace": "your own pace, 1 to 10",
        "tip": "tip height over the radius, -0.5 to 0.5",
        "distance_mm": "a distance in mm",
        "time_s": "a time in seconds",
        "then_mm": "how far it then ran on, in mm",
        "free_mm": "how far it runs on free cloth, in mm",
        "rest_mm": "where or how far off it stopped, in mm",
        "start_mm": "where it started, in mm from the bottom cushion face",
        "cushions": "how many cushions it met, a whole number",
        "lengths": "how many table lengths it ran",
        "cue_x_mm": "cue ball from the left cushion face, in mm",
        "cue_y_mm": "cue ball from the bottom cushion face, in mm",
        "ball_x_mm": "object ball from the left cushion face, in mm",
        "ball_y_mm": "object ball from the bottom cushion face, in mm",
        "pocket": "the pocket it went into",
        "to_x_mm": "where the object ball went, from the left cushion face, in mm",
        "to_y_mm": "where the object ball went, from the bottom cushion face, in mm",
        "cushion": "left, right, bottom or top",
        "at_mm": "where along that cushion the ball’s centre met it, in mm",
        "then_cushion": "left, right, bottom or top",
        "then_mark_mm": "where along the second cushion it met it, in mm",
        "error_mm": "how far off your tape may be, in mm",
        "error_s": "how far off your watch may be, in seconds",
        "note": "anything",
    }
)
#: Columns that hold words, not numbers.
WORDS: tuple[str, ...] = ("kind", "pocket", "cushion", "then_cushion", "note")


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of observation.

    `result` is the measured column the model predicts; `needs` the columns that must be there,
    `either` sets of columns of which one must be; `measured` the inputs that carry errors of
    their own. `struck` says that the coach's own pace is in it.
    """

    id: str
    result: str
    needs: tuple[str, ...]
    optional: tuple[str, ...] = ()
    either: tuple[tuple[str, ...], ...] = ()
    measured: tuple[str, ...] = ()
    struck: bool = False


_KINDS = (
    Kind(
        "roll",
        "time_s",
        ("distance_mm", "time_s"),
        ("then_mm",),
        measured=("distance_mm", "then_mm"),
    ),
    Kind(
        "rebound",
        "rest_mm",
        ("free_mm", "distance_mm", "rest_mm"),
        measured=("free_mm", "distance_mm"),
    ),
    Kind(
        "up-and-down",
        "rest_mm",
        ("pace", "start_mm"),
        ("tip",),
        either=(("cushions", "rest_mm"), ("lengths",)),
        measured=("start_mm",),
        struck=True,
    ),
    Kind(
        "pace-time",
        "time_s",
        ("pace", "distance_mm", "time_s"),
        ("tip",),
        measured=("distance_mm",),
        struck=True,
    ),
    Kind("stun", "distance_mm", ("pace", "tip", "distance_mm"), struck=True),
    Kind(
        "lane",
        "at_mm",
        ("pace", "cue_x_mm", "cue_y_mm", "ball_x_mm", "ball_y_mm", "cushion", "at_mm"),
        ("tip",),
        either=(("pocket",), ("to_x_mm", "to_y_mm")),
        measured=("cue_x_mm", "cue_y_mm", "ball_x_mm", "ball_y_mm"),
        struck=True,
    ),
    Kind(
        "bank",
        "then_mark_mm",
        ("pace", "cue_x_mm", "cue_y_mm", "cushion", "at_mm", "then_cushion", "then_mark_mm"),
        ("tip",),
        measured=("cue_x_mm", "cue_y_mm", "at_mm"),
        struck=True,
    ),
)
KINDS: Mapping[str, Kind] = MappingProxyType({kind.id: kind for kind in _KINDS})


@dataclass(frozen=True, slots=True)
class Observation:
    """One row: its kind, its cells by column, and the line of the file it stands in (0: none).

    Numbers as named: mm, s, paces; `pocket`, `cushion`, `then_cushion` and `note` are texts.
    """

    kind: str
    cells: Mapping[str, Any] = field(default_factory=dict)
    line: int = 0

    def number(self, column: str, default: float = 0.0) -> float:
        """The number in a column, or the default when it is empty."""
        return float(self.cells.get(column, default))

    def text(self, column: str) -> str:
        """The text in a column, "" when it is empty."""
        return str(self.cells.get(column, ""))
