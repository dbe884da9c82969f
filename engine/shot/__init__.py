"""The shot engine: events of all balls found exactly, for one shot or thousands.

Importing this package loads numba; the values it answers with do not need it.
"""

from engine.shot.batch import Shots, play_many, prepare
from engine.shot.play import Strike, play
from engine.shot.trace import Trace

__all__ = ["Shots", "Strike", "Trace", "play", "play_many", "prepare"]
