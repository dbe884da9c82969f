"""Playing: a shot laid out once, aimed once, struck, and the way its balls take.

Everything that shows, judges or tries a shot begins here, one or many at a time.
"""

from engine.playing.edges import gap_ends_mm, gap_width_mm
from engine.playing.laid_out import LaidOutShot, gaps_in_order, laid_out, laid_out_of
from engine.playing.strikes import speed_of, strike_name

__all__ = [
    "LaidOutShot",
    "gap_ends_mm",
    "gap_width_mm",
    "gaps_in_order",
    "laid_out",
    "laid_out_of",
    "speed_of",
    "strike_name",
]
