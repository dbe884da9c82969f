"""Judging: what a way does to balls, gaps, cushions and pockets, and the rules for all who ask.

`passes` measures lanes on show with shapely, `outcomes` thousands of tries with a compiled scan;
`rules` is the one place that says clears, touches, threads, reachable, potted and in-off.
"""

from engine.judging.outcomes import Outcomes, outcomes, rooms
from engine.judging.rules import is_clear, is_touch

__all__ = ["Outcomes", "is_clear", "is_touch", "outcomes", "rooms"]
