"""The shot engine: events of all balls found exactly, for one shot or thousands."""

from engine.compiled import prepare
from engine.shot.batch import Shots, play_many
from engine.shot.play import Strike, play
from engine.shot.trace import Trace

__all__ = ["Shots", "Strike", "Trace", "play", "play_many", "prepare"]
