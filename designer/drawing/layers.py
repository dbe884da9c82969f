"""Which parts of a drawing are wanted."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Layers:
    """Switches, one for each part a coach may want to see or leave out.

    `rim_letters` puts each lane's letter on the rim where its line would meet it, instead of
    drawing the lane: the question without its answer. `verdicts` marks gaps as reachable or
    not; without it a gap is only shown. `checks` are second distances to check the measurements
    by; they belong to them.
    """

    table: bool = True
    marks: bool = True
    balls: bool = True
    ball_letters: bool = True
    potting_line: bool = True
    ninety_line: bool = True
    contact: bool = True
    lanes: bool = True
    corridors: bool = True
    letters: bool = True
    gaps: bool = True
    verdicts: bool = True
    measurements: bool = False
    checks: bool = False
    rim_letters: bool = False


#: What the designer shows at first.
ALL_BUT_MEASUREMENTS = Layers()

#: Everything that has to do with where the balls stand, nothing of what happens next.
PLACEMENT_LAYERS = Layers(
    potting_line=False, ninety_line=False, contact=False, lanes=False, corridors=False,
    letters=False, gaps=False, verdicts=False, measurements=True, checks=True,
)  # fmt: skip

#: The player's question: set-up, gaps and lettered ends, no lane, no line that gives it away.
QUESTION_LAYERS = Layers(
    potting_line=False, ninety_line=False, contact=False, lanes=False, corridors=False,
    letters=False, verdicts=False, rim_letters=True,
)  # fmt: skip
